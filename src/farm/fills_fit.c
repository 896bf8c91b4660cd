/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills_parts.h"

#include "quantile.h"
#include "turnheat/calendar.h"
#include "turnheat/outlook.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Earlier years that may go on from the last fill, at most. */
#define DONORS_MAX 40
/* Farms for each of them. */
#define DOUBTS 41

/* The rooms of the most likely farm. */
static struct th_room *likely_rooms(const struct th_fills_in *in, const struct th_belief *belief)
{
    struct th_room *rooms = calloc((size_t)in->n_cases, sizeof *rooms);
    for (int b = 0; rooms && b < in->n_cases; b++) {
        double z[TH_UNKNOWNS];
        th_outlook_barn_z(b, belief->z, z);
        rooms[b] = *in->cases[b].room;
        th_unknowns_move(&rooms[b], z);
    }
    return rooms;
}

/* All rooms on each of the days, added to `gal`. */
static enum th_code burn_rooms(const struct th_fills_in *in, const struct th_room *rooms,
                               const struct th_climate *climate, const struct th_fill_days *days,
                               double *gal, struct th_tally *books, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int b = 0; b < in->n_cases && code == TH_OK; b++)
        code = th_fill_burn(in, &in->cases[b], climate, &rooms[b], 1, days, gal, books, err);
    return code;
}

