/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "root.h"
#include "turnheat/units.h"
#include <math.h>
#include <stdlib.h>

#define SHIFT_TOLERANCE_K 5e-3
#define SEARCH_WINTERS 5
#define SHIFT_LOWEST_K (-6.0 * TH_K_PER_F)

enum th_code th_trial_run(struct th_trial *trial, const struct th_room *room,
                          const struct th_climate *climate, int first_year, int last_year,
                          struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_winters_run(&winters, room, climate, first_year, last_year, NULL, err);
    if (code != TH_OK)
        return code;
    trial->n = 0;
    th_tally_clear(&trial->mean);
    if (winters.n_counted == 0)
        code = th_fail(err, TH_ERR_COVERAGE, "room %s: the weather covers no whole season",
                       room->name);
    else if (winters.n_counted > TH_TRIAL_SEASONS_MAX)
        code = th_fail(err, TH_ERR_MODEL, "%d seasons are more than the %d a comparison takes",
                       winters.n_counted, TH_TRIAL_SEASONS_MAX);
    for (int i = 0; i < winters.n && code == TH_OK; i++) {
        const struct th_season *season = &winters.seasons[i];
        if (!season->counted)
            continue;
        trial->years[trial->n] = season->year;
        trial->gas_j[trial->n++] = th_tally_gas_j(&season->total);
        th_tally_add(&trial->mean, &season->total, 1.0 / winters.n_counted);
    }
    th_winters_finish(&winters);
    return code;
}

double th_trial_gas_j(const struct th_trial *trial)
{
    return th_tally_gas_j(&trial->mean);
}

double th_trial_heated_c(const struct th_trial *trial)
{
    const double hours = trial->mean.sum[TH_HEAT_WANTED];
    return hours > 0.0 ? trial->mean.sum[TH_HEATED_KH] / hours : 0.0;
}

void th_room_shift_offsets(struct th_room *room, double shift_k)
{
    for (int i = 0; i < room->n_heaters; i++) {
        room->heaters[i].on_k -= shift_k;
        room->heaters[i].off_k -= shift_k;
    }
}

/* Which hours the base heats in, and how warm it was then. */
struct base_hours {
    long first_hour;
    long n;
    unsigned char *wanted; /* per hour of the climate (typical year: of its two years) */
    double sum_c, hours;
    bool recording;
};

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct base_hours *base = context;
    const long i = hour_number - base->first_hour;
    (void)turn;
    (void)in;
    if (i < 0 || i >= base->n)
        return;
    if (base->recording)
        base->wanted[i] = out->heat_wanted;
    if (base->wanted[i]) {
        base->sum_c += out->room_c;
        base->hours += 1.0;
    }
}

static double mean_c(const struct base_hours *base)
{
    return base->hours > 0.0 ? base->sum_c / base->hours : 0.0;
}

static enum th_code watch_run(struct base_hours *base, const struct th_room *room,
                              const struct th_climate *climate, int first_year, int last_year,
                              struct th_error *err)
{
    struct th_winters winters;
    const struct th_watch watch = {.hour = see_hour, .context = base};
    base->sum_c = base->hours = 0.0;
    const enum th_code code =
        th_winters_run(&winters, room, climate, first_year, last_year, &watch, err);
    th_winters_finish(&winters);
    return code;
}

/* The search for a shift of the offsets. */
struct shift_search {
    const struct th_room *room;
    const struct th_climate *climate;
    struct base_hours *base;
    double target_c;
    int first_year, last_year;
    enum th_code code;
    struct th_error *err;
};

static double warmer_k(double shift_k, void *context)
{
    struct shift_search *s = context;
    struct th_room shifted = *s->room;
    th_room_shift_offsets(&shifted, shift_k);
    if (s->code == TH_OK)
        s->code = watch_run(s->base, &shifted, s->climate, s->first_year, s->last_year, s->err);
    return mean_c(s->base) - s->target_c;
}

/* OFF may not pass the start of the fan ramp. */
static double highest_shift_k(const struct th_room *room)
{
    double most = INFINITY;
    for (int i = 0; i < room->n_heaters; i++)
        most = fmin(most, room->heaters[i].off_k + room->air.ramp_start_k);
    return most;
}

/* The shift is found on the winters of the search; the trial is over all. */
static enum th_code same_mean(struct shift_search *s, int first_year, int last_year,
                              struct th_same_mean *out)
{
    const double high_k = highest_shift_k(s->room);
    out->state = TH_SAME_MEAN_CANNOT;
    if (!(high_k > SHIFT_LOWEST_K) || warmer_k(high_k, s) < 0.0 ||
        warmer_k(SHIFT_LOWEST_K, s) > 0.0)
        return s->code;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return th_fail(s->err, TH_ERR_MEMORY, "out of memory");
    gsl_function f = {.function = warmer_k, .params = s};
    const enum th_code found =
        th_root(solver, &f, SHIFT_LOWEST_K, high_k, SHIFT_TOLERANCE_K, &out->shift_k);
    gsl_root_fsolver_free(solver);
    if (s->code != TH_OK || found != TH_OK)
        return s->code;
    struct th_room shifted = *s->room;
    th_room_shift_offsets(&shifted, out->shift_k);
    out->state = TH_SAME_MEAN_FOUND;
    return th_trial_run(&out->trial, &shifted, s->climate, first_year, last_year, s->err);
}

