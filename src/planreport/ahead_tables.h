/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Gallons, trucks and cash by week and month. */
#ifndef TURNHEAT_AHEAD_TABLES_H
#define TURNHEAT_AHEAD_TABLES_H

#include "report.h"
#include "turnheat/ahead.h"

/** Headings of low, middle and high. */
const char *const *th_ahead_headings(enum th_range_kind kind);

/** The weeks, with what they add up to; `dated`: their year is known; loads only with `tanks`. */
void th_ahead_weeks(struct th_report *report, const struct th_ahead *ahead, bool dated, bool tanks);

/** What payments below 0 are by the contracts of `in`: money back, or credit of the next season; ""
 * where none is below 0. */
const char *th_ahead_below_zero(const struct th_split_cash *cash);

/** The months; with `cash` (NULL: none) what is to be paid in each, before and for interest, by the
 * contracts of `in`. */
void th_ahead_months(struct th_report *report, const struct th_ahead *ahead,
                     const struct th_split_cash *cash);

/** Weeks and months add up to what is used, cash (NULL: none) to the cost. TH_ERR_BALANCE. */
enum th_code th_ahead_balances(struct th_report *report, const struct th_ahead *ahead,
                               const struct th_split_cash *cash, double cost_usd,
                               struct th_error *err);

#endif
