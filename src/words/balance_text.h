/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The books of a run at the end of a report, and the refusal of books that do not close. */
#ifndef TURNHEAT_BALANCE_TEXT_H
#define TURNHEAT_BALANCE_TEXT_H

#include "report.h"
#include "turnheat/tally.h"

/**
 * Adds the balances of heat, water and CO₂ of `books`. `key` (NULL: none) goes before "heat",
 * "water", "co2"; `whose` says what was summed ("one room"). TH_ERR_BALANCE when one of them stays
 * open by more than a millionth.
 */
enum th_code th_report_books(struct th_report *report, const char *key, const char *whose,
                             const struct th_tally *books, struct th_error *err);

#endif
