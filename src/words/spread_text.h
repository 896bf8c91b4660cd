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

/** The three values for a table row, in the order of th_spread_headings(). */
void th_spread_values(const struct th_spread *spread, struct th_value values[3]);

/** "lowest", "middle", "highest", or "P10", "P50", "P90", for column labels. */
const char *const *th_spread_headings(const struct th_spread *spread);

#endif
