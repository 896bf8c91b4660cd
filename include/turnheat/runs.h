/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * One list of runs. A decision lists the rooms and seasons it needs; they are run together, each
 * once however often it is asked for, on as many threads as there are jobs. Results do not depend
 * on how many those are. Every season's balances are checked here and nowhere else.
 *
 *     int now = th_runs_add(runs, room, climate, first, last);
 *     int tight = th_runs_add(runs, &tighter, climate, first, last);
 *     code = th_runs_do(runs, "the barn tightened", err);
 *     if (code == TH_OK) code = th_runs_trial(runs, now, &trial, err);
 */
#ifndef TURNHEAT_RUNS_H
#define TURNHEAT_RUNS_H

#include "turnheat/trial.h"

#include <stdbool.h>
#include <stddef.h>

/** Someone who waits. */
struct th_onlooker {
    /** Told between runs what is at work and how much of it is done, always by the thread that
     * called th_runs_do(), the last time with all of it. Returns false to have it stopped. NULL:
     * nobody waits. */
    bool (*tell)(void *context, const char *what, size_t done, size_t all);
    void *context;
};

/** Rooms and seasons asked for and run. Owns copies of the rooms; the climates are borrowed. */
struct th_runs {
    int jobs; /**< threads, at most */
    struct th_onlooker onlooker;
    /* What follows is kept by runs.c. */
    struct th_run_room **rooms;
    size_t n_rooms;
    struct th_run_request *requests;
    int n_requests;
    bool out_of_memory;
};

/** An empty list for `jobs` threads (1: none but the caller's); `onlooker` may be NULL. */
void th_runs_init(struct th_runs *runs, int jobs, const struct th_onlooker *onlooker);

/** Frees everything; NULL and a second call are allowed. */
void th_runs_finish(struct th_runs *runs);

/** How far a list has come. */
struct th_runs_mark {
    size_t n_rooms;
    int n_requests;
};

/** How far `runs` has come. */
struct th_runs_mark th_runs_mark(const struct th_runs *runs);

/** Frees the rooms listed since `mark`, and forgets all that was asked for since. */
void th_runs_forget(struct th_runs *runs, struct th_runs_mark mark);

/**
 * Asks for the seasons from `first_year` to `last_year` of `room`, which must have passed
 * th_room_check(); of a typical year always its one. Returns the number by which the result is
 * asked for later. What was run before, or is listed already, is not run again. Nothing fails here:
 * th_runs_do() tells of memory that was short, th_runs_winters() of years the weather does not
 * touch.
 */
int th_runs_add(struct th_runs *runs, const struct th_room *room, const struct th_climate *climate,
                int first_year, int last_year);

/**
 * Has the room of a request lead, before it is run: rooms asked for later, on the same climate,
 * that differ from it only in their heaters and response, take over the hours in which neither
 * needs heat (th_season_run_beside()). No sum changes by more than a millionth.
 */
void th_runs_lead(struct th_runs *runs, int request);

/** Sees the hours of watched runs. */
struct th_watch_seasons {
    struct th_watch watch; /**< its context that of the first season run */
    size_t stride;         /**< bytes from the context of a season to that of the next */
    /* What of a context the hours change, without pointers: another program that runs the season
     * can see for this one. All 0: each must see for itself. */
    size_t seen_at, seen;
    bool only_heated; /**< hours do not matter in which the room that leads needs no heat */
};

/**
 * The same with someone who sees the hours, in whatever thread runs the season. Several seasons may
 * run at once, so each has a context of its own: the first year run is the first asked for that the
 * climate touches. Such runs are always made; whoever asks later for the same without a watch is
 * served by them. The watch is called in the next th_runs_do() only.
 */
int th_runs_add_watched(struct th_runs *runs, const struct th_room *room,
                        const struct th_climate *climate, int first_year, int last_year,
                        const struct th_watch_seasons *watch);

/**
 * Runs what is listed and not yet run; `what` tells the onlooker what it is. An error of a run is
 * kept for whoever asks for its result. TH_ERR_MEMORY, TH_ERR_CANCELLED.
 */
enum th_code th_runs_do(struct th_runs *runs, const char *what, struct th_error *err);

/**
 * A copy of the seasons of a request in order of their year, uncounted ones with their cover; the
 * caller finishes it. TH_ERR_COVERAGE when the climate touches none of the years, TH_ERR_BALANCE
 * when heat, water or CO₂ of a season stays open by more than one part in a million,
 * TH_ERR_MEMORY, or as th_engine_init() and th_season_run(). After an error there is nothing to
 * finish.
 */
enum th_code th_runs_winters(const struct th_runs *runs, int request, struct th_winters *winters,
                             struct th_error *err);

/** The counted seasons of a request: gas of each and the mean. Errors as th_trial_of(). */
enum th_code th_runs_trial(const struct th_runs *runs, int request, struct th_trial *trial,
                           struct th_error *err);

/** Mean gas of its counted seasons, J. Errors as th_trial_of(). */
enum th_code th_runs_gas(const struct th_runs *runs, int request, double *gas_j,
                         struct th_error *err);

#endif
