/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "turnheat/units.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>

/* The means agree within half of the 0.02 °F asked for. */
#define MEAN_TOLERANCE_K (0.01 * TH_K_PER_F)
#define SHIFT_LOWEST_K (-6.0 * TH_K_PER_F)
/* A shift moves the mean by about as much; the search first looks this near. */
#define SHIFT_NEAR_K (0.5 * TH_K_PER_F)
#define SHIFTS_KEPT 4
#define ITERATIONS_MAX 50

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

/* Mean gas of a season of the block goes to `gas_j`, the temperature to `base`. */
static enum th_code watch_run(struct base_hours *base, const struct th_room *room,
                              const struct th_climate *climate, const struct th_block *block,
                              double *gas_j, struct th_error *err)
{
    struct th_winters winters;
    const struct th_watch watch = {.hour = see_hour, .context = base};
    base->sum_c = base->hours = 0.0;
    const enum th_code code =
        th_winters_run(&winters, room, climate, block->first_year, block->last_year, &watch, err);
    *gas_j = code == TH_OK ? th_winters_mean_gas_j(&winters) : 0.0;
    th_winters_finish(&winters);
    return code;
}

/* What one shift of the offsets does. */
struct shifted {
    double shift_k, warmer_k, gas_j;
};

/* The search for a shift; the last few are kept, for the ends of an interval are asked for twice.
 */
struct shift_search {
    const struct th_room *room;
    const struct th_climate *climate;
    struct base_hours *base;
    double target_c;
    const struct th_block *block;
    int n_kept;
    struct shifted kept[SHIFTS_KEPT];
    enum th_code code;
    struct th_error *err;
};

static struct shifted at_shift(struct shift_search *s, double shift_k)
{
    for (int i = 0; i < s->n_kept && i < SHIFTS_KEPT; i++)
        if (s->kept[i].shift_k == shift_k)
            return s->kept[i];
    struct shifted *found = &s->kept[s->n_kept++ % SHIFTS_KEPT];
    struct th_room room = *s->room;
    th_room_shift_offsets(&room, shift_k);
    *found = (struct shifted){.shift_k = shift_k};
    if (s->code == TH_OK)
        s->code = watch_run(s->base, &room, s->climate, s->block, &found->gas_j, s->err);
    found->warmer_k = mean_c(s->base) - s->target_c;
    return *found;
}

