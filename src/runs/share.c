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
struct told {
    struct outcome outcome;
    char seen[];
};

/* Of one that was asked for. */
static size_t outcome_size(const struct place *place)
{
    return offsetof(struct outcome, season) + th_season_size(place->room->room.n_turns);
}

/* The most that is seen of a season of the queue. */
static size_t most_seen(const struct queue *queue)
{
    size_t most = 0;
    for (size_t i = 0; i < queue->n; i++)
        most = queue->places[i].room->watch.seen > most ? queue->places[i].room->watch.seen : most;
    return most;
}

static void put_outcome(struct told *told, const struct place *place)
{
    const struct th_watch_seasons *watch = &place->room->watch;
    memcpy(&told->outcome, th_run_of(place)->outcome, outcome_size(place));
    if (watch->seen > 0)
        memcpy(told->seen, th_run_context(place) + watch->seen_at, watch->seen);
}

static void take_outcome(const struct told *told, const struct place *place)
{
    const struct th_watch_seasons *watch = &place->room->watch;
    struct run *run = th_run_of(place);
    memcpy(run->outcome, &told->outcome, outcome_size(place));
    run->state = RUN_DONE;
    if (watch->seen > 0)
        memcpy(th_run_context(place) + watch->seen_at, told->seen, watch->seen);
}

enum th_code th_share(const struct queue *queue, struct th_error *err)
{
    if (queue->team.n == 1)
        return TH_OK;
    const size_t align = _Alignof(struct told);
    const size_t size = (sizeof(struct told) + most_seen(queue) + align - 1) / align * align;
    char *all = calloc(queue->n, size);
    if (!all)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < queue->n; i++)
        if (th_share_is_own(queue, i))
            put_outcome((struct told *)(void *)(all + i * size), &queue->places[i]);
    th_workers_exchange(all, queue->n, size);
    for (size_t i = 0; i < queue->n; i++)
        if (!th_share_is_own(queue, i))
            take_outcome((struct told *)(void *)(all + i * size), &queue->places[i]);
    free(all);
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

/* Takes a season that an earlier run left; whole, as those who keep it do. */
static bool recall(const struct th_run_room *room, int year, struct run *run)
{
    const struct th_season_key key = key_of(room, year);
    struct th_season season;
    if (!th_workers_recall(&key, &season))
        return false;
    memcpy(&run->outcome->season, &season, th_season_size(room->room.n_turns));
    return true;
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
            if (run->state == RUN_ASKED && recall(room, year, run))
                run->state = RUN_DONE;
        }
    }
}

void th_share_keep(const struct queue *queue)
{
    for (size_t i = 0; i < queue->n && th_workers_keeps(); i++) {
        const struct place *place = &queue->places[i];
        const struct outcome *outcome = th_run_of(place)->outcome;
        const struct th_season_key key = key_of(place->room, place->year);
        struct th_season season = {0};
        if (place->room->watched || outcome->error.code != TH_OK)
            continue;
        memcpy(&season, &outcome->season, th_season_size(place->room->room.n_turns));
        th_workers_keep(&key, &season);
    }
}
