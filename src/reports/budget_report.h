/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The budget report: gas and dollars by turn, month and season, and where the heat goes. */
#ifndef TURNHEAT_BUDGET_REPORT_H
#define TURNHEAT_BUDGET_REPORT_H

#include "report.h"
#include "turnheat/budget.h"
#include "turnheat/record.h"

/**
 * Adds the answer for all rooms together (NULL: none), the budgets of `n` rooms, each as a part,
 * and of their sum when there are several. Errors as th_spread_of(), th_report_air_classes() and
 * th_report_books().
 */
enum th_code th_budget_report(struct th_report *report, const struct th_budget *budgets, int n,
                              const struct th_answer *answer, struct th_error *err);

/* The pieces, each adding one or two sections for one room; `winters` has a counted season. */

void th_budget_inputs(struct th_report *report, const struct th_case *one);
enum th_code th_budget_seasons(struct th_report *report, const struct th_case *one,
                               const struct th_winters *winters, struct th_error *err);
void th_budget_turns(struct th_report *report, const struct th_case *one,
                     const struct th_winters *winters);
void th_budget_months(struct th_report *report, const struct th_case *one,
                      const struct th_winters *winters);
void th_budget_heat(struct th_report *report, const struct th_case *one,
                    const struct th_winters *winters);
enum th_code th_budget_pigs(struct th_report *report, const struct th_case *one,
                            const struct th_winters *winters, struct th_error *err);
enum th_code th_budget_month_figure(struct th_report *report, const struct th_case *one,
                                    const struct th_winters *winters, struct th_error *err);
/** Heat through the season that took most gas, its coldest week, its heaters at work. */
void th_budget_hour_figures(struct th_report *report, const struct th_budget *budget);
void th_budget_heat_figure(struct th_report *report, const struct th_winters *winters);
/** Hours and starts of the heaters by month. */
void th_budget_work_figures(struct th_report *report, const struct th_season *season);
enum th_code th_budget_balances(struct th_report *report, const struct th_case *one,
                                const struct th_winters *winters, struct th_error *err);

#endif
