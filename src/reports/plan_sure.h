/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How sure a plan's gallons are. */
#ifndef TURNHEAT_PLAN_SURE_H
#define TURNHEAT_PLAN_SURE_H

#include "report.h"
#include "turnheat/plan.h"

/** The section on the spread of winters and of the barns. Errors as th_spread_of(). */
enum th_code th_plan_sure(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err);

/** The section on one number of the barns at a time. */
void th_plan_barns_open(struct th_report *report, const struct th_plan *plan);

#endif
