/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What the barns of a plan leave open. */
#ifndef TURNHEAT_PLAN_SURE_H
#define TURNHEAT_PLAN_SURE_H

#include "report.h"
#include "turnheat/plan.h"

/** The section on one number of the barns at a time. */
void th_plan_barns_open(struct th_report *report, const struct th_plan *plan);

#endif
