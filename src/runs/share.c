/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seasons that come from elsewhere: from programs that do the same side by side, or from an earlier
 * run. Where whoever runs the program does neither (workers.h), nothing here happens. */
#include "run_list.h"

#include <stdlib.h>
#include <string.h>

bool th_share_is_own(const struct queue *queue, size_t i)
{
    const struct th_run_room *room = queue->places[i].room;
    return (room->watched && room->watch.seen == 0) ||
           i % (size_t)queue->team.n == (size_t)queue->team.self;
}

/* What a member of a team tells the others of a run. */
struct outcome {
    struct th_season season;
    struct th_error error;
    char seen[];
};

/* The most that is seen of a season of the queue. */
static size_t most_seen(const struct queue *queue)
{
    size_t most = 0;
    for (size_t i = 0; i < queue->n; i++)
        most = queue->places[i].room->watch.seen > most ? queue->places[i].room->watch.seen : most;
    return most;
}

static void put_outcome(struct outcome *outcome, const struct place *place)
{
    const struct th_watch_seasons *watch = &place->room->watch;
    outcome->season = *th_run_of(place)->season;
    outcome->error = th_run_of(place)->error;
    if (watch->seen > 0)
        memcpy(outcome->seen, th_run_context(place) + watch->seen_at, watch->seen);
}

static void take_outcome(const struct outcome *outcome, const struct place *place)
{
    const struct th_watch_seasons *watch = &place->room->watch;
    struct run *run = th_run_of(place);
    *run->season = outcome->season;
    run->error = outcome->error;
    run->state = RUN_DONE;
    if (watch->seen > 0)
        memcpy(th_run_context(place) + watch->seen_at, outcome->seen, watch->seen);
}

enum th_code th_share(const struct queue *queue, struct th_error *err)
{
    if (queue->team.n == 1)
        return TH_OK;
    const size_t align = _Alignof(struct outcome);
    const size_t size = (sizeof(struct outcome) + most_seen(queue) + align - 1) / align * align;
    char *outcomes = calloc(queue->n, size);
    if (!outcomes)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < queue->n; i++)
        if (th_share_is_own(queue, i))
            put_outcome((struct outcome *)(void *)(outcomes + i * size), &queue->places[i]);
    th_workers_exchange(outcomes, queue->n, size);
    for (size_t i = 0; i < queue->n; i++)
        if (!th_share_is_own(queue, i))
            take_outcome((struct outcome *)(void *)(outcomes + i * size), &queue->places[i]);
    free(outcomes);
    return TH_OK;
}

/* The hash of the room's climate, taken from a room before that has the same. */
static uint64_t climate_hash_of(struct th_run_room *const *rooms, size_t room)
{
    for (size_t i = 0; i < room; i++)
        if (rooms[i]->climate == rooms[room]->climate)
            return rooms[i]->climate_hash;
    const struct th_climate *climate = rooms[room]->climate;
    uint64_t hash =
        th_hash_more(TH_HASH_OF_NOTHING, &climate->first_hour, sizeof climate->first_hour);
    hash = th_hash_more(hash, &climate->typical, sizeof climate->typical);
    const size_t used = offsetof(struct th_climate_hour, state) + sizeof climate->hours->state;
    for (size_t i = 0; i < climate->n; i++)
        hash = th_hash_more(hash, &climate->hours[i], used);
    return hash;
}

static struct th_season_key key_of(const struct th_run_room *room, int year)
{
    return (struct th_season_key){room->hash, room->climate_hash, year};
}

void th_share_recall(struct th_runs *runs)
{
    if (!th_workers_keeps())
        return;
    for (size_t i = 0; i < runs->n_rooms; i++) {
        struct th_run_room *room = runs->rooms[i];
        if (room->climate_hash == 0)
            room->climate_hash = climate_hash_of(runs->rooms, i);
        for (int year = room->begins; year <= room->ends && !room->watched; year++) {
            struct run *run = &room->runs[year - room->begins];
            const struct th_season_key key = key_of(room, year);
            if (run->state == RUN_ASKED && th_workers_recall(&key, run->season))
                run->state = RUN_DONE;
        }
    }
}

void th_share_keep(const struct queue *queue)
{
    for (size_t i = 0; i < queue->n && th_workers_keeps(); i++) {
        const struct place *place = &queue->places[i];
        const struct th_season_key key = key_of(place->room, place->year);
        if (!place->room->watched && th_run_of(place)->error.code == TH_OK)
            th_workers_keep(&key, th_run_of(place)->season);
    }
}
