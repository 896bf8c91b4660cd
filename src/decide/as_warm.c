/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "as_warm.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>

/* Both agree within a tenth of the 0.02 °F asked for: a °F is 8 to 15 % of the gas. */
#define TOLERANCE_K (0.002 * TH_K_PER_F)
#define SHIFT_LOWEST_K (-6.0 * TH_K_PER_F)
/* A shift moves the mean by about as much; the search first looks this near. */
#define SHIFT_NEAR_K (0.5 * TH_K_PER_F)
/* Secant steps before an interval is looked for, and how much a K of shift may move the room. */
#define STEPS_MAX 4
#define SLOPE_LEAST 0.3
#define SLOPE_MOST 3.0
#define ITERATIONS_MAX 50
#define SHIFTS_KEPT 128
#define HOURS_SEEN (366L * 24)

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct th_seen_season *season = context;
    const long i = hour_number - season->first_hour;
    (void)turn;
    (void)in;
    if (i < 0 || i >= HOURS_SEEN)
        return;
    const struct th_seen_hour seen = {out->heat_wanted ? out->room_c : NAN,
                                      out->heat_wanted && !out->short_of_heat ? out->low_c : NAN};
    if (season->recording) {
        season->base[i] = seen;
        return;
    }
    const double warmer_k[TH_WARMTHS] = {
        [TH_BY_MEAN] = out->room_c - season->base[i].mean_c,
        [TH_BY_TROUGH] = out->short_of_heat ? NAN : out->low_c - season->base[i].trough_c};
    for (int by = 0; by < TH_WARMTHS; by++)
        if (!isnan(warmer_k[by])) {
            season->warmer_kh[by] += warmer_k[by];
            season->hours[by] += 1.0;
        }
}

/* Seasons of the block that the climate touches. */
static void years_of(const struct th_winters_seen *at, int *first, int *last)
{
    th_season_range(at->climate, first, last);
    if (at->climate->typical)
        return;
    *first = at->block.first_year > *first ? at->block.first_year : *first;
    *last = at->block.last_year < *last ? at->block.last_year : *last;
}

