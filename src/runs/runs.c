/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_list.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Open by more than rounding: of the size of what goes in. */
#define BALANCE_TOLERANCE 1e-6

struct th_run_request {
    size_t room;
    int first_year, last_year; /* as asked for */
};

void th_runs_init(struct th_runs *runs, int jobs, const struct th_onlooker *onlooker)
{
    *runs = (struct th_runs){.jobs = jobs};
    if (onlooker)
        runs->onlooker = *onlooker;
}

static void free_room(struct th_run_room *room)
{
    for (int i = 0; room->runs && i <= room->ends - room->begins; i++)
        free(room->runs[i].outcome);
    for (int i = 0; room->quiet && i <= room->ends - room->begins; i++)
        th_quiet_finish(&room->quiet[i]);
    free(room->runs);
    free(room->quiet);
    free(room);
}

struct th_runs_mark th_runs_mark(const struct th_runs *runs)
{
    return (struct th_runs_mark){runs->n_rooms, runs->n_requests};
}

void th_runs_forget(struct th_runs *runs, struct th_runs_mark mark)
{
    while (runs->n_rooms > mark.n_rooms)
        free_room(runs->rooms[--runs->n_rooms]);
    runs->n_requests = mark.n_requests;
}

void th_runs_finish(struct th_runs *runs)
{
    if (!runs)
        return;
    th_runs_forget(runs, (struct th_runs_mark){0});
    free(runs->rooms);
    free(runs->requests);
    *runs = (struct th_runs){0};
}

uint64_t th_hash_more(uint64_t hash, const void *data, size_t n)
{
    const unsigned char *bytes = data;
    for (size_t i = 0; i < n; i += sizeof hash) {
        uint64_t word = 0;
        memcpy(&word, bytes + i, n - i < sizeof word ? n - i : sizeof word);
        hash = (hash ^ word) * 1099511628211u;
        hash ^= hash >> 32; /* a product carries nothing downwards */
    }
    return hash;
}

/* The room as a season depends on it: not on prices, nor on what is known of the barn. */
static void without_money(struct th_room *out, const struct th_room *room)
{
    memcpy(out, room, sizeof *out); /* with what lies between its members, for the hash */
    out->fuel.has_price = false;
    out->fuel.price = 0.0;
    memset(&out->money, 0, sizeof out->money);
    memset(&out->fitted, 0, sizeof out->fitted);
    memset(&out->known, 0, sizeof out->known);
}

/* Room for one more at the end of `list`, whose size doubles at powers of two. */
static void *grown(void *list, size_t n, size_t size)
{
    return n & (n - 1) ? list : realloc(list, (n ? 2 * n : 1) * size);
}

static struct th_run_room *new_room(const struct th_room *room, const struct th_climate *climate,
                                    uint64_t hash)
{
    struct th_run_room *own = calloc(1, sizeof *own);
    if (!own)
        return NULL;
    own->hash = hash;
    own->climate = climate;
    memcpy(&own->room, room, sizeof *room);
    th_season_range(climate, &own->begins, &own->ends);
    own->runs = calloc((size_t)(own->ends - own->begins + 1), sizeof *own->runs);
    if (own->runs)
        return own;
    free(own);
    return NULL;
}

/* An equal room that is not watched, or n_rooms. Rooms are equal byte by byte: at worst one is run
 * twice. */
static size_t find_room(const struct th_runs *runs, const struct th_room *room,
                        const struct th_climate *climate, uint64_t hash)
{
    size_t i = 0;
    for (; i < runs->n_rooms; i++) {
        const struct th_run_room *have = runs->rooms[i];
        if (!have->watched && have->hash == hash && have->climate == climate &&
            /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
            memcmp(&have->room, room, sizeof *room) == 0)
            break;
    }
    return i;
}

/* Whether two rooms are the same but for their heaters and how fast they answer them. */
static bool same_unheated(const struct th_room *a, const struct th_room *b)
{
    const size_t heaters = offsetof(struct th_room, n_heaters),
                 turns = offsetof(struct th_room, n_turns);
    return memcmp(a, b, heaters) == 0 &&
           memcmp((const char *)a + turns, (const char *)b + turns, sizeof *a - turns) == 0;
}

/* The room whose quiet hours another takes over, or NULL. */
static const struct th_run_room *leader_of(const struct th_runs *runs,
                                           const struct th_run_room *room)
{
    for (size_t i = 0; i < runs->n_rooms; i++)
        if (runs->rooms[i]->quiet && runs->rooms[i]->climate == room->climate &&
            same_unheated(&runs->rooms[i]->room, &room->room))
            return runs->rooms[i];
    return NULL;
}

