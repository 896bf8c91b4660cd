/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A spread as facts of a report: a range when there are few seasons, percentiles when enough were
 * measured. */
#ifndef TURNHEAT_SPREAD_TEXT_H
#define TURNHEAT_SPREAD_TEXT_H

#include "report.h"
#include "turnheat/spread.h"

/**
 * Adds `label` three times: lowest, middle, highest, or P10, P50, P90; a single value once. Of
 * `generated` winters nothing is called a percentile: low, middle and high of them. Keys are always
 * `key`_lowest_`suffix`, _middle_ (which the P50 is), _highest_, _p10_ and _p90_; what does not
 * hold is null.
 */
void th_report_spread(struct th_report *report, const char *key, const char *suffix,
                      const char *label, const char *unit, enum th_format format,
                      const struct th_spread *spread, bool generated);

/** What the low and the high of many generated winters are. */
#define TH_GENERATED_TENTHS                                                                        \
    "One generated winter in ten takes less than the low, one more than the high. Of measured "    \
    "winters that says nothing yet."

/** That, of many `generated` winters; nothing for other spreads. */
void th_report_spread_note(struct th_report *report, const struct th_spread *spread,
                           bool generated);

#define TH_CASES_MAX 24

/** "8 of 10 cases" for a share of all cases; "nearly all cases" and the like at the ends. */
const char *th_cases_of_ten(char text[TH_CASES_MAX], double share);

#endif
