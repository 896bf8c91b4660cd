/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/outlook.h"

#include "quantile.h"
#include "turnheat/normals.h"
#include "turnheat/variant.h"
#include "workers.h"

#include <gsl/gsl_qrng.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Deviates that all barns share come first in enum th_unknown. */
#define SHARED ((int)TH_UNKNOWN_UA)
#define OWN ((int)TH_UNKNOWNS - SHARED)
/* GSL's Sobol sequence has no more coordinates; barns beyond them are drawn at random. */
#define SOBOL_MAX 40
#define SEED 1

int th_outlook_place(int barn, enum th_unknown unknown)
{
    const int u = (int)unknown;
    return th_unknown_scope(unknown) == TH_SCOPE_BARN ? SHARED + barn * OWN + (u - SHARED) : u;
}

int th_outlook_deviates(int n)
{
    return SHARED + n * OWN;
}

void th_outlook_barn_z(int barn, const double *farm, double z[TH_UNKNOWNS])
{
    for (int u = 0; u < TH_UNKNOWNS; u++)
        z[u] = farm[th_outlook_place(barn, (enum th_unknown)u)];
}

static void deviates_of(const struct th_outlook *outlook, int barn, const double *farm,
                        double reach[TH_UNKNOWNS])
{
    double z[TH_UNKNOWNS];
    th_outlook_barn_z(barn, farm, z);
    th_unknowns_reach(outlook->barns[barn].room, z, reach);
}

/* Keeps the years counted for this barn too. */
static enum th_code keep_counted(struct th_outlook *outlook, const struct th_winters *winters,
                                 struct th_error *err)
{
    if (!outlook->years) {
        outlook->years = calloc((size_t)winters->n + 1, sizeof *outlook->years);
        if (!outlook->years)
            return th_fail(err, TH_ERR_MEMORY, "out of memory");
        for (int i = 0; i < winters->n; i++)
            outlook->years[outlook->n_winters++] = winters->seasons[i].year;
    }
    size_t kept = 0;
    for (size_t w = 0; w < outlook->n_winters; w++)
        for (int i = 0; i < winters->n; i++)
            if (winters->seasons[i].year == outlook->years[w] && winters->seasons[i].counted) {
                outlook->years[kept++] = outlook->years[w];
                break;
            }
    outlook->n_winters = kept;
    return TH_OK;
}

/* Gallons of one room in a season; what burns nothing has no logarithm. */
static enum th_code ln_gal_of(const struct th_room *room, double gas_j, double *ln_gal,
                              struct th_error *err)
{
    if (!(gas_j > 0.0))
        return th_fail(err, TH_ERR_MODEL, "room %s burns nothing in some season", room->name);
    *ln_gal = log(gas_j / room->fuel.hhv_j);
    return TH_OK;
}

static enum th_code take_defaults(struct th_outlook_barn *barn, const struct th_outlook *outlook,
                                  const struct th_winters *winters, struct th_error *err)
{
    const size_t n = outlook->n_winters;
    enum th_code code = TH_OK;
    barn->ln_y0 = calloc(n + 1, sizeof *barn->ln_y0);
    barn->l = calloc(n + 1, sizeof *barn->l);
    if (!barn->ln_y0 || !barn->l)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t w = 0; w < n; w++)
        for (int i = 0; i < winters->n && code == TH_OK; i++)
            if (winters->seasons[i].year == outlook->years[w])
                code = ln_gal_of(barn->room, th_tally_gas_j(&winters->seasons[i].total),
                                 &barn->ln_y0[w], err);
    const double mean = gsl_stats_mean(barn->ln_y0, 1, n);
    for (size_t w = 0; w < n; w++)
        barn->l[w] = barn->ln_y0[w] - mean;
    return code;
}

/* The barns as they are: which winters count for all, and what they burn in them. */
static enum th_code run_defaults(struct th_outlook *outlook, struct th_runs *runs,
                                 const struct th_case *cases, struct th_winters *winters,
                                 struct th_error *err)
{
    enum th_code code = TH_OK;
    int *requests = calloc((size_t)outlook->n_barns, sizeof *requests);
    if (!requests)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < outlook->n_barns; b++) {
        requests[b] = th_runs_add(runs, cases[b].room, cases[b].climate, cases[b].first_year,
                                  cases[b].last_year);
        th_runs_lead(runs, requests[b]);
    }
    code = th_runs_do(runs, "the winters", err);
    for (int b = 0; b < outlook->n_barns && code == TH_OK; b++) {
        code = th_runs_winters(runs, requests[b], &winters[b], err);
        if (code == TH_OK)
            code = keep_counted(outlook, &winters[b], err);
    }
    free(requests);
    if (code == TH_OK && outlook->n_winters == 0)
        code = th_fail(err, TH_ERR_COVERAGE, "no season is covered for all barns");
    outlook->generated = code == TH_OK && outlook->years[0] >= TH_NORMAL_FIRST_YEAR;
    for (int b = 0; b < outlook->n_barns && code == TH_OK; b++)
        code = take_defaults(&outlook->barns[b], outlook, &winters[b], err);
    return code;
}