/* The place of a new room; n_rooms as it was when memory is short. */
static size_t append_room(struct th_runs *runs, const struct th_room *room,
                          const struct th_climate *climate, uint64_t hash)
{
    struct th_run_room **rooms = grown(runs->rooms, runs->n_rooms, sizeof(struct th_run_room *));
    if (!rooms)
        return runs->n_rooms;
    runs->rooms = rooms;
    rooms[runs->n_rooms] = new_room(room, climate, hash);
    if (!rooms[runs->n_rooms])
        return runs->n_rooms;
    rooms[runs->n_rooms]->leader = leader_of(runs, rooms[runs->n_rooms]);
    return runs->n_rooms++;
}

/* The seasons a request means: those asked for that the climate touches. */
static void years_of(const struct th_run_room *room, const struct th_run_request *request,
                     int *first, int *last)
{
    const bool all = room->climate->typical;
    *first = all || request->first_year < room->begins ? room->begins : request->first_year;
    *last = all || request->last_year > room->ends ? room->ends : request->last_year;
}

static bool ask_for(struct th_run_room *room, const struct th_run_request *request)
{
    const size_t size = th_season_size(room->room.n_turns);
    int first, last;
    years_of(room, request, &first, &last);
    for (int year = first; year <= last; year++) {
        struct run *run = &room->runs[year - room->begins];
        if (!run->outcome)
            run->outcome = calloc(1, offsetof(struct outcome, season) + size);
        if (!run->outcome)
            return false;
        if (run->state == RUN_UNASKED)
            run->state = RUN_ASKED;
    }
    return true;
}

/* The number of the request; what is short of memory is told by th_runs_do(). */
static int add(struct th_runs *runs, struct th_run_request request)
{
    struct th_run_request *requests =
        grown(runs->requests, (size_t)runs->n_requests, sizeof *runs->requests);
    if (requests)
        runs->requests = requests;
    if (!requests || request.room == runs->n_rooms ||
        !ask_for(runs->rooms[request.room], &request)) {
        runs->out_of_memory = true;
        return -1;
    }
    requests[runs->n_requests] = request;
    return runs->n_requests++;
}

int th_runs_add(struct th_runs *runs, const struct th_room *room, const struct th_climate *climate,
                int first_year, int last_year)
{
    if (runs->out_of_memory)
        return -1; /* as th_runs_do() will tell */
    struct th_room plain;
    without_money(&plain, room);
    const uint64_t hash = th_hash_more(TH_HASH_OF_NOTHING, &plain, sizeof plain);
    struct th_run_request request = {.first_year = first_year, .last_year = last_year};
    request.room = find_room(runs, &plain, climate, hash);
    if (request.room == runs->n_rooms)
        request.room = append_room(runs, &plain, climate, hash);
    return add(runs, request);
}

void th_runs_lead(struct th_runs *runs, int request)
{
    if (request < 0)
        return;
    struct th_run_room *const room = runs->rooms[runs->requests[request].room];
    if (!room->quiet && !room->leader) /* without memory each room runs by itself */
        room->quiet = calloc((size_t)(room->ends - room->begins + 1), sizeof *room->quiet);
}

int th_runs_add_watched(struct th_runs *runs, const struct th_room *room,
                        const struct th_climate *climate, int first_year, int last_year,
                        const struct th_watch_seasons *watch)
{
    struct th_run_request request = {.first_year = first_year, .last_year = last_year};
    struct th_room plain;
    without_money(&plain, room);
    request.room =
        append_room(runs, &plain, climate, th_hash_more(TH_HASH_OF_NOTHING, &plain, sizeof plain));
    if (request.room < runs->n_rooms) {
        struct th_run_room *own = runs->rooms[request.room];
        own->watch = *watch;
        own->watched = true;
        own->watched_from = climate->typical || first_year < own->begins ? own->begins : first_year;
    }
    return add(runs, request);
}

static enum th_code check_gap(const char *what, double gap, const struct th_room *room, int year,
                              struct th_error *err)
{
    if (fabs(gap) <= BALANCE_TOLERANCE)
        return TH_OK;
    return th_fail(err, TH_ERR_BALANCE,
                   "room %s, season %d: %s stays open by %.2g of its size; the numbers cannot be "
                   "trusted",
                   room->name, year, what, gap);
}

