/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How warm a room is in the hours in which another fires, and the offsets that make both alike. */
#ifndef TURNHEAT_AS_WARM_H
#define TURNHEAT_AS_WARM_H

#include "turnheat/compare.h"

/** What is seen of a room in one hour. NAN where the hour does not count. */
struct th_seen_hour {
    double mean_c;
    double trough_c; /**< low of the swing; not counted where the heaters cannot keep up */
};

/** One season as a room is seen in it. */
struct th_seen_season {
    bool recording; /**< the room is the base: its hours are kept */
    long first_hour;
    struct th_seen_hour *base;                       /**< by hour of the season */
    double warmer_kh[TH_WARMTHS], hours[TH_WARMTHS]; /**< than the base */
};

/** The base over the winters of a block: how warm it is when it fires, and its gas. */
struct th_firing {
    int n;
    struct th_seen_season *seasons;
    struct th_seen_hour *hours; /**< of all seasons */
    double gas_j;
};

/** A room over the same winters. */
struct th_look {
    int request, n;
    struct th_seen_season *seasons;
};

/** What it shows: gas of a mean season, and how much warmer than the base the room is. */
struct th_sight {
    double gas_j;
    double warmer_k[TH_WARMTHS];
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

/** What it showed; frees the look, which a NULL `sight` does without reading. Errors as
 * th_runs_gas(). */
enum th_code th_look_read(struct th_look *look, const struct th_winters_seen *at,
                          struct th_sight *sight, struct th_error *err);

/** A shift of the offsets that makes a room as warm as the base. */
struct th_alike {
    const char *why_not; /**< no shift does; NULL: found */
    double shift_k;
    double gas_j_k; /**< what a K of that warmth costs around it */
};

/** A room whose shifts are looked for. */
struct th_alike_room {
    const struct th_room *room;        /**< NULL: they are not */
    struct th_alike alike[TH_WARMTHS]; /**< found, without an error */
    struct th_error err;               /**< of its runs, as th_runs_gas(), or TH_ERR_NUMERIC; all 0
                                          at first */
};

/** Looks for the shifts of `n` rooms by each warmth, all at once. TH_ERR_MEMORY, TH_ERR_CANCELLED;
 * what goes wrong with one room is told with it. */
enum th_code th_alike_find(struct th_alike_room *rooms, int n, const struct th_firing *firing,
                           const struct th_winters_seen *at, struct th_error *err);

#endif