/* A barn's runs with its numbers moved, and as it is; all are run roughly. */
struct moved {
    int n;
    struct th_gas_surface_run points[TH_GAS_SURFACE_RUNS];
    int requests[TH_GAS_SURFACE_RUNS], as_is[TH_GAS_SURFACE_RUNS];
    int colder; /* the request for colder weather, -1 without */
    int as_is_there;
    enum th_code code; /* of the fit */
    struct th_error err;
};

static int ask_roughly(struct th_runs *runs, const struct th_case *one, const struct th_room *room,
                       int year)
{
    struct th_room rough = *room;
    th_room_roughly(&rough);
    return th_runs_add(runs, &rough, one->climate, year, year);
}

static enum th_code list_moved(const struct th_outlook *outlook, int b, struct th_runs *runs,
                               const struct th_case *one, struct moved *moved, struct th_error *err)
{
    const struct th_outlook_barn *barn = &outlook->barns[b];
    const enum th_code code = th_gas_surface_points(one->room, (size_t)moved->n, outlook->n_winters,
                                                    barn->ln_y0, moved->points, err);
    for (int i = 0; i < moved->n && code == TH_OK; i++) {
        struct th_room room = *one->room;
        const int year = outlook->years[moved->points[i].winter];
        th_unknowns_move(&room, moved->points[i].z);
        moved->requests[i] = ask_roughly(runs, one, &room, year);
        moved->as_is[i] = ask_roughly(runs, one, one->room, year);
    }
    moved->colder = -1;
    if (code == TH_OK && outlook->generated) {
        /* Colder weather is run as a room that is kept warmer by as much. */
        struct th_room room = *one->room;
        const int year = outlook->years[outlook->n_winters / 2];
        room.calibration.set_shift_k += TH_PLACE_ERROR_K;
        moved->colder = ask_roughly(runs, one, &room, year);
        moved->as_is_there = ask_roughly(runs, one, one->room, year);
    }
    return code;
}

static enum th_code moved_ln(const struct th_room *room, const struct th_runs *runs, int request,
                             int as_is, double *ln_ratio, struct th_error *err)
{
    double gas_j = 0.0, ln_gal = 0.0, ln_now = 0.0;
    enum th_code code = th_runs_gas(runs, request, &gas_j, err);
    if (code == TH_OK)
        code = ln_gal_of(room, gas_j, &ln_gal, err);
    if (code == TH_OK)
        code = th_runs_gas(runs, as_is, &gas_j, err);
    if (code == TH_OK)
        code = ln_gal_of(room, gas_j, &ln_now, err);
    *ln_ratio = ln_gal - ln_now;
    return code;
}

static enum th_code take_moved(struct th_outlook_barn *barn, const struct th_room *room,
                               const struct th_runs *runs, struct moved *moved,
                               struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < moved->n && code == TH_OK; i++)
        code = moved_ln(room, runs, moved->requests[i], moved->as_is[i], &moved->points[i].ln_ratio,
                        err);
    if (code == TH_OK && moved->colder >= 0)
        code = moved_ln(room, runs, moved->colder, moved->as_is_there, &barn->place, err);
    if (code == TH_OK)
        code = th_gas_surface_fit((size_t)moved->n, moved->points, &barn->surface, err);
    return code;
}

/* Surfaces to fit, and what came of each. */
struct fits {
    struct th_outlook *outlook;
    const struct th_runs *runs;
    const struct th_case *cases;
    struct moved *moved;
};

static void fit_barn(void *context, size_t b)
{
    const struct fits *const fits = context;
    struct moved *const moved = &fits->moved[b];
    moved->code =
        take_moved(&fits->outlook->barns[b], fits->cases[b].room, fits->runs, moved, &moved->err);
}

static enum th_code fit_surfaces(struct fits *fits, int jobs, struct th_error *err)
{
    enum th_code code = TH_OK;
    th_workers_each(jobs, (size_t)fits->outlook->n_barns, fit_barn, fits);
    for (int b = 0; b < fits->outlook->n_barns && code == TH_OK; b++) {
        code = fits->moved[b].code;
        if (code != TH_OK && err)
            *err = fits->moved[b].err;
    }
    return code;
}