/* Heat, water and CO₂ that come in must go out, and months add up to turns. */
static enum th_code check_closed(const struct th_season *season, const struct th_room *room,
                                 struct th_error *err)
{
    const double gas_j = th_tally_gas_j(&season->total);
    double months_j = 0.0;
    for (int m = 0; m < 12; m++)
        months_j += th_tally_gas_j(&season->month[m]);
    const double off = gas_j > 0.0 ? months_j / gas_j - 1.0 : months_j;
    enum th_code code =
        check_gap("the heat balance", th_tally_heat_gap(&season->total), room, season->year, err);
    if (code == TH_OK)
        code = check_gap("the water balance", th_tally_water_gap(&season->total), room,
                         season->year, err);
    if (code == TH_OK)
        code =
            check_gap("the CO2 balance", th_tally_co2_gap(&season->total), room, season->year, err);
    return code == TH_OK ? check_gap("the sum of the months", off, room, season->year, err) : code;
}

/* An engine and the room it is ready for. */
struct ready {
    struct th_engine engine;
    const struct th_run_room *room; /* NULL: for none */
};

static enum th_code make_ready(struct ready *ready, const struct th_run_room *room,
                               struct th_error *err)
{
    if (ready->room == room)
        return TH_OK;
    if (ready->room)
        th_engine_finish(&ready->engine);
    const enum th_code code = th_engine_init(&ready->engine, &room->room, err);
    ready->room = code == TH_OK ? room : NULL;
    return code;
}

struct run *th_run_of(const struct place *place)
{
    return &place->room->runs[place->year - place->room->begins];
}

char *th_run_context(const struct place *place)
{
    const struct th_run_room *room = place->room;
    char *const first = room->watch.watch.context;
    return first ? first + (size_t)(place->year - room->watched_from) * room->watch.stride : NULL;
}

/* What a room leaves to those that follow it; NULL: nothing. */
static struct th_quiet *quiet_of(const struct th_run_room *room, int year)
{
    return room && room->quiet ? &room->quiet[year - room->begins] : NULL;
}

/* Who watches sees all hours, unless none matters in which the leading room needs no heat. */
static bool may_follow(const struct th_run_room *room)
{
    return !room->watched || room->watch.only_heated;
}

static void run_one(struct ready *ready, const struct place *place)
{
    const struct th_run_room *room = place->room;
    const struct th_quiet *const known =
        may_follow(room) ? quiet_of(room->leader, place->year) : NULL;
    struct run *run = th_run_of(place);
    const struct th_watch watch = {room->watch.watch.hour, th_run_context(place)};
    struct th_season *season = &run->outcome->season;
    struct th_error *error = &run->outcome->error;
    enum th_code code = make_ready(ready, room, error);
    if (code == TH_OK)
        code = th_season_run_beside(&ready->engine, room->climate, place->year,
                                    room->watched ? &watch : NULL, known,
                                    quiet_of(room, place->year), season, error);
    if (code == TH_OK && season->counted)
        check_closed(season, &room->room, error);
    run->state = RUN_DONE;
}

static void work(void *context, int worker)
{
    struct queue *queue = context;
    struct ready ready = {.room = NULL};
    while (!atomic_load(&queue->stopped)) {
        const size_t i = atomic_fetch_add(&queue->next, 1);
        if (i >= queue->until)
            break;
        if (th_share_is_own(queue, i))
            run_one(&ready, &queue->places[i]);
        const size_t done = atomic_fetch_add(&queue->done, 1) + 1;
        const struct th_onlooker *onlooker = queue->onlooker;
        if (worker == 0 && onlooker->tell &&
            !onlooker->tell(onlooker->context, queue->what, done, queue->n))
            atomic_store(&queue->stopped, true);
    }
    if (ready.room)
        th_engine_finish(&ready.engine);
}

/* Lists what is asked for of rooms that follow others or do not, in the order of the list; with
 * NULL only counts. */
static size_t list_places(const struct th_runs *runs, bool following, struct place *places)
{
    size_t n = 0;
    for (size_t i = 0; i < runs->n_rooms; i++) {
        const struct th_run_room *room = runs->rooms[i];
        if ((room->leader != NULL) != following)
            continue;
        for (int year = room->begins; year <= room->ends; year++)
            if (room->runs[year - room->begins].state == RUN_ASKED) {
                if (places)
                    places[n] = (struct place){room, year};
                n++;
            }
    }
    return n;
}

/* Runs the queue from where it stands to before `until`. */
static void run_until(struct queue *queue, size_t until, int jobs)
{
    const size_t left = until - atomic_load(&queue->next);
    const int most = left < TH_WORKERS_MAX ? (int)left : TH_WORKERS_MAX;
    queue->until = until;
    if (left > 0)
        th_workers_run(jobs < most ? jobs : most, work, queue);
    atomic_store(&queue->next, until); /* each worker looked once beyond */
}

