/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The comparison of heater choices in words: who saves what, whether it pays, what costs gallons.
 */
#ifndef TURNHEAT_COMPARE_REPORT_H
#define TURNHEAT_COMPARE_REPORT_H

#include "report.h"
#include "turnheat/compare.h"
#include "turnheat/units.h"

#define TH_J_PER_KWH (1000.0 * TH_S_PER_H)

/** Adds the whole report of a finished comparison; `held` is the same with the air held, or NULL.
 * Errors as th_report_books(). */
enum th_code th_comparison_report(struct th_report *report, const struct th_comparison *comparison,
                                  const struct th_comparison *held, struct th_error *err);

/** The sheet to take into the barn: what to note on a cold day, how to enter it, what it decides.
 */
void th_compare_sheet(struct th_report *report);

/** What is compared: the barn as it is, the choices, then the free choice where one was found. */
int th_compared_count(const struct th_comparison *comparison);

/** The name of one of them in tables and figures. */
const char *th_compared_name(const struct th_comparison *comparison, int i);

/** What a choice saves at the least and at the most over the room's responses, J of one room. */
void th_compared_range(const struct th_choice_result *result, double *low_j, double *high_j);

/** Whether anything is concluded of choice `i`: of each with a fuel price, else of those that do
 * harm. */
bool th_compared_is_judged(const struct th_comparison *comparison, int i);

/** What the comparisons of all barns rest on, and what would change them: the last lines of the
 * answer on top. */
void th_compare_rests(struct th_report *report, const struct th_case *cases, int n);

/* Pieces: the answer on top, the verdict first of all, what the pigs feel, then payback and where
 * the answer flips. */

void th_compare_answer(struct th_report *report, const struct th_comparison *comparison,
                       const struct th_comparison *held);
void th_compare_verdict(struct th_report *report, const struct th_comparison *comparison,
                        const struct th_comparison *held);
void th_compare_comfort(struct th_report *report, const struct th_comparison *comparison);
void th_compare_payback(struct th_report *report, const struct th_comparison *comparison);

/** A verdict in a word or two for people. */
const char *th_verdict_phrase(enum th_verdict verdict);

#endif
