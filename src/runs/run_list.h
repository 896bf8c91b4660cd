/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What a list of runs is made of; for runs.c and share.c. */
#ifndef TURNHEAT_RUN_LIST_H
#define TURNHEAT_RUN_LIST_H

#include "turnheat/runs.h"
#include "workers.h"

#include <stdatomic.h>
#include <stdint.h>

enum run_state { RUN_UNASKED, RUN_ASKED, RUN_DONE };

/* What came of a run. Of the season there is no more than th_season_size() of the room's turns. */
struct outcome {
    struct th_error error; /* its code is TH_OK when the season is good */
    struct th_season season;
};

/* One room in one season. */
struct run {
    enum run_state state;
    struct outcome *outcome; /* NULL until it is asked for */
};

/* One room on one climate, with a place for each season the climate touches. */
struct th_run_room {
    uint64_t hash;
    uint64_t climate_hash; /* only where programs keep seasons */
    struct th_room room;   /* of its money and what is known of it nothing */
    const struct th_climate *climate;
    struct th_watch_seasons watch;
    bool watched;           /* such a room is shared only when nobody watches any more */
    int watched_from;       /* season of the first context */
    int begins, ends;       /* seasons of the climate */
    struct run *runs;       /* of each */
    struct th_quiet *quiet; /* of each season, for rooms that follow; NULL: it leads none */
    const struct th_run_room *leader; /* the room it follows, or NULL */
};

/* What there is to run, shared by the workers. Each takes the next of its team member's own. */
struct queue {
    struct th_team team;
    size_t n, until; /* all of them, and before which to stop */
    struct place {
        const struct th_run_room *room;
        int year;
    } * places;
    atomic_size_t next, done;
    atomic_bool stopped;
    const struct th_onlooker *onlooker;
    const char *what;
};

/** The place a run has in the list. */
struct run *th_run_of(const struct place *place);

/** Of who sees the season, or NULL. */
char *th_run_context(const struct place *place);

#define TH_HASH_OF_NOTHING 14695981039346656037u

/** A hash after FNV-1a, of words in place of bytes, of more behind what `hash` is of. */
uint64_t th_hash_more(uint64_t hash, const void *data, size_t n);

/** Whether this program runs the i-th place. */
bool th_share_is_own(const struct queue *queue, size_t i);

/** Takes from the others of a team what they ran and gives them what this one did. TH_ERR_MEMORY.
 */
enum th_code th_share(const struct queue *queue, struct th_error *err);

/** Seasons that an earlier run of the program left are not run again. */
void th_share_recall(struct th_runs *runs);

/** Leaves the seasons of the queue for later runs. */
void th_share_keep(const struct queue *queue);

#endif
