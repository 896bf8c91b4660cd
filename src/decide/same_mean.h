/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How warm a room is in the hours in which another fires, and the offsets that make both alike. */
#ifndef TURNHEAT_SAME_MEAN_H
#define TURNHEAT_SAME_MEAN_H

#include "turnheat/compare.h"

/** One season as a room is seen in it: `wanted` marks the hours in which the base fires. */
struct th_seen_season {
    bool recording; /**< the room is the base: its firing hours are marked */
    long first_hour;
    unsigned char *wanted; /**< TH_SEEN_HOURS of them */
    double sum_c, hours;
};

/** The base over the winters of a block: when it fires, how warm it is then, and its gas. */
struct th_firing {
    int n;
    struct th_seen_season *seasons;
    unsigned char *wanted; /**< of all seasons */
    double mean_c, gas_j;
};

/** A room over the same winters. */
struct th_look {
    int request, n;
    struct th_seen_season *seasons;
};

/** Where all this happens. */
struct th_winters_seen {
    struct th_runs *runs;
    const struct th_climate *climate;
    struct th_block block;
};

/** Makes ready to see the base. TH_ERR_MEMORY; th_firing_finish() in any case. */
enum th_code th_firing_init(struct th_firing *firing, const struct th_winters_seen *at,
                            struct th_error *err);
void th_firing_finish(struct th_firing *firing);

/** Asks for the base itself. */
int th_firing_ask(struct th_firing *firing, const struct th_winters_seen *at,
                  const struct th_room *base);

/** Reads what became of it. Errors as th_runs_gas(). */
enum th_code th_firing_read(struct th_firing *firing, const struct th_winters_seen *at, int request,
                            struct th_error *err);

/** Asks for another room, seen in the hours in which the base fires. TH_ERR_MEMORY. */
enum th_code th_look_ask(struct th_look *look, const struct th_firing *firing,
                         const struct th_winters_seen *at, const struct th_room *room,
                         struct th_error *err);

/** Its gas of a mean season and how much warmer than the base it was; frees the look, which a NULL
 * `gas_j` does without reading. Errors as th_runs_gas(). */
enum th_code th_look_read(struct th_look *look, const struct th_firing *firing,
                          const struct th_winters_seen *at, double *gas_j, double *warmer_k,
                          struct th_error *err);

/** OFF may not pass the start of the fan ramp. */
double th_highest_shift_k(const struct th_room *room);

/**
 * The shift of `room`'s offsets that makes it as warm as the base; `gas_j_k` is what a K of mean
 * temperature costs around it. Errors as th_runs_gas(); TH_ERR_NUMERIC.
 */
enum th_code th_same_mean_find(const struct th_room *room, const struct th_firing *firing,
                               const struct th_winters_seen *at, struct th_same_mean *out,
                               double *gas_j_k, struct th_error *err);

#endif
