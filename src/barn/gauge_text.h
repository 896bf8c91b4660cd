/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Where a farm stands tonight, as written on a command line. */
#ifndef TURNHEAT_GAUGE_TEXT_H
#define TURNHEAT_GAUGE_TEXT_H

#include "turnheat/ahead.h"

/**
 * Reads "barns=62 %", or "barns=62 % on 2026-01-12" for an older reading, into the gauges of `in`,
 * whose day is known; with one group of tanks its name may be left out. TH_ERR_USAGE says what was
 * expected.
 */
enum th_code th_gauge_read(const char *text, const struct th_plan_in *plan, struct th_ahead_in *in,
                           struct th_error *err);

/** Reads "prepaid=4,000 gal": a contract in force and what was taken of it. TH_ERR_USAGE. */
enum th_code th_taken_read(const char *text, const struct th_plan_in *plan, struct th_ahead_in *in,
                           struct th_error *err);

#endif
