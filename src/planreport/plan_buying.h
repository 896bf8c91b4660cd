/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How to buy: what each offer costs, and how much to take. */
#ifndef TURNHEAT_PLAN_BUYING_H
#define TURNHEAT_PLAN_BUYING_H

#include "report.h"
#include "turnheat/plan.h"

/** The section on buying. */
void th_plan_buying(struct th_report *report, const struct th_plan *plan);

#endif
