/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How much to take of each offer, all weighed together. */
#ifndef TURNHEAT_PLAN_SPLIT_H
#define TURNHEAT_PLAN_SPLIT_H

#include "report.h"
#include "turnheat/plan.h"

#define TH_UNUSED_TEXT_MAX 160

/** What happens to contract gallons that were not taken; `text` is room for it. */
const char *th_plan_unused_text(const struct th_contract *c, char text[TH_UNUSED_TEXT_MAX]);

/** The line of the answer that says what to take. */
void th_plan_split_line(struct th_report *report, const struct th_plan *plan);

/** The tables split[] and split_cost[] of the section on buying. */
void th_plan_split_tables(struct th_report *report, const struct th_plan *plan);

#endif
