/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/price.h"

#include "turnheat/calendar.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define PATHS_MAX 1000000u
/* Prices kept: 16 MB. */
#define KEPT_MAX ((size_t)2 << 20)
/* One coordinate for each month's step and one for tight supply. */
#define COORDINATES (TH_PRICE_MONTHS + 1)

/* Years from today to the s-th month of the season (0 = July); 0 for months gone by. */
static double years_ahead(const struct th_price_model *model, int s)
{
    const bool before_season = model->today_month >= 4 && model->today_month < TH_SEASON_MONTH;
    const int today =
        before_season ? model->today_month - TH_SEASON_MONTH : (model->today_month + 5) % 12;
    return s > today ? (s - today) / 12.0 : 0.0;
}

static void walk(const struct th_price_model *model, const double *u, double *z)
{
    double level = 0.0, years = 0.0;
    for (int s = 0; s < TH_PRICE_MONTHS; s++) {
        const double next = years_ahead(model, s);
        level += sqrt(next - years) * gsl_cdf_ugaussian_Pinv(u[s]);
        years = next;
        z[(s + TH_SEASON_MONTH - 1) % 12] = years > 0.0 ? level / sqrt(years) : 0.0;
    }
}

static enum th_code draw_paths(struct th_price_paths *paths, unsigned long seed,
                               struct th_error *err)
{
    double shift[COORDINATES], point[COORDINATES];
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, COORDINATES);
    if (rng && sobol) {
        gsl_rng_set(rng, seed);
        for (int i = 0; i < COORDINATES; i++)
            shift[i] = gsl_rng_uniform_pos(rng);
        for (size_t p = 0; p < paths->n_paths; p++) {
            gsl_qrng_get(sobol, point);
            for (int i = 0; i < COORDINATES; i++) {
                const double moved = point[i] + shift[i];
                /* 0 and 1 have no normal score. */
                point[i] = fmin(fmax(moved - floor(moved), 1e-12), 1.0 - 1e-12);
            }
            walk(&paths->model, point, paths->z + p * TH_PRICE_MONTHS);
            paths->tight_u[p] = point[TH_PRICE_MONTHS];
        }
    }
    const bool drawn = rng && sobol;
    gsl_qrng_free(sobol);
    gsl_rng_free(rng);
    return drawn ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
}

/* Scores of equal gallons are equal: the score of their mean rank. */
static void rank_scores(size_t n, const double *gal, const size_t *order, double *score)
{
    for (size_t first = 0; first < n;) {
        size_t end = first + 1;
        while (end < n && gal[order[end]] == gal[order[first]])
            end++;
        const double rank = 0.5 * (double)(first + end);
        for (size_t i = first; i < end; i++)
            score[order[i]] = gsl_cdf_ugaussian_Pinv(rank / (double)n);
        first = end;
    }
}

