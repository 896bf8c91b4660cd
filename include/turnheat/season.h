/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Turns and fuel seasons of one room on one climate. A season is what burns from 1 July to 30 June,
 * whatever turn it belongs to, and is named by the year it starts in. A turn is told whole as well,
 * in the season of its placement.
 */
#ifndef TURNHEAT_SEASON_H
#define TURNHEAT_SEASON_H

#include "turnheat/engine.h"
#include "turnheat/tally.h"

/** One turn, whole, also where it ends after 30 June. */
struct th_turn_result {
    bool counted;    /**< every hour is there and at most 2 % were filled */
    long first_hour; /**< of the span simulated: empty time or preheat */
    struct th_span_cover cover;
    long placement_hour;
    double head_placed, head_sold;
    struct th_tally total; /**< sum of the phases; unless counted, of what lies in its season */
    struct th_tally phase[TH_PHASES];
};

#define TH_SEASON_PARTS_MAX (TH_TURNS_MAX + 2)

/** What lies of one turn, its preheat and the empty time before it between 1 July and 30 June. */
struct th_season_part {
    int turn, placed; /**< turn of the room, and the season it was placed in: this, last or next */
    struct th_span_cover cover;
};

/** A season, one room (copies not applied). */
struct th_season {
    int year; /**< starts 1 July of this year; for a typical year TH_TYPICAL_YEAR */
    bool typical;
    bool counted; /**< every part is covered */
    bool whole;   /**< by its own weather, nothing of it borrowed; else it tells no extremes */
    int n_parts;
    struct th_season_part parts[TH_SEASON_PARTS_MAX]; /**< in time order */
    struct th_tally total;                            /**< 1 July to 30 June */
    struct th_tally month[12]; /**< January first, by the calendar month of the hour */
    int n_turns;
    struct th_turn_result turns[TH_TURNS_MAX]; /**< those placed in it */
};

/** Bytes of a season up to its last turn: where many are kept, what lies behind need not be. */
static inline size_t th_season_size(int n_turns)
{
    return offsetof(struct th_season, turns) + (size_t)n_turns * sizeof(struct th_turn_result);
}

/** Called for every hour between 1 July and 30 June in time order. Must not keep the pointers. */
struct th_watch {
    void (*hour)(void *context, int turn, long hour_number, const struct th_hour_in *in,
                 const struct th_hour_out *out);
    void *context;
};

/** Range of seasons that touch the climate: years *first … *last. A typical year has one. */
void th_season_range(const struct th_climate *climate, int *first, int *last);

/** Lists the parts of the season that starts in `year`, in time order, and whether it is counted
 * and whole. Nothing else of `season` is set. */
void th_season_parts(const struct th_room *room, const struct th_climate *climate, int year,
                     struct th_season *season);

/** Whether the climate covers every part of the season, so that th_season_run() would count it. */
bool th_season_counted(const struct th_room *room, const struct th_climate *climate, int year);

/**
 * Simulates the season that starts on 1 July of `year`. Parts whose hours are not covered are left
 * out, with their cover filled in; that is no error. Parts are run in time order; results of turns
 * keep the place of the turn in the room. `watch` may be NULL. TH_ERR_MODEL when a turn is so hot
 * throughout that pigs give off no warmth; otherwise errors as th_hour_solve(). Nothing is
 * allocated.
 */
enum th_code th_season_run(struct th_engine *engine, const struct th_climate *climate, int year,
                           const struct th_watch *watch, struct th_season *season,
                           struct th_error *err);

/**
 * Stretches of a season in which a room needed no heat. Rooms that differ only in their heaters and
 * in how fast they answer them do the same there, but for what the floor still keeps of the heat
 * before. All 0 at first; belongs to one room and season.
 */
struct th_quiet {
    size_t n, room_for;
    struct th_stretch *stretches;
    struct th_pilots idle; /**< lit while no heat is wanted */
};

/** Frees what it holds; NULL and a second call are allowed. */
void th_quiet_finish(struct th_quiet *quiet);

/**
 * As th_season_run(). With `known`, of a room that differs only in its heaters and response, in the
 * same season on the same climate, hours are taken from there where this room would come to the
 * same within 1e-4 K; `watch` does not see those. With `keep` what others may take is put there
 * (memory is allocated; TH_ERR_MEMORY). Either may be NULL.
 */
enum th_code th_season_run_beside(struct th_engine *engine, const struct th_climate *climate,
                                  int year, const struct th_watch *watch,
                                  const struct th_quiet *known, struct th_quiet *keep,
                                  struct th_season *season, struct th_error *err);

#endif
