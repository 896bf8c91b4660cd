/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: stretches of a season in which a room needed no heat (th_season_run_beside()). */
#ifndef TURNHEAT_SEASON_QUIET_H
#define TURNHEAT_SEASON_QUIET_H

#include "turnheat/season.h"

/** A turn's hours are run in stretches of at most so many hours. */
#define TH_STRETCH_H 48

/** What an hour leaves to the next. */
struct th_season_state {
    double mass_c, room_c;
    bool surplus; /**< it threw heat out */
};

/** Hours of one turn, phase and month. */
struct th_stretch {
    int turn;
    long first_hour, end_hour;
    struct th_season_state before, after;
    double over_set_k; /**< least the room was warmer than its set point; -INFINITY where heat was
                          wanted or the barn stood empty */
    struct th_tally tally; /**< every hour solved, once */
};

/** Makes `quiet` empty, of a room heated by `heating`. */
void th_quiet_begin(struct th_quiet *quiet, const struct th_heating *heating);

/** Adds a stretch in which no heat was wanted. TH_ERR_MEMORY. */
enum th_code th_quiet_add(struct th_quiet *quiet, const struct th_stretch *stretch,
                          struct th_error *err);

/** `quiet`, or NULL where it is NULL or pilots burn otherwise than those of `heating` while no heat
 * is wanted. */
const struct th_quiet *th_quiet_of(const struct th_quiet *quiet, const struct th_heating *heating);

/** The stretch of `quiet` that a room heated by `heating` would run alike, did it run `stretch`, of
 * which turn, hours and state before are known; else NULL. `next` is where to look: 0 at first.
 * `quiet` may be NULL. */
const struct th_stretch *th_quiet_find(const struct th_quiet *quiet, size_t *next,
                                       const struct th_stretch *stretch,
                                       const struct th_heating *heating);

#endif