static double warmer_k(double shift_k, void *context)
{
    return at_shift(context, shift_k).warmer_k;
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
    if (low_k >= high_k)
        return false;
    const double low = warmer_k(low_k, s), high = warmer_k(high_k, s);
    return low <= 0.0 && high >= 0.0 && low < high; /* equal where the base never fires */
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

/* Iterates until the means agree; each step costs a run of the block. */
static enum th_code find_shift(struct shift_search *s, gsl_root_fsolver *solver, double low_k,
                               double high_k, double *shift_k)
{
    gsl_function f = {.function = warmer_k, .params = s};
    int state = gsl_root_fsolver_set(solver, &f, low_k, high_k);
    for (int i = 0; i < ITERATIONS_MAX && state == GSL_SUCCESS && s->code == TH_OK; i++) {
        state = gsl_root_fsolver_iterate(solver);
        *shift_k = gsl_root_fsolver_root(solver);
        if (gsl_root_test_residual(warmer_k(*shift_k, s), MEAN_TOLERANCE_K) == GSL_SUCCESS)
            return s->code;
    }
    return s->code != TH_OK
               ? s->code
               : th_fail(s->err, TH_ERR_NUMERIC, "no shift of the offsets gives the same mean");
}

/* The shift is found on the winters of the block; the trial is over all. `gas_j_k` is what a K of
 * mean temperature costs around it. */
static enum th_code same_mean(struct shift_search *s, int first_year, int last_year,
                              struct th_same_mean *out, double *gas_j_k)
{
    double low_k, high_k;
    *out = (struct th_same_mean){.state = TH_SAME_MEAN_CANNOT};
    *gas_j_k = 0.0;
    if (!enclose(s, &low_k, &high_k) || s->code != TH_OK)
        return s->code;
    const struct shifted low = at_shift(s, low_k), high = at_shift(s, high_k);
    *gas_j_k = (high.gas_j - low.gas_j) / (high.warmer_k - low.warmer_k);
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return th_fail(s->err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code = find_shift(s, solver, low_k, high_k, &out->shift_k);
    gsl_root_fsolver_free(solver);
    if (code != TH_OK)
        return code;
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

const struct th_trial *th_judged(const struct th_choice_result *result)
{
    return result->same_mean.state == TH_SAME_MEAN_FOUND ? &result->same_mean.trial
                                                         : &result->trial;
}

/* What the comparison works with. The base is known in every response case: when it fires, how warm
 * it is then, and its gas. */
struct comparing {
    const struct th_climate *climate;
    int first_year, last_year;
    struct th_block block;
    struct base_hours hours[TH_RESPONSE_CASES];
    double target_c[TH_RESPONSE_CASES], gas_j[TH_RESPONSE_CASES];
    struct th_error *err;
};

static enum th_code look_at_base(struct comparing *c, const struct th_room *room,
                                 struct th_choice_result *result)
{
    c->block = th_trial_block(&result->trial);
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        struct base_hours *hours = &c->hours[r];
        struct th_room changed = *room;
        th_response_apply(&changed, (enum th_response_case)r);
        hours->recording = true;
        const enum th_code code =
            watch_run(hours, &changed, c->climate, &c->block, &c->gas_j[r], c->err);
        hours->recording = false;
        if (code != TH_OK)
            return code;
        c->target_c[r] = mean_c(hours);
        result->saved_j[r] = 0.0;
    }
    result->same_mean = (struct th_same_mean){.state = TH_SAME_MEAN_FOUND, .trial = result->trial};
    return TH_OK;
}

/* Gas of the choice in one response case. A K of shift moves the mean by about a K: run once at the
 * shift of the room as given, once at the shift then needed; the rest is taken off at `gas_j_k`. */
static enum th_code response_gas(struct comparing *c, const struct th_room *room,
                                 enum th_response_case response, double gas_j_k,
                                 const struct th_same_mean *as_given, double *gas_j)
{
    struct th_room changed = *room;
    struct shift_search at = {.room = &changed,
                              .climate = c->climate,
                              .base = &c->hours[response],
                              .target_c = c->target_c[response],
                              .block = &c->block,
                              .err = c->err};
    th_response_apply(&changed, response);
    struct shifted run = at_shift(&at, as_given->shift_k);
    if (as_given->state == TH_SAME_MEAN_FOUND)
        run = at_shift(&at, fmin(run.shift_k - run.warmer_k, highest_shift_k(&changed)));
    *gas_j = run.gas_j - gas_j_k * run.warmer_k;
    return at.code;
}

static enum th_code range_of_savings(struct comparing *c, const struct th_room *room,
                                     double gas_j_k, struct th_choice_result *result)
{
    for (int r = TH_AS_GIVEN + 1; r < TH_RESPONSE_CASES; r++) {
        double gas_j;
        const enum th_code code =
            response_gas(c, room, (enum th_response_case)r, gas_j_k, &result->same_mean, &gas_j);
        if (code != TH_OK)
            return code;
        result->saved_j[r] = c->block.scale * (c->gas_j[r] - gas_j);
    }
    return TH_OK;
}

static enum th_code look_at_choice(struct comparing *c, const struct th_room *room,
                                   const struct th_trial *base, struct th_choice_result *result)
{
    double gas_j_k;
    struct shift_search search = {.room = room,
                                  .climate = c->climate,
                                  .base = &c->hours[TH_AS_GIVEN],
                                  .target_c = c->target_c[TH_AS_GIVEN],
                                  .block = &c->block,
                                  .err = c->err};
    enum th_code code =
        th_trial_run(&result->trial, room, c->climate, c->first_year, c->last_year, c->err);
    if (code == TH_OK)
        code = same_mean(&search, c->first_year, c->last_year, &result->same_mean, &gas_j_k);
    if (code == TH_OK)
        code = range_of_savings(c, room, gas_j_k, result);
    if (code == TH_OK)
        result->saved_j[TH_AS_GIVEN] = th_trial_gas_j(base) - th_trial_gas_j(th_judged(result));
    return code;
}

enum th_code th_compare_run(const struct th_room *rooms, int n, const struct th_climate *climate,
                            int first_year, int last_year, struct th_choice_result *results,
                            struct th_error *err)
{
    /* A typical year repeats, and a turn may run a little before or after its season. */
    const long margin = climate->typical ? 8760 : 0;
    const long hours = (long)climate->n + 3 * margin;
    struct comparing c = {
        .climate = climate, .first_year = first_year, .last_year = last_year, .err = err};
    unsigned char *wanted = calloc((size_t)hours, TH_RESPONSE_CASES);
    if (!wanted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        c.hours[r] = (struct base_hours){
            .first_hour = climate->first_hour - margin, .n = hours, .wanted = wanted + r * hours};
    enum th_code code = look_at_base(&c, &rooms[0], &results[0]);
    for (int i = 1; i < n && code == TH_OK; i++)
        code = look_at_choice(&c, &rooms[i], &results[0].trial, &results[i]);
    free(wanted);
    return code;
}
