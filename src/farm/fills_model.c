/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gallons from fill to fill for any farm, and how likely the tanks make it. */
#include "fills_parts.h"

#include "turnheat/calendar.h"
#include "turnheat/outlook.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of a stretch's mean gallons: what is added before a logarithm is taken. */
#define FLOOR_SHARE 0.02
/* Used over what the files say; beyond that turns and surfaces are taken no larger or smaller. */
#define SCALE_MOST 5.0

static enum th_code open_room(struct th_fills_room *own, const struct th_fills_model *model,
                              const struct th_room *room, struct th_error *err)
{
    own->gal = calloc(model->n, sizeof *own->gal);
    own->turn_gal = calloc(model->n * (size_t)room->n_turns + 1, sizeof *own->turn_gal);
    own->surface = calloc(model->n, sizeof *own->surface);
    return own->gal && own->turn_gal && own->surface ? TH_OK
                                                     : th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* The room as its file has it, turn by turn. */
static enum th_code run_default(struct th_fills_model *model, int b, struct th_error *err)
{
    const struct th_case *one = &model->in->cases[b];
    struct th_fills_room *own = &model->rooms[b];
    struct th_fill_days days = th_fill_days_of(model->in);
    days.by_turn = true;
    const size_t n_turns = (size_t)one->room->n_turns;
    double *gal = calloc(n_turns * days.n + 1, sizeof *gal);
    double sum = 0.0;
    if (!gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code =
        th_fill_burn(model->in, one, one->climate, one->room, 1, &days, gal, NULL, err);
    for (size_t t = 0; t < n_turns && code == TH_OK; t++) {
        double *const turn_gal = own->turn_gal + t * model->n;
        th_fill_stretches(model->in, gal + t * days.n, turn_gal);
        for (size_t k = 0; k < model->n; k++) {
            own->gal[k] += turn_gal[k];
            sum += turn_gal[k];
        }
    }
    own->floor_gal = FLOOR_SHARE * sum / (double)model->n;
    free(gal);
    return code;
}

/* What is run for the surfaces of one room. */
struct points {
    struct th_gas_surface_run run[TH_GAS_SURFACE_RUNS];
    struct th_room room[TH_GAS_SURFACE_RUNS];
    double *day_gal;     /* runs × days */
    double *stretch_gal; /* runs × stretches */
};

static enum th_code fit_surfaces(struct th_fills_model *model, int b, struct points *points,
                                 size_t n_days, struct th_error *err)
{
    struct th_fills_room *own = &model->rooms[b];
    enum th_code code = TH_OK;
    for (size_t i = 0; i < TH_GAS_SURFACE_RUNS; i++)
        th_fill_stretches(model->in, points->day_gal + i * n_days,
                          points->stretch_gal + i * model->n);
    for (size_t k = 0; k < model->n && code == TH_OK; k++) {
        for (size_t i = 0; i < TH_GAS_SURFACE_RUNS; i++)
            points->run[i].ln_ratio = log((points->stretch_gal[i * model->n + k] + own->floor_gal) /
                                          (own->gal[k] + own->floor_gal));
        code = th_gas_surface_fit(TH_GAS_SURFACE_RUNS, points->run, &own->surface[k], err);
    }
    return code;
}

static enum th_code run_points(struct th_fills_model *model, int b, struct points *points,
                               struct th_error *err)
{
    const struct th_case *one = &model->in->cases[b];
    const struct th_fill_days days = th_fill_days_of(model->in);
    const double any = 0.0;
    enum th_code code =
        th_gas_surface_points(one->room, TH_GAS_SURFACE_RUNS, 1, &any, points->run, err);
    for (int i = 0; i < TH_GAS_SURFACE_RUNS && code == TH_OK; i++) {
        points->room[i] = *one->room;
        th_unknowns_move(&points->room[i], points->run[i].z);
    }
    if (code == TH_OK)
        code = th_fill_burn(model->in, one, one->climate, points->room, TH_GAS_SURFACE_RUNS, &days,
                            points->day_gal, NULL, err);
    return code == TH_OK ? fit_surfaces(model, b, points, days.n, err) : code;
}

/* A room that burns nothing between the fills has no surface. */
static enum th_code lay_surfaces(struct th_fills_model *model, int b, struct th_error *err)
{
    const size_t n_days = th_fill_days_of(model->in).n;
    if (!(model->rooms[b].floor_gal > 0.0))
        return TH_OK;
    struct points *points = calloc(1, sizeof *points);
    if (!points)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    points->day_gal = calloc(TH_GAS_SURFACE_RUNS * n_days, sizeof *points->day_gal);
    points->stretch_gal = calloc(TH_GAS_SURFACE_RUNS * model->n, sizeof *points->stretch_gal);
    const enum th_code code = points->day_gal && points->stretch_gal
                                  ? run_points(model, b, points, err)
                                  : th_fail(err, TH_ERR_MEMORY, "out of memory");
    free(points->day_gal);
    free(points->stretch_gal);
    free(points);
    return code;
}

/* Of stretches k and l of one room: turns are off in both alike, surfaces as their runs were. */
static double covariance(const struct th_fills_room *own, int n_turns, size_t n, size_t k, size_t l)
{
    double turns = 0.0, runs = 0.0;
    for (int t = 0; t < n_turns; t++)
        turns += own->turn_gal[(size_t)t * n + k] * own->turn_gal[(size_t)t * n + l];
    for (size_t i = 0; i < TH_GAS_SURFACE_RUNS; i++)
        runs += own->surface[k].residual[i] * own->surface[l].residual[i] / TH_GAS_SURFACE_RUNS;
    return TH_TURN_SD * TH_TURN_SD * turns +
           (own->gal[k] + own->floor_gal) * (own->gal[l] + own->floor_gal) * runs;
}

static void add_variance(struct th_fills_model *model, int b)
{
    const int n_turns = model->in->cases[b].room->n_turns;
    for (size_t k = 0; k < model->n; k++)
        for (size_t l = 0; l < model->n; l++)
            model->variance[k * model->n + l] +=
                covariance(&model->rooms[b], n_turns, model->n, k, l);
}

static enum th_code run_room(struct th_fills_model *model, int b, struct th_error *err)
{
    enum th_code code = open_room(&model->rooms[b], model, model->in->cases[b].room, err);
    if (code != TH_OK)
        return code;
    code = run_default(model, b, err);
    if (code == TH_OK)
        code = lay_surfaces(model, b, err);
    if (code == TH_OK)
        add_variance(model, b);
    return code;
}

static void add_uses(struct th_fills_model *model)
{
    const struct th_fills_in *in = model->in;
    for (size_t k = 0; k < model->n; k++)
        for (long day = in->fills[k].day; day < in->fills[k + 1].day; day++)
            model->uses_gal[k] += th_fill_uses_gal(in, day);
}

static enum th_code check_fuel(const struct th_fills_in *in, struct th_error *err)
{
    for (int b = 0; b < in->n_cases; b++)
        if (in->cases[b].room->fuel.gas != TH_PROPANE)
            return th_fail(err, TH_ERR_INPUT,
                           "tanks are filled with propane, and room %s burns "
                           "natural gas",
                           in->cases[b].room->name);
    return TH_OK;
}

/* Fills are weighed on the weather of their own days. */
static enum th_code check_weather(const struct th_fills_in *in, struct th_error *err)
{
    const struct th_climate *climate = in->cases[0].climate;
    const struct th_date from = th_date_of(in->fills[0].day);
    const struct th_date to = th_date_of(in->fills[in->n_fills - 1].day);
    const long first = 24 * in->fills[0].day, end = 24 * in->fills[in->n_fills - 1].day;
    if (!climate->typical && first < climate->first_hour + (long)climate->n &&
        end > climate->first_hour)
        return TH_OK;
    return th_fail(err, TH_ERR_COVERAGE,
                   "the fills are of %04d-%02d-%02d to %04d-%02d-%02d, and the weather holds none "
                   "of those days; give the station's files of that winter with --weather",
                   from.year, from.month, from.day, to.year, to.month, to.day);
}

enum th_code th_fills_model_init(struct th_fills_model *model, const struct th_fills_in *in,
                                 struct th_error *err)
{
    *model = (struct th_fills_model){.in = in, .n = in->n_fills - 1};
    if (in->n_fills < TH_FILLS_LEAST)
        return th_fail(err, TH_ERR_INPUT, "fills found: %zu; at least %d are needed", in->n_fills,
                       TH_FILLS_LEAST);
    enum th_code code = check_fuel(in, err);
    if (code == TH_OK)
        code = check_weather(in, err);
    if (code != TH_OK)
        return code;
    model->uses_gal = calloc(model->n, sizeof *model->uses_gal);
    model->rooms = calloc((size_t)in->n_cases, sizeof *model->rooms);
    model->variance = calloc(model->n * model->n, sizeof *model->variance);
    if (!model->uses_gal || !model->rooms || !model->variance)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    add_uses(model);
    double floor_gal = 0.0;
    for (int b = 0; b < in->n_cases && code == TH_OK; b++) {
        code = run_room(model, b, err);
        floor_gal += model->rooms[b].floor_gal;
    }
    if (code == TH_OK && !(floor_gal > 0.0))
        code = th_fail(err, TH_ERR_MODEL, "the barns burn nothing between these fills");
    return code;
}

void th_fills_model_gal(const struct th_fills_model *model, const double *z, double *gal)
{
    memcpy(gal, model->uses_gal, model->n * sizeof *gal);
    for (int b = 0; b < model->in->n_cases; b++) {
        const struct th_fills_room *own = &model->rooms[b];
        double own_z[TH_UNKNOWNS], reach[TH_UNKNOWNS];
        th_outlook_barn_z(b, z, own_z);
        th_unknowns_reach(model->in->cases[b].room, own_z, reach);
        for (size_t k = 0; k < model->n && own->floor_gal > 0.0; k++)
            gal[k] += fmax((own->gal[k] + own->floor_gal) *
                                   exp(th_gas_surface_at(&own->surface[k], reach).level) -
                               own->floor_gal,
                           0.0);
    }
}

/* The tanks' gallons as the likelihood sees them. */
struct seen {
    const struct th_fills_model *model;
    const double *used_gal;
    gsl_matrix *lower; /* of the covariance of what is used */
};

static void rows(void *context, const double *z, double *row)
{
    const struct seen *seen = context;
    gsl_vector_view v = gsl_vector_view_array(row, seen->model->n);
    th_fills_model_gal(seen->model, z, row);
    for (size_t k = 0; k < seen->model->n; k++)
        row[k] = seen->used_gal[k] - row[k];
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, seen->lower, &v.vector);
}

/* How much more the barns used than their files say, squared. */
static double scale2(const struct th_fills_model *model, const double *used_gal)
{
    double used = 0.0, expected = 0.0;
    for (size_t k = 0; k < model->n; k++) {
        used += used_gal[k] - model->uses_gal[k];
        for (int b = 0; b < model->in->n_cases; b++)
            expected += model->rooms[b].gal[k];
    }
    const double scale = fmin(fmax(used / expected, 1.0 / SCALE_MOST), SCALE_MOST);
    return scale * scale;
}

static enum th_code find_lower(struct seen *seen, struct th_error *err)
{
    const size_t n = seen->model->n;
    const double gauge = TH_GAUGE_SD * seen->model->in->capacity_gal;
    const double scale = scale2(seen->model, seen->used_gal);
    for (size_t k = 0; k < n; k++)
        for (size_t l = 0; l < n; l++) {
            const double shared = k == l ? 2.0 : (k + 1 == l || l + 1 == k ? -1.0 : 0.0);
            gsl_matrix_set(seen->lower, k, l,
                           scale * seen->model->variance[k * n + l] + gauge * gauge * shared);
        }
    if (gsl_linalg_cholesky_decomp1(seen->lower))
        return th_fail(err, TH_ERR_NUMERIC, "the fills' errors could not be told apart");
    return TH_OK;
}

/* Of ln gallons in the last stretch, over the farms drawn; of a turn by itself with it. */
static double doubt_of(const struct th_fills_model *model, const struct th_draws *draws, int n_z,
                       double *gal)
{
    double sum = 0.0, squares = 0.0;
    for (size_t d = 0; d < draws->n; d++) {
        th_fills_model_gal(model, draws->z + d * (size_t)n_z, gal);
        const double ln = log(fmax(gal[model->n - 1], 1.0));
        sum += ln;
        squares += ln * ln;
    }
    const double mean = sum / (double)draws->n;
    return hypot(sqrt(fmax(squares / (double)draws->n - mean * mean, 0.0)), TH_TURN_SD);
}

/* Of one stretch exactly its distance from the mean expected, of n one expects n − 1 more. */
static enum th_code find_strain(const struct seen *seen, const struct th_evidence *evidence,
                                const struct th_draws *draws, struct th_fills_learnt *learnt,
                                struct th_error *err)
{
    double *row = calloc(seen->model->n, sizeof *row);
    double squares = th_belief_distance2(evidence->before, evidence->n_z, learnt->belief.z);
    if (!row)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    evidence->rows(evidence->context, learnt->belief.z, row);
    for (size_t k = 0; k < seen->model->n; k++)
        squares += row[k] * row[k];
    learnt->strain_sd = sqrt(fmax(squares - (double)(seen->model->n - 1), 0.0));
    learnt->doubt_sd = doubt_of(seen->model, draws, evidence->n_z, row);
    free(row);
    return TH_OK;
}

enum th_code th_fills_learn(const struct th_fills_model *model, const double *used_gal,
                            struct th_fills_learnt *learnt, struct th_error *err)
{
    static const struct th_belief before = {0};
    struct seen seen = {
        .model = model, .used_gal = used_gal, .lower = gsl_matrix_alloc(model->n, model->n)};
    const struct th_evidence evidence = {.before = &before,
                                         .n_z = th_outlook_deviates(model->in->n_cases),
                                         .n_rows = (int)model->n,
                                         .rows = rows,
                                         .context = &seen};
    struct th_draws draws = {.n = TH_OUTLOOK_DRAWS};
    draws.z = calloc(draws.n * (size_t)evidence.n_z, sizeof *draws.z);
    enum th_code code = seen.lower && draws.z ? find_lower(&seen, err)
                                              : th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK)
        code = th_learn_from(&evidence, &learnt->belief, &draws, err);
    learnt->effective_draws = draws.effective;
    if (code == TH_OK)
        code = find_strain(&seen, &evidence, &draws, learnt, err);
    gsl_matrix_free(seen.lower);
    free(draws.z);
    return code;
}

void th_fills_model_finish(struct th_fills_model *model)
{
    if (!model)
        return;
    for (int b = 0; model->rooms && b < model->in->n_cases; b++) {
        free(model->rooms[b].gal);
        free(model->rooms[b].turn_gal);
        free(model->rooms[b].surface);
    }
    free(model->rooms);
    free(model->uses_gal);
    free(model->variance);
    *model = (struct th_fills_model){0};
}
