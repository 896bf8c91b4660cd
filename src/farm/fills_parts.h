/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Rooms run over the days between fills. Private to fills_*.c. */
#ifndef TURNHEAT_FILLS_PARTS_H
#define TURNHEAT_FILLS_PARTS_H

#include "turnheat/fills_fit.h"

/** Days from a first one on, and whose gas is summed over them. */
struct th_fill_days {
    long first_day;
    size_t n;
    bool by_turn; /**< each turn apart: turns × n values of a room instead of n */
};

/** From the first fill to the last. */
struct th_fill_days th_fill_days_of(const struct th_fills_in *in);

/**
 * Gas of `n_rooms` variants of one room on each day, all copies, one variant after the other; added
 * to `gal`. Their seasons are added to `books` (NULL: not). TH_ERR_COVERAGE when the climate misses
 * a turn that lies in the days, otherwise as th_runs_winters().
 */
enum th_code th_fill_burn(const struct th_fills_in *in, const struct th_case *one,
                          const struct th_climate *climate, const struct th_room *rooms,
                          int n_rooms, const struct th_fill_days *days, double *gal,
                          struct th_tally *books, struct th_error *err);

/** Of days from the first fill on, the sums from fill to fill. */
void th_fill_stretches(const struct th_fills_in *in, const double *day_gal, double *gal);

/** Gallons of the other users on a day. */
double th_fill_uses_gal(const struct th_fills_in *in, long day);

#endif
