/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The comparison of heater choices: who saves what, whether it pays, and what costs gallons. */
#ifndef TURNHEAT_COMPARE_REPORT_H
#define TURNHEAT_COMPARE_REPORT_H

#include "turnheat/case.h"
#include "progress.h"
#include "report.h"
#include "turnheat/compare.h"
#include "turnheat/payback.h"
#include "turnheat/study.h"

#define TH_OFFERS_MAX 12

/** A choice to compare with the barn as it is. */
struct th_offer {
    struct th_purchase buy; /**< and what it is called */
    struct th_room room;    /**< the barn with the choice made */
};

/** Everything computed for one comparison. */
struct th_comparison {
    const struct th_case *base;
    const struct th_offer *offers;
    int n; /**< offers */
    struct th_choice_result
        results[TH_OFFERS_MAX + 2]; /**< the base, the offers, the free choice */
    struct th_block block;
    struct th_free_choice free;
    const struct th_choice_result *free_result; /**< the base's own without a free choice */
    double cost_j[TH_COST_COUNT];
    bool has_design;
    double design_out_c; /**< 99 % design temperature used for the free choice */
};

/**
 * Runs the comparison. `design_out_c` is the 99 % design temperature; `progress` may be NULL.
 * Errors as th_compare_run();
 * TH_ERR_INPUT with more than TH_OFFERS_MAX offers.
 */
enum th_code th_comparison_run(struct th_comparison *comparison, const struct th_case *base,
                               const struct th_offer *offers, int n, double design_out_c,
                               struct th_progress *progress, struct th_error *err);

/** Adds the whole report of a finished comparison. Errors as th_payback_compare(). */
enum th_code th_comparison_report(struct th_report *report, const struct th_comparison *comparison,
                                  struct th_error *err);

/* Pieces. */

/** Gas of `trial` in units sold, all copies of the room, mean season. */
double th_comparison_units(const struct th_comparison *comparison, const struct th_trial *trial);

/** Payback of offer `i` against `against`; only with a fuel price. */
enum th_code th_comparison_return(const struct th_comparison *comparison, int i,
                                  const struct th_trial *against, double *chance,
                                  struct th_return *result, struct th_error *err);

/** Sections on money: verdict first of all, then measures and where the answer flips. */
enum th_code th_comparison_verdict(struct th_report *report, const struct th_comparison *comparison,
                                   struct th_error *err);
enum th_code th_comparison_money(struct th_report *report, const struct th_comparison *comparison,
                                 struct th_error *err);

#endif
