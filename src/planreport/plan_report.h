/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The fuel plan: gallons over winters, what to book, and whether the tanks keep up. */
#ifndef TURNHEAT_PLAN_REPORT_H
#define TURNHEAT_PLAN_REPORT_H

#include "report.h"
#include "turnheat/plan.h"

/** Adds the whole plan. TH_ERR_BALANCE when its books or its tanks do not close; otherwise as
 * th_spread_of(). */
enum th_code th_plan_report(struct th_report *report, const struct th_plan *plan,
                            struct th_error *err);

/** Warns of rooms whose air is bad as they are planned for. */
void th_plan_warn_of_air(struct th_report *report, const struct th_plan *plan);

/**
 * Adds one sheet for a banker or supplier: the answer, what to take, gallons by month, placements,
 * the cautions that belong there. Errors as th_plan_report().
 */
enum th_code th_plan_sheet(struct th_report *report, const struct th_plan *plan,
                           struct th_error *err);

#endif
