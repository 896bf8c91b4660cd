/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The budget report: gas and dollars by turn, month and season, and where the heat goes. */
#ifndef TURNHEAT_BUDGET_H
#define TURNHEAT_BUDGET_H

#include "turnheat/case.h"
#include "report.h"
#include "turnheat/record.h"
#include "turnheat/winters.h"

/**
 * Adds the answer, all rooms together with what `n_records` records taught, and the budget of `n`
 * rooms, each as a part, and of their sum when there are several.
 * TH_ERR_COVERAGE when a room has no counted season, TH_ERR_BALANCE when a balance stays open by
 * more than one part in a million; otherwise as th_winters_run().
 */
enum th_code th_budget_report(struct th_report *report, const struct th_case *cases, int n,
                              const struct th_record *records, int n_records, struct th_error *err);

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
enum th_code th_budget_risk(struct th_report *report, const struct th_case *one,
                            const struct th_winters *winters, struct th_error *err);
enum th_code th_budget_month_figure(struct th_report *report, const struct th_case *one,
                                    const struct th_winters *winters, struct th_error *err);
/** Heat through the season that took most gas, its coldest week, its heaters at work. */
enum th_code th_budget_hour_figures(struct th_report *report, const struct th_case *one,
                                    const struct th_winters *winters, struct th_error *err);
void th_budget_heat_figure(struct th_report *report, const struct th_winters *winters);
/** Hours and starts of the heaters by month. */
void th_budget_work_figures(struct th_report *report, const struct th_season *season);
enum th_code th_budget_balances(struct th_report *report, const struct th_case *one,
                                const struct th_winters *winters, struct th_error *err);

#endif
