/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Who shares the work: threads of one memory (workers_pthread.c), or programs with a memory each
 * that do the same side by side, as a browser's workers (workers_team.c).
 */
#ifndef TURNHEAT_WORKERS_H
#define TURNHEAT_WORKERS_H

#include "turnheat/season.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define TH_WORKERS_MAX 256

/**
 * Calls `work(context, worker)` for the workers 0 to `n` - 1 at once and returns when all came
 * back. Worker 0 is the calling thread. Where fewer threads can be had, fewer are called: `work`
 * must leave nothing undone when it is called once.
 */
void th_workers_run(int n, void (*work)(void *context, int worker), void *context);

/** Calls `one(context, i)` for every i below `n`, each once and in any order, by `jobs` workers at
 * most. */
void th_workers_each(int jobs, size_t n, void (*one)(void *context, size_t i), void *context);

/** A program among those that make the same list of runs at the same time: the first is 0. */
struct th_team {
    int n, self;
};

/** Alone {1, 0}. The same as long as the program runs. */
struct th_team th_workers_team(void);

/**
 * Exchanges results with the others: of the `n` places of `size` bytes the i-th is taken from the
 * member i modulo the team's size. All members must call it equally often with equal sizes.
 */
void th_workers_exchange(void *places, size_t n, size_t size);

/** What a season is run from. */
struct th_season_key {
    uint64_t room, climate;
    int64_t year;
};

/** Whether whoever runs this program keeps seasons from one run of it to the next. */
bool th_workers_keeps(void);

/** Whether it still has a season, which is put into `season`. */
bool th_workers_recall(const struct th_season_key *key, struct th_season *season);

/** Gives it a season to keep. */
void th_workers_keep(const struct th_season_key *key, const struct th_season *season);

#endif