static enum th_code run_surfaces(struct th_outlook *outlook, struct th_runs *runs,
                                 const struct th_case *cases, int n_runs, struct th_error *err)
{
    enum th_code code = TH_OK;
    if (outlook->n_barns < 1)
        return TH_OK;
    struct moved *const moved = calloc((size_t)outlook->n_barns, sizeof *moved);
    if (!moved)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < outlook->n_barns && code == TH_OK; b++) {
        moved[b].n = n_runs;
        code = list_moved(outlook, b, runs, &cases[b], &moved[b], err);
    }
    if (code == TH_OK)
        code = th_runs_do(runs, "what is not known of the barns", err);
    if (code == TH_OK)
        code = fit_surfaces(&(struct fits){outlook, runs, cases, moved}, runs->jobs, err);
    free(moved);
    return code;
}

/* The rooms, and what is believed of them. */
static enum th_code take_rooms(struct th_outlook *outlook, const struct th_case *cases,
                               struct th_error *err)
{
    const struct th_room **const rooms =
        calloc((size_t)outlook->n_barns,
               sizeof(const struct th_room *)); /* NOLINT(bugprone-sizeof-expression) */
    if (!rooms)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < outlook->n_barns; b++)
        outlook->barns[b].room = rooms[b] = cases[b].room;
    const enum th_code code = th_belief_of_rooms(rooms, outlook->n_barns, &outlook->belief, err);
    free(rooms);
    return code;
}

static enum th_code begin(struct th_outlook *outlook, struct th_runs *runs,
                          const struct th_case *cases, int n, int n_runs, struct th_error *err)
{
    *outlook = (struct th_outlook){.n_barns = n, .n_z = th_outlook_deviates(n)};
    if (n < 1)
        return th_fail(err, TH_ERR_RANGE, "a distribution needs a barn");
    outlook->barns = calloc((size_t)n, sizeof *outlook->barns);
    struct th_winters *const winters = calloc((size_t)n, sizeof *winters);
    if (!outlook->barns || !winters) {
        free(winters);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    enum th_code code = take_rooms(outlook, cases, err);
    if (code == TH_OK)
        code = run_defaults(outlook, runs, cases, winters, err);
    if (code == TH_OK)
        code = run_surfaces(outlook, runs, cases, n_runs, err);
    for (int b = 0; b < n; b++)
        th_winters_finish(&winters[b]);
    free(winters);
    return code;
}

enum th_code th_outlook_init(struct th_outlook *outlook, struct th_runs *runs,
                             const struct th_case *cases, int n, struct th_error *err)
{
    return begin(outlook, runs, cases, n, TH_GAS_SURFACE_RUNS, err);
}

enum th_code th_outlook_init_few(struct th_outlook *outlook, struct th_runs *runs,
                                 const struct th_case *cases, int n, struct th_error *err)
{
    return begin(outlook, runs, cases, n, TH_OUTLOOK_FEW_RUNS, err);
}

static enum th_code make_room(struct th_outlook *outlook, struct th_error *err)
{
    const size_t n = TH_OUTLOOK_DRAWS;
    if (!outlook->z)
        outlook->z = calloc(n * (size_t)outlook->n_z, sizeof *outlook->z);
    if (!outlook->place)
        outlook->place = calloc(n, sizeof *outlook->place);
    if (!outlook->gal)
        outlook->gal = calloc(n * outlook->n_winters, sizeof *outlook->gal);
    if (!outlook->z || !outlook->place || !outlook->gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    outlook->n_draws = n;
    return TH_OK;
}

enum th_code th_outlook_draw(struct th_outlook *outlook, struct th_error *err)
{
    const int n_sobol = outlook->n_z < SOBOL_MAX ? outlook->n_z : SOBOL_MAX;
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)n_sobol);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    enum th_code code = make_room(outlook, err);
    if (code == TH_OK && (!sobol || !rng))
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t d = 0; d < outlook->n_draws && code == TH_OK; d++) {
        double p[SOBOL_MAX], u[TH_LEARN_Z_MAX];
        double *z = outlook->z + d * (size_t)outlook->n_z;
        gsl_qrng_get(sobol, p);
        for (int i = 0; i < outlook->n_z; i++)
            z[i] = th_unknown_deviate(i < n_sobol ? p[i] : gsl_rng_uniform(rng));
        if (outlook->belief.n_z > 0) {
            memcpy(u, z, (size_t)outlook->n_z * sizeof *u);
            th_belief_at(&outlook->belief, outlook->n_z, u, z);
        }
    }
    gsl_qrng_free(sobol);
    gsl_rng_free(rng);
    return code == TH_OK ? th_outlook_burn(outlook, err) : code;
}

