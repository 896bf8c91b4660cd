/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Winters that miss a little: a season counts when the hours it misses would have burned under 1 %
 * of it in the mean of the other years. The hours of the same dates of the nearest such year then
 * stand in for them, so that all that is run later sees one and the same season.
 */
#ifndef TURNHEAT_BORROW_H
#define TURNHEAT_BORROW_H

#include "turnheat/climate.h"
#include "turnheat/room.h"

/** Most that the missing hours of a counted season may have burned, of the season. */
#define TH_BORROW_SHARE_MAX 0.01

/** What one season borrowed. */
struct th_borrowed {
    int year, from_year; /**< the season, and the one whose hours stand in */
    long hours;
    long first_hour, last_hour; /**< of those missing */
    double share; /**< of the season's gas, in the mean of the other years; the most of all rooms */
};

/** Seasons a list can hold. */
#define TH_BORROWED_MAX 64

/**
 * Looks at every season of `climate` that the parts of the `n_rooms` rooms do not find covered, and
 * borrows what may be borrowed for all of them; `list` gets `*n` entries. A typical year is left as
 * it is. Errors as th_season_run() and th_climate_borrow().
 */
enum th_code th_borrow_run(struct th_climate *climate, const struct th_room *const *rooms,
                           int n_rooms, struct th_borrowed list[TH_BORROWED_MAX], int *n,
                           struct th_error *err);

#endif