void th_response_apply(struct th_room *room, enum th_response_case response)
{
    static const double overshoot[TH_RESPONSE_CASES] = {1.0, 0.5, 2.0, 1.0, 1.0};
    static const double stage[TH_RESPONSE_CASES] = {1.0, 1.0, 1.0, 0.7, 1.4};
    room->response.factor *= overshoot[response];
    room->air.stage_factor *= stage[response];
}

static enum th_code mean_gas(const struct th_room *room, enum th_response_case response,
                             const struct th_climate *climate, int first_year, int last_year,
                             double *gas_j, struct th_error *err)
{
    struct th_room changed = *room;
    struct th_trial trial;
    th_response_apply(&changed, response);
    const enum th_code code = th_trial_run(&trial, &changed, climate, first_year, last_year, err);
    *gas_j = code == TH_OK ? th_trial_gas_j(&trial) : 0.0;
    return code;
}

/* Base less choice in every response case, on the winters given. */
static enum th_code range_of_savings(const struct th_room *room, bool is_base,
                                     const struct th_climate *climate, int first_year,
                                     int last_year, double base_gas_j[TH_RESPONSE_CASES],
                                     struct th_choice_result *result, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++) {
        double gas_j;
        code =
            mean_gas(room, (enum th_response_case)r, climate, first_year, last_year, &gas_j, err);
        base_gas_j[r] = is_base ? gas_j : base_gas_j[r];
        result->saved_j[r] = base_gas_j[r] - gas_j;
    }
    return code;
}

/* From the winters searched to all of them; as given it is the difference over all. */
static void scale_savings(struct th_choice_result *result, const struct th_trial *base,
                          double searched_gas_j)
{
    const double scale = searched_gas_j > 0.0 ? th_trial_gas_j(base) / searched_gas_j : 1.0;
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        result->saved_j[r] *= scale;
    result->saved_j[TH_AS_GIVEN] = th_trial_gas_j(base) - th_trial_gas_j(&result->trial);
}

/* Searches and ranges of long series run on the few winters around the one nearest the mean. */
static void search_block(const struct th_trial *trial, int *first_year, int *last_year)
{
    int best = 0;
    for (int i = 1; i < trial->n; i++)
        if (fabs(trial->gas_j[i] - th_trial_gas_j(trial)) <
            fabs(trial->gas_j[best] - th_trial_gas_j(trial)))
            best = i;
    if (trial->n <= SEARCH_WINTERS)
        return;
    int from = best - SEARCH_WINTERS / 2;
    from = from < 0 ? 0 : from;
    from = from > trial->n - SEARCH_WINTERS ? trial->n - SEARCH_WINTERS : from;
    *first_year = trial->years[from];
    *last_year = trial->years[from + SEARCH_WINTERS - 1];
}

static enum th_code compare_with(const struct th_room *rooms, int n,
                                 const struct th_climate *climate, int first_year, int last_year,
                                 struct base_hours *base, struct th_choice_result *results,
                                 struct th_error *err)
{
    double base_gas_j[TH_RESPONSE_CASES];
    int first = first_year, last = last_year;
    enum th_code code =
        th_trial_run(&results[0].trial, &rooms[0], climate, first_year, last_year, err);
    if (code != TH_OK)
        return code;
    search_block(&results[0].trial, &first, &last);
    base->recording = true;
    code = watch_run(base, &rooms[0], climate, first, last, err);
    base->recording = false;
    const double target_c = mean_c(base);
    for (int i = 0; i < n && code == TH_OK; i++) {
        struct th_choice_result *result = &results[i];
        if (i > 0)
            code = th_trial_run(&result->trial, &rooms[i], climate, first_year, last_year, err);
        if (code == TH_OK)
            code =
                range_of_savings(&rooms[i], i == 0, climate, first, last, base_gas_j, result, err);
        scale_savings(result, &results[0].trial, base_gas_j[TH_AS_GIVEN]);
        struct shift_search search = {.room = &rooms[i],
                                      .climate = climate,
                                      .base = base,
                                      .target_c = target_c,
                                      .first_year = first,
                                      .last_year = last,
                                      .err = err};
        if (code == TH_OK && i > 0)
            code = same_mean(&search, first_year, last_year, &result->same_mean);
    }
    results[0].same_mean.state = TH_SAME_MEAN_FOUND;
    results[0].same_mean.shift_k = 0.0;
    results[0].same_mean.trial = results[0].trial;
    return code;
}

enum th_code th_compare_run(const struct th_room *rooms, int n, const struct th_climate *climate,
                            int first_year, int last_year, struct th_choice_result *results,
                            struct th_error *err)
{
    /* A typical year repeats, and a turn may run a little before or after its season. */
    const long margin = climate->typical ? 8760 : 0;
    struct base_hours base = {.first_hour = climate->first_hour - margin,
                              .n = (long)climate->n + 3 * margin};
    base.wanted = calloc((size_t)base.n, 1);
    if (!base.wanted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code =
        compare_with(rooms, n, climate, first_year, last_year, &base, results, err);
    free(base.wanted);
    return code;
}
