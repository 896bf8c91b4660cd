/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "root.h"
#include "turnheat/units.h"
#include <math.h>
#include <stdlib.h>

#define SHIFT_TOLERANCE_K 5e-3
#define SHIFT_LOWEST_K (-6.0 * TH_K_PER_F)
/* A shift moves the mean by about as much; the search first looks this near. */
#define SHIFT_NEAR_K (0.5 * TH_K_PER_F)
#define SHIFTS_KEPT 4

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

/* The search for a shift of the offsets; the last few are kept, for the ends of an interval are
 * asked for twice. */
struct shift_search {
    const struct th_room *room;
    const struct th_climate *climate;
    struct base_hours *base;
    double target_c;
    const struct th_block *block;
    int n_kept;
    double kept_k[SHIFTS_KEPT], kept_warmer_k[SHIFTS_KEPT];
    enum th_code code;
    struct th_error *err;
};

static double warmer_k(double shift_k, void *context)
{
    struct shift_search *s = context;
    for (int i = 0; i < s->n_kept && i < SHIFTS_KEPT; i++)
        if (s->kept_k[i] == shift_k)
            return s->kept_warmer_k[i];
    struct th_room shifted = *s->room;
    th_room_shift_offsets(&shifted, shift_k);
    if (s->code == TH_OK)
        s->code = watch_run(s->base, &shifted, s->climate, s->block->first_year,
                            s->block->last_year, s->err);
    const int at = s->n_kept++ % SHIFTS_KEPT;
    s->kept_k[at] = shift_k;
    return s->kept_warmer_k[at] = mean_c(s->base) - s->target_c;
}

/* OFF may not pass the start of the fan ramp. */
static double highest_shift_k(const struct th_room *room)
{
    double most = INFINITY;
    for (int i = 0; i < room->n_heaters; i++)
        most = fmin(most, room->heaters[i].off_k + room->air.ramp_start_k);
    return most;
}

static bool encloses(struct shift_search *s, double low_k, double high_k)
{
    return low_k < high_k && warmer_k(low_k, s) <= 0.0 && warmer_k(high_k, s) >= 0.0;
}

/* An interval of shifts with the same mean inside, narrow where the first guess is good. */
static bool enclose(struct shift_search *s, double *low_k, double *high_k)
{
    const double most_k = highest_shift_k(s->room);
    const double guess_k = -warmer_k(fmin(0.0, most_k), s);
    *low_k = fmax(guess_k - SHIFT_NEAR_K, SHIFT_LOWEST_K);
    *high_k = fmin(guess_k + SHIFT_NEAR_K, most_k);
    if (encloses(s, *low_k, *high_k))
        return true;
    *low_k = SHIFT_LOWEST_K;
    *high_k = most_k;
    return encloses(s, *low_k, *high_k);
}

/* The shift is found on the winters of the block; the trial is over all. */
static enum th_code same_mean(struct shift_search *s, int first_year, int last_year,
                              struct th_same_mean *out)
{
    double low_k, high_k;
    out->state = TH_SAME_MEAN_CANNOT;
    if (!enclose(s, &low_k, &high_k) || s->code != TH_OK)
        return s->code;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return th_fail(s->err, TH_ERR_MEMORY, "out of memory");
    gsl_function f = {.function = warmer_k, .params = s};
    const enum th_code found = th_root(solver, &f, low_k, high_k, SHIFT_TOLERANCE_K, &out->shift_k);
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

/* What the comparison works with. */
struct comparing {
    const struct th_climate *climate;
    int first_year, last_year;
    struct th_block block;
    struct base_hours hours;
    double target_c; /* mean of the base in the hours in which it fires */
    double base_gas_j[TH_RESPONSE_CASES];
    struct th_error *err;
};

/* Gas of a mean season of the block in every response case; as given it is known already. */
static enum th_code range_of_gas(const struct comparing *c, const struct th_room *room,
                                 const struct th_trial *as_given, double gas_j[TH_RESPONSE_CASES])
{
    gas_j[TH_AS_GIVEN] = th_trial_block_gas_j(as_given, &c->block);
    for (int r = TH_AS_GIVEN + 1; r < TH_RESPONSE_CASES; r++) {
        struct th_room changed = *room;
        struct th_trial trial;
        th_response_apply(&changed, (enum th_response_case)r);
        const enum th_code code = th_trial_run(&trial, &changed, c->climate, c->block.first_year,
                                               c->block.last_year, c->err);
        if (code != TH_OK)
            return code;
        gas_j[r] = th_trial_gas_j(&trial);
    }
    return TH_OK;
}

/* From the block to all winters; as given it is the difference over all. */
static void fill_savings(const struct comparing *c, const struct th_trial *base,
                         const double gas_j[TH_RESPONSE_CASES], struct th_choice_result *result)
{
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        result->saved_j[r] = c->block.scale * (c->base_gas_j[r] - gas_j[r]);
    result->saved_j[TH_AS_GIVEN] = th_trial_gas_j(base) - th_trial_gas_j(&result->trial);
}

static enum th_code look_at_base(struct comparing *c, const struct th_room *room,
                                 struct th_choice_result *result)
{
    c->block = th_trial_block(&result->trial);
    c->hours.recording = true;
    enum th_code code =
        watch_run(&c->hours, room, c->climate, c->block.first_year, c->block.last_year, c->err);
    c->hours.recording = false;
    c->target_c = mean_c(&c->hours);
    if (code == TH_OK)
        code = range_of_gas(c, room, &result->trial, c->base_gas_j);
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        result->saved_j[r] = 0.0;
    result->same_mean.state = TH_SAME_MEAN_FOUND;
    result->same_mean.shift_k = 0.0;
    result->same_mean.trial = result->trial;
    return code;
}

static enum th_code look_at_choice(struct comparing *c, const struct th_room *room,
                                   const struct th_trial *base, struct th_choice_result *result)
{
    double gas_j[TH_RESPONSE_CASES];
    struct shift_search search = {.room = room,
                                  .climate = c->climate,
                                  .base = &c->hours,
                                  .target_c = c->target_c,
                                  .block = &c->block,
                                  .err = c->err};
    enum th_code code =
        th_trial_run(&result->trial, room, c->climate, c->first_year, c->last_year, c->err);
    if (code == TH_OK)
        code = range_of_gas(c, room, &result->trial, gas_j);
    if (code == TH_OK)
        code = same_mean(&search, c->first_year, c->last_year, &result->same_mean);
    if (code == TH_OK)
        fill_savings(c, base, gas_j, result);
    return code;
}

enum th_code th_compare_run(const struct th_room *rooms, int n, const struct th_climate *climate,
                            int first_year, int last_year, struct th_choice_result *results,
                            struct th_error *err)
{
    /* A typical year repeats, and a turn may run a little before or after its season. */
    const long margin = climate->typical ? 8760 : 0;
    struct comparing c = {
        .climate = climate,
        .first_year = first_year,
        .last_year = last_year,
        .hours = {.first_hour = climate->first_hour - margin, .n = (long)climate->n + 3 * margin},
        .err = err};
    c.hours.wanted = calloc((size_t)c.hours.n, 1);
    if (!c.hours.wanted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = look_at_base(&c, &rooms[0], &results[0]);
    for (int i = 1; i < n && code == TH_OK; i++)
        code = look_at_choice(&c, &rooms[i], &results[0].trial, &results[i]);
    free(c.hours.wanted);
    return code;
}
