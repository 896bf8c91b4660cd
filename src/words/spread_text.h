/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A spread as facts of a report: a range when there are few seasons, percentiles when enough. */
#ifndef TURNHEAT_SPREAD_TEXT_H
#define TURNHEAT_SPREAD_TEXT_H

#include "report.h"
#include "turnheat/spread.h"

/**
 * Adds `label` three times: lowest, middle, highest, or P10, P50, P90; a single value once. Keys
 * are always `key`_lowest_`suffix`, _middle_ (which the P50 is), _highest_, _p10_ and _p90_; what
 * does not hold is null.
 */
void th_report_spread(struct th_report *report, const char *key, const char *suffix,
                      const char *label, const char *unit, enum th_format format,
                      const struct th_spread *spread);

#define TH_CASES_MAX 24

/** "8 of 10 cases" for a share of all cases; "nearly all cases" and the like at the ends. */
const char *th_cases_of_ten(char text[TH_CASES_MAX], double share);

#endif