enum th_code th_firing_init(struct th_firing *firing, const struct th_winters_seen *at,
                            struct th_error *err)
{
    int first, last;
    years_of(at, &first, &last);
    const int n = last - first + 1;
    *firing = (struct th_firing){.n = n,
                                 .seasons = calloc((size_t)n, sizeof *firing->seasons),
                                 .hours = malloc((size_t)n * HOURS_SEEN * sizeof *firing->hours)};
    if (!firing->seasons || !firing->hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (long i = 0; i < n * HOURS_SEEN; i++)
        firing->hours[i] = (struct th_seen_hour){NAN, NAN};
    for (int i = 0; i < n; i++)
        firing->seasons[i] =
            (struct th_seen_season){.recording = true,
                                    .first_hour = 24 * th_season_first_day(first + i),
                                    .base = firing->hours + i * HOURS_SEEN};
    return TH_OK;
}

void th_firing_finish(struct th_firing *firing)
{
    free(firing->seasons);
    free(firing->hours);
    *firing = (struct th_firing){0};
}

static int ask(const struct th_winters_seen *at, const struct th_room *room,
               struct th_seen_season *seasons)
{
    struct th_watch_seasons watch = {
        .watch = {see_hour, seasons}, .stride = sizeof *seasons, .only_heated = true};
    if (!seasons->recording) { /* the base's hours lie outside */
        watch.seen_at = offsetof(struct th_seen_season, warmer_kh);
        watch.seen = sizeof *seasons - watch.seen_at;
    }
    return th_runs_add_watched(at->runs, room, at->climate, at->block.first_year,
                               at->block.last_year, &watch);
}

int th_firing_ask(struct th_firing *firing, const struct th_winters_seen *at,
                  const struct th_room *base)
{
    const int request = ask(at, base, firing->seasons);
    th_runs_lead(at->runs, request);
    return request;
}

enum th_code th_firing_read(struct th_firing *firing, const struct th_winters_seen *at, int request,
                            struct th_error *err)
{
    return th_runs_gas(at->runs, request, &firing->gas_j, err);
}

enum th_code th_look_ask(struct th_look *look, const struct th_firing *firing,
                         const struct th_winters_seen *at, const struct th_room *room,
                         struct th_error *err)
{
    *look = (struct th_look){.n = firing->n,
                             .seasons = calloc((size_t)firing->n, sizeof *look->seasons)};
    if (!look->seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < look->n; i++)
        look->seasons[i] = (struct th_seen_season){.first_hour = firing->seasons[i].first_hour,
                                                   .base = firing->seasons[i].base};
    look->request = ask(at, room, look->seasons);
    return TH_OK;
}

static double mean_warmer_k(const struct th_look *look, enum th_warmth by)
{
    double sum_kh = 0.0, hours = 0.0;
    for (int i = 0; i < look->n; i++) {
        sum_kh += look->seasons[i].warmer_kh[by];
        hours += look->seasons[i].hours[by];
    }
    return hours > 0.0 ? sum_kh / hours : 0.0;
}

enum th_code th_look_read(struct th_look *look, const struct th_winters_seen *at,
                          struct th_sight *sight, struct th_error *err)
{
    enum th_code code = TH_OK;
    if (sight) {
        for (int by = 0; by < TH_WARMTHS; by++)
            sight->warmer_k[by] = mean_warmer_k(look, (enum th_warmth)by);
        code = th_runs_gas(at->runs, look->request, &sight->gas_j, err);
    }
    free(look->seasons);
    look->seasons = NULL;
    return code;
}

/* What one shift of the offsets does. */
struct shifted {
    double shift_k;
    struct th_sight sight;
};

/* The search for a room's shifts. What was run is kept; where more is asked for the search ends
 * unfinished, and is gone through from its start again when that was run, so that searches of
 * several rooms wait for one list of runs. */
struct shift_search {
    const struct th_room *room;
    int by;             /* of enum th_warmth; TH_WARMTHS: done */
    int n_kept, n_then; /* now, and when the search by this warmth began */
    struct shifted kept[SHIFTS_KEPT];
    bool waits; /* for a run at this shift: */
    double waits_k;
    struct th_look look;
};

static struct shifted at_shift(struct shift_search *s, double shift_k)
{
    for (int i = 0; i < s->n_kept; i++)
        if (s->kept[i].shift_k == shift_k)
            return s->kept[i];
    if (!s->waits)
        s->waits_k = shift_k;
    s->waits = true;
    return (struct shifted){.shift_k = shift_k};
}

static double warmer_at(double shift_k, void *context)
{
    struct shift_search *s = context;
    return at_shift(s, shift_k).sight.warmer_k[s->by];
}

static bool encloses(struct shift_search *s, double low_k, double high_k)
{
    if (low_k >= high_k)
        return false;
    const double low = warmer_at(low_k, s), high = warmer_at(high_k, s);
    return low <= 0.0 && high >= 0.0 && low < high; /* equal where the base never fires */
}

/* An interval of shifts with the same warmth inside, narrow where the first guess is good. NULL, or
 * why there is none. */
static const char *enclose(struct shift_search *s, double *low_k, double *high_k)
{
    const double most_k = th_room_highest_shift_k(s->room);
    const double guess_k = -warmer_at(fmin(0.0, most_k), s);
    *low_k = fmax(guess_k - SHIFT_NEAR_K, SHIFT_LOWEST_K);
    *high_k = fmin(guess_k + SHIFT_NEAR_K, most_k);
    if (encloses(s, *low_k, *high_k))
        return NULL;
    *low_k = SHIFT_LOWEST_K;
    *high_k = most_k;
    if (encloses(s, *low_k, *high_k))
        return NULL;
    if (warmer_at(*high_k, s) < 0.0)
        return "OFF would have to pass the start of the fan ramp";
    return warmer_at(*low_k, s) > 0.0 ? "the room stays warmer with ON and OFF 6 °F lower"
                                      : "the heaters hardly fire";
}

/* Iterates until both agree; each step costs a run of the block. Whether they do: where a heater
 * skips from cycling to steady fire the warmth may jump past. */
static bool find_shift(struct shift_search *s, gsl_root_fsolver *solver, double low_k,
                       double high_k, double *shift_k)
{
    gsl_function f = {.function = warmer_at, .params = s};
    int state = gsl_root_fsolver_set(solver, &f, low_k, high_k);
    for (int i = 0; i < ITERATIONS_MAX && state == GSL_SUCCESS && !s->waits; i++) {
        state = gsl_root_fsolver_iterate(solver);
        *shift_k = gsl_root_fsolver_root(solver);
        if (gsl_root_test_residual(warmer_at(*shift_k, s), TOLERANCE_K) == GSL_SUCCESS)
            return true;
    }
    return false;
}

/* Of the shifts known when the search began, the one nearest to the same warmth; the first is none.
 */
static struct shifted nearest(struct shift_search *s)
{
    struct shifted best = at_shift(s, fmin(0.0, th_room_highest_shift_k(s->room)));
    for (int i = 0; i < s->n_then; i++)
        if (fabs(s->kept[i].sight.warmer_k[s->by]) < fabs(best.sight.warmer_k[s->by]))
            best = s->kept[i];
    return best;
}

/* The short way: secants from the nearest known. A K of shift moves the room by about a K; false
 * where it does not, or the shifts end. */
static bool step_there(struct shift_search *s, struct th_alike *alike)
{
    const double most_k = th_room_highest_shift_k(s->room);
    struct shifted last = nearest(s);
    double slope = 1.0;
    for (int i = 0; i < STEPS_MAX && !s->waits; i++) {
        const double warmer_k = last.sight.warmer_k[s->by];
        const bool there = fabs(warmer_k) <= TOLERANCE_K;
        const double step_k = there ? -SHIFT_NEAR_K : -warmer_k / slope;
        const double next_k = fmax(fmin(last.shift_k + step_k, most_k), SHIFT_LOWEST_K);
        if (next_k == last.shift_k)
            return false;
        const struct shifted next = at_shift(s, next_k);
        if (s->waits)
            return false;
        const double moved_k = next.sight.warmer_k[s->by] - warmer_k;
        slope = moved_k / (next_k - last.shift_k);
        if (!(slope > SLOPE_LEAST && slope < SLOPE_MOST))
            return false;
        const struct shifted *const found = there ? &last : &next;
        *alike = (struct th_alike){.shift_k = found->shift_k,
                                   .gas_j_k = (next.sight.gas_j - last.sight.gas_j) / moved_k};
        if (fabs(found->sight.warmer_k[s->by]) <= TOLERANCE_K)
            return true;
        last = next;
    }
    return false;
}

/* The shift by `s->by`; nothing is found while the search waits. */
static void find_alike(struct shift_search *s, gsl_root_fsolver *solver, struct th_alike *alike)
{
    double low_k, high_k;
    if (step_there(s, alike) || s->waits)
        return;
    *alike = (struct th_alike){.why_not = enclose(s, &low_k, &high_k)};
    if (alike->why_not || s->waits)
        return;
    const struct th_sight low = at_shift(s, low_k).sight, high = at_shift(s, high_k).sight;
    alike->gas_j_k = (high.gas_j - low.gas_j) / (high.warmer_k[s->by] - low.warmer_k[s->by]);
    if (!find_shift(s, solver, low_k, high_k, &alike->shift_k))
        *alike = (struct th_alike){.why_not = "the heaters skip from cycling to steady fire there"};
}

/* Goes on with a search; returns whether it waits for a run. */
static bool search_on(struct shift_search *s, gsl_root_fsolver *solver, struct th_alike_room *room)
{
    s->waits = false;
    for (; room->room && room->err.code == TH_OK && s->by < TH_WARMTHS; s->by++) {
        s->room = room->room;
        find_alike(s, solver, &room->alike[s->by]);
        if (s->waits)
            break;
        s->n_then = s->n_kept;
    }
    return s->waits;
}

/* Runs what the searches wait for. */
static enum th_code run_waiting(struct shift_search *searches, struct th_alike_room *rooms, int n,
                                const struct th_firing *firing, const struct th_winters_seen *at,
                                struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < n && code == TH_OK; i++)
        if (searches[i].waits) {
            struct th_room shifted = *rooms[i].room;
            th_room_shift_offsets(&shifted, searches[i].waits_k);
            code = th_look_ask(&searches[i].look, firing, at, &shifted, err);
        }
    if (code == TH_OK)
        code = th_runs_do(at->runs, "choices as warm as the barn is today", err);
    for (int i = 0; i < n; i++)
        if (searches[i].waits) {
            struct shift_search *const s = &searches[i];
            struct shifted *const found = &s->kept[s->n_kept++];
            found->shift_k = s->waits_k;
            th_look_read(&s->look, at, code == TH_OK ? &found->sight : NULL, &rooms[i].err);
            if (s->n_kept == SHIFTS_KEPT)
                th_fail(&rooms[i].err, TH_ERR_NUMERIC, "no shift is found in %d runs", SHIFTS_KEPT);
        }
    return code;
}

enum th_code th_alike_find(struct th_alike_room *rooms, int n, const struct th_firing *firing,
                           const struct th_winters_seen *at, struct th_error *err)
{
    gsl_root_fsolver *const solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    struct shift_search *const searches = calloc((size_t)n + 1, sizeof *searches);
    enum th_code code = solver && searches ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int waiting = 1; waiting > 0 && code == TH_OK && searches;) {
        waiting = 0;
        for (int i = 0; i < n; i++)
            waiting += search_on(&searches[i], solver, &rooms[i]);
        if (waiting > 0)
            code = run_waiting(searches, rooms, n, firing, at, err);
    }
    free(searches);
    if (solver)
        gsl_root_fsolver_free(solver);
    return code;
}