static enum th_code score_winters(struct th_price_paths *paths, const double *season_gal,
                                  struct th_error *err)
{
    const size_t n = paths->n_winters;
    size_t *order = malloc(n * sizeof *order);
    if (!order || !paths->score) {
        free(order);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    gsl_sort_index(order, season_gal, 1, n);
    rank_scores(n, season_gal, order, paths->score);
    free(order);
    /* A few ranks spread less than a standard normal; brought to its spread they keep the prices'
       variance and their correlation with the gallons. */
    const double sd = sqrt(gsl_stats_tss_m(paths->score, 1, n, 0.0) / (double)n);
    for (size_t i = 0; i < n; i++)
        paths->score[i] = sd > 1e-9 ? paths->score[i] / sd : 0.0;
    return TH_OK;
}

enum th_code th_price_paths_init(struct th_price_paths *paths, const struct th_price_model *model,
                                 size_t n_paths, unsigned long seed, size_t n_winters,
                                 const double *season_gal, struct th_error *err)
{
    *paths = (struct th_price_paths){.model = *model, .n_paths = n_paths, .n_winters = n_winters};
    enum th_code code = th_price_check(model, err);
    if (code)
        return code;
    if (n_paths < 1 || n_paths > PATHS_MAX || n_winters < 1)
        return th_fail(err, TH_ERR_RANGE, "a plan needs 1 to %u price paths and a winter",
                       PATHS_MAX);
    for (size_t i = 0; i < n_winters; i++)
        if (!isfinite(season_gal[i]))
            return th_fail(err, TH_ERR_RANGE, "the gallons of winter %zu are not a number", i + 1);
    paths->z = malloc(n_paths * TH_PRICE_MONTHS * sizeof *paths->z);
    paths->tight_u = malloc(n_paths * sizeof *paths->tight_u);
    paths->score = malloc(n_winters * sizeof *paths->score);
    if (!paths->z || !paths->tight_u || !paths->score)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (!code)
        code = draw_paths(paths, seed, err);
    if (!code)
        code = score_winters(paths, season_gal, err);
    if (code)
        th_price_paths_finish(paths);
    return code;
}

/* Posted prices of a path in a winter by calendar month, without tight supply. */
static void post(const struct th_price_paths *paths, size_t path, size_t winter,
                 double posted_usd_gal[TH_PRICE_MONTHS])
{
    const struct th_price_model *model = &paths->model;
    const double *z0 = paths->z + path * TH_PRICE_MONTHS;
    const double today_usd = (model->posted_usd_gal - model->margin_usd_gal) /
                             model->month_index[model->today_month - 1];
    const double own = sqrt(1.0 - model->rho * model->rho);
    for (int s = 0; s < TH_PRICE_MONTHS; s++) {
        const int month = (s + TH_SEASON_MONTH - 1) % 12;
        const double sigma = model->sigma_year * sqrt(years_ahead(model, s));
        const double z = model->rho * paths->score[winter] + own * z0[month];
        const double wholesale_usd =
            today_usd * model->month_index[month] * exp(sigma * z - 0.5 * sigma * sigma);
        posted_usd_gal[month] = model->margin_usd_gal + wholesale_usd;
    }
}

static size_t kept_place(const struct th_price_paths *paths, size_t path, size_t winter)
{
    return (winter * paths->n_paths + path) * TH_PRICE_MONTHS;
}

void th_price_paths_keep(struct th_price_paths *paths)
{
    const size_t n = paths->n_paths * paths->n_winters * TH_PRICE_MONTHS;
    if (paths->kept || n > KEPT_MAX)
        return;
    double *const kept = malloc(n * sizeof *kept);
    for (size_t winter = 0; winter < paths->n_winters && kept; winter++)
        for (size_t path = 0; path < paths->n_paths; path++)
            post(paths, path, winter, kept + kept_place(paths, path, winter));
    paths->kept = kept;
}

void th_price_posted(const struct th_price_paths *paths, size_t path, size_t winter,
                     double tight_chance, double posted_usd_gal[TH_PRICE_PERIODS])
{
    const double tight = paths->tight_u[path] < tight_chance ? paths->model.tight_factor : 1.0;
    if (paths->kept)
        memcpy(posted_usd_gal, paths->kept + kept_place(paths, path, winter),
               TH_PRICE_MONTHS * sizeof *posted_usd_gal);
    else
        post(paths, path, winter, posted_usd_gal);
    for (int month = 0; month < TH_PRICE_MONTHS; month++)
        posted_usd_gal[month + TH_PRICE_MONTHS] = tight * posted_usd_gal[month];
}

void th_price_paths_finish(struct th_price_paths *paths)
{
    if (!paths)
        return;
    free(paths->z);
    free(paths->tight_u);
    free(paths->score);
    free(paths->kept);
    paths->z = paths->tight_u = paths->score = paths->kept = NULL;
    paths->n_paths = paths->n_winters = 0;
}
