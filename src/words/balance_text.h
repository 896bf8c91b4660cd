/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Balances at the end of a report, and the refusal of those that do not close. */
#ifndef TURNHEAT_BALANCE_TEXT_H
#define TURNHEAT_BALANCE_TEXT_H

#include "report.h"
#include "turnheat/tally.h"

/** Adds a balance; TH_ERR_BALANCE when it stays open by more than a millionth of its size. */
enum th_code th_report_balanced(struct th_report *report, const char *key, const char *label,
                                const char *unit, double in, double out, struct th_error *err);

/**
 * Adds the balances of heat, water and CO₂ of `books`. `key` (NULL: none) goes before "heat",
 * "water", "co2"; `whose` says what was summed ("one room"). Errors as th_report_balanced().
 */
enum th_code th_report_books(struct th_report *report, const char *key, const char *whose,
                             const struct th_tally *books, struct th_error *err);

#endif