/* Of the most likely farm by full runs, other users with it. */
static enum th_code burn_after(const struct th_fills_in *in, const struct th_fills_model *model,
                               const struct th_room *rooms, struct th_fills_fit *found,
                               struct th_error *err)
{
    const struct th_fill_days days = th_fill_days_of(in);
    double *gal = calloc(days.n, sizeof *gal);
    if (!gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code =
        burn_rooms(in, rooms, in->cases[0].climate, &days, gal, &found->books, err);
    th_fill_stretches(in, gal, found->after_gal);
    for (size_t k = 0; k < model->n; k++)
        found->after_gal[k] += model->uses_gal[k];
    free(gal);
    return code;
}

/* Gallons of `days` on the weather of `climate`. */
static enum th_code burn_days(const struct th_fills_in *in, const struct th_room *rooms,
                              const struct th_climate *climate, const struct th_fill_days *days,
                              double *total_gal, struct th_error *err)
{
    double *day_gal = calloc(days->n + 1, sizeof *day_gal);
    if (!day_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code = burn_rooms(in, rooms, climate, days, day_gal, NULL, err);
    *total_gal = 0.0;
    for (size_t day = 0; day < days->n; day++)
        *total_gal += day_gal[day] + th_fill_uses_gal(in, days->first_day + (long)day);
    free(day_gal);
    return code;
}

/* For each earlier year that can go on from `from_day`, where the weather of the days ends. */
static enum th_code burn_on(const struct th_fills_in *in, const struct th_room *rooms,
                            const struct th_fill_days *days, long from_day, double gal[DONORS_MAX],
                            size_t *n, struct th_error *err)
{
    const long end_day = days->first_day + (long)days->n;
    enum th_code code = TH_OK;
    for (int back = 1; back <= DONORS_MAX && code == TH_OK; back++) {
        struct th_climate longer;
        code = th_climate_continue(&longer, in->cases[0].climate, 24 * from_day,
                                   24 * (end_day + 200), back, err);
        if (code == TH_OK)
            code = burn_days(in, rooms, &longer, days, &gal[*n], err);
        th_climate_finish(&longer);
        *n += code == TH_OK;
        if (code == TH_ERR_COVERAGE) /* no such year */
            code = TH_OK;
    }
    return code;
}

/* The days themselves where the weather holds them all. */
static enum th_code burn_known(const struct th_fills_in *in, const struct th_room *rooms,
                               const struct th_fill_days *days, double *gal, bool *known,
                               struct th_error *err)
{
    const enum th_code code = burn_days(in, rooms, in->cases[0].climate, days, gal, err);
    *known = code == TH_OK;
    return code == TH_ERR_COVERAGE ? TH_OK : code;
}

static enum th_code find_left(const struct th_fills_in *in, const struct th_room *rooms,
                              const struct th_fill_days *days, struct th_fills_fit *found,
                              double gal[DONORS_MAX], size_t *n, struct th_error *err)
{
    const struct th_climate *climate = in->cases[0].climate;
    const long end_day = days->first_day + (long)days->n;
    const long weather_end_day = (climate->first_hour + (long)climate->n) / 24;
    enum th_code code = TH_OK;
    found->known_end_day = weather_end_day < end_day ? weather_end_day : end_day;
    if (found->known_end_day == end_day)
        code = burn_known(in, rooms, days, gal, &found->known, err);
    *n = found->known;
    if (found->known || code != TH_OK)
        return code;
    code = burn_on(in, rooms, days, found->known_end_day, gal, n, err);
    if (code != TH_OK || *n > 0 || found->known_end_day <= days->first_day)
        return code;
    found->known_end_day = days->first_day; /* it misses some of them */
    return burn_on(in, rooms, days, days->first_day, gal, n, err);
}

/* Eight cases of ten, over years and what is not known of the farm. */
static enum th_code widen(const double *gal, size_t n, struct th_fills_fit *found,
                          struct th_error *err)
{
    double *cases = calloc(n * DOUBTS, sizeof *cases);
    if (!cases)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < DOUBTS; k++)
            cases[i * DOUBTS + k] =
                gal[i] *
                exp(found->learnt.doubt_sd * gsl_cdf_ugaussian_Pinv(((double)k + 0.5) / DOUBTS));
    found->left_low_gal = th_quantile(cases, n * DOUBTS, 0.1);
    found->left_high_gal = th_quantile(cases, n * DOUBTS, 0.9);
    free(cases);
    return TH_OK;
}

static enum th_code left_to_burn(const struct th_fills_in *in, const struct th_room *rooms,
                                 struct th_fills_fit *found, struct th_error *err)
{
    const struct th_tank_fill *last = &in->fills[in->n_fills - 1];
    const struct th_date d = th_date_of(last->day);
    const long end = th_season_first_day(th_season_of_month(d.year, d.month) + 1);
    const struct th_fill_days days = {.first_day = last->day, .n = (size_t)(end - last->day)};
    double gal[DONORS_MAX] = {0};
    size_t n = 0;
    found->in_tanks_gal = last->level_share * in->capacity_gal + last->delivered_gal;
    enum th_code code = find_left(in, rooms, &days, found, gal, &n, err);
    if (code == TH_OK && n > 0)
        code = widen(gal, n, found, err);
    return code == TH_OK && n > 0 ? th_spread_of(n, gal, &found->left_gal, err) : code;
}

/* How far gallons computed are from those of the tanks. */
static enum th_code find_errors(struct th_fills_fit *f, struct th_error *err)
{
    const size_t n = f->n_stretches;
    const int p = n > 1;
    enum th_code code = th_fit_nmbe(n, f->used_gal, f->before_gal, p, &f->nmbe_before, err);
    if (code == TH_OK)
        code = th_fit_nmbe(n, f->used_gal, f->after_gal, p, &f->nmbe_after, err);
    if (code == TH_OK)
        code = th_fit_cv_rmse(n, f->used_gal, f->before_gal, p, &f->cv_rmse_before, err);
    if (code == TH_OK)
        code = th_fit_cv_rmse(n, f->used_gal, f->after_gal, p, &f->cv_rmse_after, err);
    return code;
}

/* FNV-1a of what the tanks say: fits of the same fills have the same name. */
static void name_fit(const struct th_fills_in *in, char name[TH_NAME_MAX])
{
    uint32_t hash = 2166136261u;
    for (size_t k = 0; k < in->n_fills; k++) {
        char text[96];
        snprintf(text, sizeof text, "%ld %.4f %.1f", in->fills[k].day, in->fills[k].level_share,
                 in->fills[k].delivered_gal);
        for (const char *at = text; *at; at++)
            hash = (hash ^ (unsigned char)*at) * 16777619u;
    }
    snprintf(name, TH_NAME_MAX, "%08x", (unsigned)hash);
}

static void date_of(long day, int date[3])
{
    const struct th_date d = th_date_of(day);
    date[0] = d.month;
    date[1] = d.day;
    date[2] = d.year;
}

static enum th_code find_fitted(const struct th_fills_in *in, struct th_fills_fit *found,
                                struct th_error *err)
{
    for (int b = 0; b < in->n_cases; b++) {
        struct th_fitted *f = &found->fitted[b];
        f->given = true;
        name_fit(in, f->fit);
        date_of(in->fills[0].day, f->first_fill);
        date_of(in->fills[in->n_fills - 1].day, f->last_fill);
    }
    return th_belief_to_rooms(&found->learnt.belief, in->n_cases, found->fitted, err);
}

static enum th_code make_room(const struct th_fills_in *in, struct th_fills_fit *found,
                              struct th_error *err)
{
    const size_t n = in->n_fills - 1;
    found->n_stretches = n;
    found->fitted = calloc((size_t)in->n_cases, sizeof *found->fitted);
    found->used_gal = calloc(3 * n, sizeof *found->used_gal);
    if (!found->used_gal || !found->fitted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    found->before_gal = found->used_gal + n;
    found->after_gal = found->used_gal + 2 * n;
    return TH_OK;
}

static enum th_code fit(const struct th_fills_in *in, const struct th_fills_model *model,
                        struct th_fills_fit *found, struct th_error *err)
{
    const double none[TH_LEARN_Z_MAX] = {0};
    enum th_code code = make_room(in, found, err);
    if (code != TH_OK)
        return code;
    th_fill_used_gal(in->n_fills, in->fills, in->capacity_gal, found->used_gal);
    th_fills_model_gal(model, none, found->before_gal);
    code = th_fills_learn(model, found->used_gal, &found->learnt, err);
    if (code == TH_OK)
        code = find_fitted(in, found, err);
    struct th_room *rooms = code == TH_OK ? likely_rooms(in, &found->learnt.belief) : NULL;
    if (code == TH_OK && !rooms)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK)
        code = burn_after(in, model, rooms, found, err);
    if (code == TH_OK)
        code = find_errors(found, err);
    if (code == TH_OK)
        code = left_to_burn(in, rooms, found, err);
    free(rooms);
    return code;
}

enum th_code th_fills_fit(const struct th_fills_in *in, struct th_fills_fit *found,
                          struct th_error *err)
{
    struct th_fills_model model;
    *found = (struct th_fills_fit){0};
    enum th_code code = th_fills_model_init(&model, in, err);
    if (code == TH_OK)
        code = fit(in, &model, found, err);
    th_fills_model_finish(&model);
    return code;
}

void th_fills_fit_finish(struct th_fills_fit *found)
{
    if (!found)
        return;
    free(found->used_gal);
    free(found->fitted);
    *found = (struct th_fills_fit){0};
}
