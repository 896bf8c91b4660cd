/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/fills_fit.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <gsl/gsl_math.h>
#include <math.h>
#include <stdlib.h>

/* Earlier years that may go on from the last fill, at most. */
#define DONORS_MAX 40

/* Gas by day between two days, all rooms. */
struct days {
    long first_day;
    size_t n;
    double *gal;
};

static enum th_code days_init(struct days *d, long first_day, long end_day, struct th_error *err)
{
    *d = (struct days){.first_day = first_day, .n = (size_t)(end_day - first_day)};
    d->gal = calloc(d->n + 1, sizeof *d->gal);
    return d->gal ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* Of one room in one season. */
struct season_days {
    long first_day;
    size_t n;
    double *gal;
    double gal_j; /* all copies */
};

static void add_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct season_days *d = context;
    const long day = th_day_of_hour(hour_number) - d->first_day;
    (void)turn;
    (void)in;
    if (day >= 0 && (size_t)day < d->n)
        d->gal[day] += out->gas_w * TH_S_PER_H * d->gal_j;
}

static int season_of_day(long day)
{
    const struct th_date date = th_date_of(day);
    return th_season_of_month(date.year, date.month);
}

/* All of the turns that lies in the days must have been simulated. */
static enum th_code days_covered(const struct th_case *one, const struct th_climate *climate,
                                 const struct days *d, struct th_error *err)
{
    const int last_year = season_of_day(d->first_day + (long)d->n - 1);
    for (int year = season_of_day(d->first_day); year <= last_year; year++) {
        struct th_season season;
        th_season_parts(one->room, climate, year, &season);
        for (int p = 0; p < season.n_parts; p++) {
            const struct th_span_cover *cover = &season.parts[p].cover;
            const long first = th_day_of_hour(cover->first_hour);
            const long last = th_day_of_hour(cover->first_hour + cover->hours - 1);
            if (!cover->usable && last >= d->first_day && first < d->first_day + (long)d->n)
                return th_climate_require(climate, one->weather, cover->first_hour, cover->hours,
                                          err);
        }
    }
    return TH_OK;
}

/* All rooms over the seasons that the days touch, before they have run. */
struct burning {
    struct th_runs runs;
    int first_year, last_year;
    int n_seasons;               /* of one room, at most */
    int *requests;               /* by room */
    struct season_days *seasons; /* by room, then by season */
    double *gal;                 /* of all of them */
};

