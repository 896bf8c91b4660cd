/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: books a solved hour into a tally. */
#ifndef TURNHEAT_CORE_ACCOUNTS_H
#define TURNHEAT_CORE_ACCOUNTS_H

#include "turnheat/hour.h"
#include "turnheat/tally.h"

/** Adds one hour, numbered `hour_number`, to `tally`. */
void th_accounts_book(struct th_tally *tally, long hour_number, const struct th_hour_in *in,
                      const struct th_hour_out *out);

#endif