static void add_barn(struct th_outlook *outlook, int index, gsl_rng *rng)
{
    const struct th_outlook_barn *barn = &outlook->barns[index];
    const double turn_sd = TH_TURN_SD / sqrt((double)barn->room->n_turns);
    for (size_t d = 0; d < outlook->n_draws; d++) {
        double reach[TH_UNKNOWNS];
        deviates_of(outlook, index, outlook->z + d * (size_t)outlook->n_z, reach);
        const struct th_gas_surface_line line = th_gas_surface_at(&barn->surface, reach);
        for (size_t w = 0; w < outlook->n_winters; w++) {
            const size_t run = gsl_rng_uniform_int(rng, barn->surface.n_runs);
            const double chance =
                barn->surface.residual[run] + gsl_ran_gaussian_ziggurat(rng, turn_sd);
            outlook->gal[d * outlook->n_winters + w] +=
                barn->room->copies * exp(barn->ln_y0[w] + line.level + line.slope * barn->l[w] +
                                         barn->place * outlook->place[d] + chance);
        }
    }
}

enum th_code th_outlook_burn(struct th_outlook *outlook, struct th_error *err)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (!rng)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    gsl_rng_set(rng, SEED);
    for (size_t d = 0; d < outlook->n_draws; d++)
        outlook->place[d] = gsl_ran_ugaussian(rng);
    memset(outlook->gal, 0, outlook->n_draws * outlook->n_winters * sizeof *outlook->gal);
    for (int b = 0; b < outlook->n_barns; b++)
        add_barn(outlook, b, rng);
    gsl_rng_free(rng);
    return TH_OK;
}

double th_outlook_ln_gal(const struct th_outlook *outlook, int barn, size_t winter, const double *z)
{
    const struct th_outlook_barn *one = &outlook->barns[barn];
    double reach[TH_UNKNOWNS];
    deviates_of(outlook, barn, z, reach);
    const struct th_gas_surface_line line = th_gas_surface_at(&one->surface, reach);
    return one->ln_y0[winter] + line.level + line.slope * one->l[winter];
}

void th_outlook_farm(const struct th_outlook *outlook, int barn, size_t draw, double *ln_gal)
{
    const struct th_outlook_barn *one = &outlook->barns[barn];
    double reach[TH_UNKNOWNS];
    deviates_of(outlook, barn, outlook->z + draw * (size_t)outlook->n_z, reach);
    const struct th_gas_surface_line line = th_gas_surface_at(&one->surface, reach);
    for (size_t w = 0; w < outlook->n_winters; w++)
        ln_gal[w] =
            one->ln_y0[w] + line.level + line.slope * one->l[w] + one->place * outlook->place[draw];
}

double th_outlook_default_gal(const struct th_outlook *outlook, size_t winter)
{
    double gal = 0.0;
    for (int b = 0; b < outlook->n_barns; b++)
        gal += outlook->barns[b].room->copies * exp(outlook->barns[b].ln_y0[winter]);
    return gal;
}

enum th_range_kind th_range_kind_of(const struct th_outlook *outlook, size_t n_winters)
{
    if (outlook->generated)
        return TH_RANGE_GENERATED_10_90;
    return n_winters >= TH_OUTLOOK_WINTERS_ENOUGH ? TH_RANGE_P10_P90 : TH_RANGE_FEW_WINTERS_10_90;
}

enum th_code th_outlook_range(const struct th_outlook *outlook, struct th_range *range,
                              struct th_error *err)
{
    const size_t n = outlook->n_draws * outlook->n_winters;
    if (n == 0)
        return th_fail(err, TH_ERR_INPUT, "nothing was drawn yet");
    double *const burned = malloc(n * sizeof *burned);
    if (!burned)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    memcpy(burned, outlook->gal, n * sizeof *burned);
    *range = (struct th_range){.kind = th_range_kind_of(outlook, outlook->n_winters),
                               .low = th_quantile(burned, n, 0.1),
                               .middle = th_quantile(burned, n, 0.5),
                               .high = th_quantile(burned, n, 0.9),
                               .mean = th_mean(outlook->gal, n),
                               .alone_lowest = HUGE_VAL};
    for (size_t w = 0; w < outlook->n_winters; w++) {
        const double gal = th_outlook_default_gal(outlook, w);
        range->alone_lowest = fmin(range->alone_lowest, gal);
        range->alone_highest = fmax(range->alone_highest, gal);
    }
    free(burned);
    return TH_OK;
}

void th_outlook_finish(struct th_outlook *outlook)
{
    if (!outlook)
        return;
    for (int b = 0; outlook->barns && b < outlook->n_barns; b++) {
        free(outlook->barns[b].ln_y0);
        free(outlook->barns[b].l);
    }
    free(outlook->barns);
    free(outlook->years);
    free(outlook->z);
    free(outlook->place);
    free(outlook->gal);
    *outlook = (struct th_outlook){0};
}