static enum th_code burning_init(struct burning *b, const struct th_fills_in *in,
                                 const struct days *d, struct th_error *err)
{
    const int year = th_date_of(d->first_day).year;
    *b = (struct burning){.first_year = year - 1, .last_year = year + 1 + (int)(d->n / 365)};
    th_runs_init(&b->runs, in->runs->jobs, &in->runs->onlooker);
    b->n_seasons = b->last_year - b->first_year + 1;
    const size_t n = (size_t)in->n_cases * (size_t)b->n_seasons;
    b->requests = calloc((size_t)in->n_cases, sizeof *b->requests);
    b->seasons = calloc(n, sizeof *b->seasons);
    b->gal = calloc(n * (d->n + 1), sizeof *b->gal);
    if (!b->requests || !b->seasons || !b->gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return TH_OK;
}

static void burning_finish(struct burning *b)
{
    th_runs_finish(&b->runs);
    free(b->requests);
    free(b->seasons);
    free(b->gal);
}

/* Asks for room `i` with the factors of `trial`. */
static void ask_room(struct burning *b, const struct th_case *one, const struct th_climate *climate,
                     const struct th_calibration *trial, const struct days *d, int i)
{
    struct season_days *const seasons = &b->seasons[(size_t)i * (size_t)b->n_seasons];
    const struct th_watch_seasons watch = {{.hour = add_hour, .context = seasons}, sizeof *seasons};
    struct th_room room = *one->room;
    room.calibration = *trial;
    for (int s = 0; s < b->n_seasons; s++)
        seasons[s] = (struct season_days){
            .first_day = d->first_day,
            .n = d->n,
            .gal = b->gal + (size_t)(i * b->n_seasons + s) * (d->n + 1),
            .gal_j = room.copies / room.fuel.hhv_j,
        };
    b->requests[i] =
        th_runs_add_watched(&b->runs, &room, climate, b->first_year, b->last_year, &watch);
}

/* What room `i` burned, added to the days; its seasons to `books`. */
static enum th_code read_room(const struct burning *b, const struct th_case *one,
                              const struct th_climate *climate, struct days *d, int i,
                              struct th_tally *books, struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_runs_winters(&b->runs, b->requests[i], &winters, err);
    if (code == TH_OK)
        code = days_covered(one, climate, d, err);
    for (int s = 0; s < winters.n && code == TH_OK; s++) {
        const double *const gal = b->seasons[i * b->n_seasons + s].gal;
        th_tally_add(books, &winters.seasons[s].total, 1.0);
        for (size_t day = 0; day < d->n; day++)
            d->gal[day] += gal[day];
    }
    th_winters_finish(&winters);
    return code;
}

/* Adds what all rooms burn with the factors of `trial`. */
static enum th_code burn_rooms(const struct th_fills_in *in, const struct th_climate *climate,
                               const struct th_calibration *trial, struct days *d,
                               struct th_tally *books, struct th_error *err)
{
    struct burning b;
    enum th_code code = burning_init(&b, in, d, err);
    th_tally_clear(books);
    for (int i = 0; i < in->n_cases && code == TH_OK; i++)
        ask_room(&b, &in->cases[i], climate, trial, d, i);
    if (code == TH_OK)
        code = th_runs_do(&b.runs, "the rooms between fills", err);
    for (int i = 0; i < in->n_cases && code == TH_OK; i++)
        code = read_room(&b, &in->cases[i], climate, d, i, books, err);
    burning_finish(&b);
    return code;
}

static double uses_of_day(const struct th_fills_in *in, long day)
{
    double gal = 0.0;
    for (int i = 0; i < in->n_uses; i++)
        gal += th_use_day_gal(&in->uses[i], day);
    return gal;
}

/* All rooms and other users. */
static enum th_code burn_days(const struct th_fills_in *in, const struct th_climate *climate,
                              const struct th_calibration *trial, struct days *d,
                              struct th_tally *books, struct th_error *err)
{
    for (size_t day = 0; day < d->n; day++)
        d->gal[day] = uses_of_day(in, d->first_day + (long)day);
    return burn_rooms(in, climate, trial, d, books, err);
}

/* What the fit asks the rooms for. */
struct prediction {
    const struct th_fills_in *in;
    struct days days;
    struct th_tally books; /* of the latest trial */
};

static enum th_code predict(void *context, const struct th_calibration *trial, double *gal,
                            struct th_error *err)
{
    struct prediction *p = context;
    const struct th_tank_fill *fills = p->in->fills;
    const enum th_code code =
        burn_days(p->in, p->in->cases[0].climate, trial, &p->days, &p->books, err);
    for (size_t k = 0; k + 1 < p->in->n_fills && code == TH_OK; k++) {
        gal[k] = 0.0;
        for (long day = fills[k].day; day < fills[k + 1].day; day++)
            gal[k] += p->days.gal[day - p->days.first_day];
    }
    return code;
}

/* Gallons between fills, before and after the fit. */
static enum th_code fill_intervals(const struct th_fit_problem *problem, struct prediction *p,
                                   struct th_fills_fit *found, struct th_error *err)
{
    const struct th_calibration before = {.ua_factor = problem->priors[TH_FIT_UA].mean,
                                          .air_factor = problem->priors[TH_FIT_AIR].mean,
                                          .set_shift_k = problem->priors[TH_FIT_SET].mean};
    const size_t n = problem->n_fills - 1;
    found->used_gal = calloc(3 * n, sizeof *found->used_gal);
    if (!found->used_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    found->n_intervals = n;
    found->before_gal = found->used_gal + n;
    found->after_gal = found->used_gal + 2 * n;
    th_fit_used_gal(problem, found->used_gal);
    enum th_code code = predict(p, &before, found->before_gal, err);
    if (code == TH_OK)
        code = predict(p, &found->fit.calibration, found->after_gal, err);
    found->books = p->books;
    return code;
}

static double sum_of(const struct days *d)
{
    double sum = 0.0;
    for (size_t day = 0; day < d->n; day++)
        sum += d->gal[day];
    return sum;
}

/* Gallons of `d`, the days from the last fill on, for each earlier year that can go on there. */
static enum th_code burn_on(const struct th_fills_in *in, const struct th_calibration *fitted,
                            struct days *d, double gal[DONORS_MAX], size_t *n, struct th_error *err)
{
    const long end_day = d->first_day + (long)d->n;
    enum th_code code = TH_OK;
    *n = 0;
    for (int back = 1; back <= DONORS_MAX && code == TH_OK; back++) {
        struct th_climate longer;
        struct th_tally books;
        code = th_climate_continue(&longer, in->cases[0].climate, 24 * d->first_day,
                                   24 * (end_day + 200), back, err);
        if (code == TH_OK)
            code = burn_days(in, &longer, fitted, d, &books, err);
        th_climate_finish(&longer);
        if (code == TH_OK)
            gal[(*n)++] = sum_of(d);
        else if (code == TH_ERR_COVERAGE) /* no such year */
            code = TH_OK;
    }
    return code;
}

static enum th_code left_to_burn(const struct th_fills_in *in, struct th_fills_fit *found,
                                 struct th_error *err)
{
    const struct th_tank_fill *last = &in->fills[in->n_fills - 1];
    const struct th_date d = th_date_of(last->day);
    double gal[DONORS_MAX];
    struct days days;
    size_t n = 0;
    found->in_tanks_gal = last->level_share * in->capacity_gal + last->delivered_gal;
    enum th_code code = days_init(
        &days, last->day, th_season_first_day(th_season_of_month(d.year, d.month) + 1), err);
    if (code == TH_OK)
        code = burn_on(in, &found->fit.calibration, &days, gal, &n, err);
    if (code == TH_OK && n > 0)
        code = th_spread_of(n, gal, &found->left_gal, err);
    free(days.gal);
    return code;
}

/* Of how much a season is more than what the fills span, this share may be wrong (judgement). */
#define BEYOND_ERROR 0.10
/* Fills that span less of a season's gas say too little of it (judgement). */
#define SPAN_LEAST 0.3

/* As the files have the rooms, without what an earlier fit found. */
static const struct th_calibration plain = {.ua_factor = 1.0, .air_factor = 1.0};

/* A season of all rooms; NaN where one is not counted. */
static enum th_code season_gal(const struct th_fills_in *in, int year, double *gal,
                               struct th_error *err)
{
    struct th_runs runs;
    int *const requests = calloc((size_t)in->n_cases, sizeof *requests);
    *gal = 0.0;
    if (!requests)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_runs_init(&runs, in->runs->jobs, &in->runs->onlooker);
    for (int i = 0; i < in->n_cases; i++) {
        struct th_room room = *in->cases[i].room;
        room.calibration = plain;
        requests[i] = th_runs_add(&runs, &room, in->cases[i].climate, year, year);
    }
    enum th_code code = th_runs_do(&runs, "the season of the fills", err);
    for (int i = 0; i < in->n_cases && code == TH_OK; i++) {
        const struct th_room *const room = in->cases[i].room;
        struct th_winters winters;
        code = th_runs_winters(&runs, requests[i], &winters, err);
        *gal += winters.n_counted > 0
                    ? room->copies * th_winters_mean_gas_j(&winters) / room->fuel.hhv_j
                    : NAN;
        th_winters_finish(&winters);
    }
    th_runs_finish(&runs);
    free(requests);
    return code;
}

/* What the rooms burn over the fills, and what other users took. */
static enum th_code span_gal(const struct th_fills_in *in, struct days *d, double *barns_gal,
                             double *uses_gal, struct th_error *err)
{
    struct th_tally books;
    *uses_gal = 0.0;
    for (size_t day = 0; day < d->n; day++) {
        d->gal[day] = 0.0;
        *uses_gal += uses_of_day(in, d->first_day + (long)day);
    }
    const enum th_code code = burn_rooms(in, in->cases[0].climate, &plain, d, &books, err);
    *barns_gal = sum_of(d);
    return code;
}

static void set_record(const struct th_fills_in *in, struct th_fills_fit *found, double season,
                       double barns_gal, double uses_gal)
{
    double used_gal = 0.0;
    for (size_t k = 0; k < found->n_intervals; k++)
        used_gal += found->used_gal[k];
    const double share = barns_gal / season;
    if (!(share >= SPAN_LEAST) || !(used_gal > uses_gal))
        return;
    const double gauge = M_SQRT2 * TH_GAUGE_SD * in->capacity_gal / (used_gal - uses_gal);
    found->record.gal = (used_gal - uses_gal) / share;
    found->record.error = hypot(gauge, BEYOND_ERROR * fmax(1.0 - share, 0.0));
    found->has_record = true;
}

/* The fills as one season's record: what the barns took, carried on to the whole season. */
static enum th_code make_record(const struct th_fills_in *in, struct days *d,
                                struct th_fills_fit *found, struct th_error *err)
{
    const struct th_date middle = th_date_of(d->first_day + (long)d->n / 2);
    double season = NAN, barns_gal = 0.0, uses_gal = 0.0;
    found->record.year = th_season_of_month(middle.year, middle.month);
    if (in->cases[0].climate->typical)
        return TH_OK;
    enum th_code code = season_gal(in, found->record.year, &season, err);
    if (code == TH_OK)
        code = span_gal(in, d, &barns_gal, &uses_gal, err);
    if (code == TH_OK)
        set_record(in, found, season, barns_gal, uses_gal);
    return code;
}

static void choose_params(struct th_fit_problem *problem, const struct th_fills_in *in)
{
    problem->n_params = in->n_params;
    for (int i = 0; i < in->n_params; i++)
        problem->params[i] = in->params[i];
    if (in->n_params > 0)
        return;
    problem->n_params = in->n_fills >= TH_FIT_FILLS_TWO ? 2 : 1;
    problem->params[0] = TH_FIT_AIR;
    problem->params[1] = TH_FIT_UA;
}

enum th_code th_fills_fit(const struct th_fills_in *in, struct th_fills_fit *found,
                          struct th_error *err)
{
    struct th_fit_problem problem;
    struct prediction p = {.in = in};
    *found = (struct th_fills_fit){0};
    if (in->n_fills < TH_FIT_FILLS_ONE)
        return th_fail(err, TH_ERR_INPUT,
                       "fills found: %zu; at least %d are needed to fit one number", in->n_fills,
                       TH_FIT_FILLS_ONE);
    enum th_code code = days_init(&p.days, in->fills[0].day, in->fills[in->n_fills - 1].day, err);
    if (code != TH_OK)
        return code;
    th_fit_defaults(&problem);
    choose_params(&problem, in);
    problem.n_fills = in->n_fills;
    problem.fills = in->fills;
    problem.capacity_gal = in->capacity_gal;
    problem.predict = predict;
    problem.context = &p;
    code = th_fit_run(&problem, &found->fit, err);
    if (code == TH_OK)
        code = fill_intervals(&problem, &p, found, err);
    if (code == TH_OK)
        code = make_record(in, &p.days, found, err);
    free(p.days.gal);
    return code == TH_OK ? left_to_burn(in, found, err) : code;
}

void th_fills_fit_finish(struct th_fills_fit *found)
{
    if (!found)
        return;
    free(found->used_gal);
    *found = (struct th_fills_fit){0};
}
