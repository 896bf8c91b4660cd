/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The dollars of a comparison, and what is concluded. */
#ifndef TURNHEAT_VERDICT_H
#define TURNHEAT_VERDICT_H

#include "turnheat/compare.h"

/** Of the winters of a block every third hour is solved where rooms are set beside each other
 * there: few winters are too few for every fifth. */
#define TH_BLOCK_EVERY_H 3

/** What choices that add zone heat save by the number of its units. Errors as th_comparison_run().
 */
enum th_code th_zone_curves(struct th_comparison *comparison, struct th_runs *runs,
                            struct th_error *err);

/** Dollars and verdicts; with choices and a fuel price only, like the next. Errors as
 * th_comparison_run(). */
enum th_code th_comparison_money(struct th_comparison *comparison, struct th_runs *runs,
                                 struct th_error *err);

/** Where the answer flips. Errors as th_comparison_run(). */
enum th_code th_comparison_flips(struct th_comparison *comparison, struct th_runs *runs,
                                 struct th_error *err);

/** The verdict of a choice that harms or cannot be compared, whatever it pays; else
 * TH_VERDICT_DEPENDS. */
enum th_verdict th_verdict_on_pigs(const struct th_choice_result *result);

#endif