/* Whoever watched may be gone by the next time; what was run then serves all who ask. */
static void drop_watched(struct th_runs *runs)
{
    for (size_t i = 0; i < runs->n_rooms; i++) {
        struct th_run_room *room = runs->rooms[i];
        for (int year = room->begins; year <= room->ends && room->watched; year++)
            if (room->runs[year - room->begins].state == RUN_ASKED)
                room->runs[year - room->begins].state = RUN_UNASKED;
        room->watched = false;
        room->watch = (struct th_watch_seasons){0};
    }
}

enum th_code th_runs_do(struct th_runs *runs, const char *what, struct th_error *err)
{
    th_share_recall(runs);
    const size_t n_first = list_places(runs, false, NULL);
    struct queue queue = {.team = th_workers_team(),
                          .n = n_first + list_places(runs, true, NULL),
                          .onlooker = &runs->onlooker,
                          .what = what};
    if (runs->out_of_memory)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (queue.n == 0)
        return TH_OK;
    queue.places = malloc(queue.n * sizeof *queue.places);
    if (!queue.places)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    list_places(runs, false, queue.places);
    list_places(runs, true, queue.places + n_first);
    run_until(&queue, n_first, runs->jobs);
    run_until(&queue, queue.n, runs->jobs);
    const bool stopped = atomic_load(&queue.stopped);
    const enum th_code code = stopped ? TH_OK : th_share(&queue, err);
    if (code == TH_OK && !stopped)
        th_share_keep(&queue);
    free(queue.places);
    drop_watched(runs);
    if (code != TH_OK)
        return code;
    if (stopped)
        return th_fail(err, TH_ERR_CANCELLED, "%s", th_code_text(TH_ERR_CANCELLED));
    if (runs->onlooker.tell)
        runs->onlooker.tell(runs->onlooker.context, what, queue.n, queue.n);
    return TH_OK;
}

/* The runs of a request; the error of the first that failed. */
static enum th_code runs_of(const struct th_runs *runs, int request, const struct run **first_run,
                            int *n, struct th_error *err)
{
    const struct th_run_request *r = &runs->requests[request];
    const struct th_run_room *room = runs->rooms[r->room];
    int first, last;
    years_of(room, r, &first, &last);
    if (last < first)
        return th_fail(err, TH_ERR_COVERAGE,
                       "the weather touches no season from %d to %d; it holds those that start in "
                       "%d to %d",
                       r->first_year, r->last_year, room->begins, room->ends);
    *n = last - first + 1;
    *first_run = &room->runs[first - room->begins];
    for (int i = 0; i < *n; i++) {
        const struct th_error *error = &(*first_run)[i].outcome->error;
        if (error->code == TH_OK)
            continue;
        if (err)
            *err = *error;
        return error->code;
    }
    return TH_OK;
}

enum th_code th_runs_winters(const struct th_runs *runs, int request, struct th_winters *winters,
                             struct th_error *err)
{
    const struct run *run = NULL;
    int n = 0;
    *winters = (struct th_winters){0};
    const enum th_code code = runs_of(runs, request, &run, &n, err);
    if (code != TH_OK || n == 0)
        return code;
    winters->seasons = malloc((size_t)n * sizeof *winters->seasons);
    if (!winters->seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (; run && winters->n < n; winters->n++, run++) {
        const struct th_season *season = &run->outcome->season;
        memcpy(&winters->seasons[winters->n], season, th_season_size(season->n_turns));
        winters->n_counted += season->counted;
    }
    return TH_OK;
}

enum th_code th_runs_trial(const struct th_runs *runs, int request, struct th_trial *trial,
                           struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_runs_winters(runs, request, &winters, err);
    if (code == TH_OK)
        code =
            th_trial_of(&winters, runs->rooms[runs->requests[request].room]->room.name, trial, err);
    th_winters_finish(&winters);
    return code;
}

enum th_code th_runs_gas(const struct th_runs *runs, int request, double *gas_j,
                         struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_runs_winters(runs, request, &winters, err);
    if (code == TH_OK && winters.n_counted == 0)
        code = th_fail(err, TH_ERR_COVERAGE, "room %s: the weather covers no whole season",
                       runs->rooms[runs->requests[request].room]->room.name);
    *gas_j = code == TH_OK ? th_winters_mean_gas_j(&winters) : 0.0;
    th_winters_finish(&winters);
    return code;
}
