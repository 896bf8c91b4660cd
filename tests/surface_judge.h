/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A surface through a room's full runs, judged by full runs it was not fitted to. */
#ifndef TURNHEAT_TESTS_SURFACE_JUDGE_H
#define TURNHEAT_TESTS_SURFACE_JUDGE_H

#include "turnheat/gas_surface.h"
#include "turnheat/winters.h"

#include <check.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define JUDGE_WINTERS_MAX 8
/* Full runs that no surface was fitted to. */
#define JUDGES 240

static inline double ln_gas(const struct th_room *room, const struct th_climate *climate, int year)
{
    struct th_winters winters;
    struct th_error err;
    ck_assert_int_eq(th_winters_run(&winters, room, climate, year, year, NULL, &err), TH_OK);
    const double gas_j = th_winters_mean_gas_j(&winters);
    th_winters_finish(&winters);
    return log(gas_j);
}

/* Runs `n` points of `room` over `n_winters` from `first_year` on. */
static inline void run_points(const struct th_room *room, const struct th_climate *climate,
                              int first_year, size_t n_winters, size_t n, double *ln_y0,
                              struct th_gas_surface_run *runs)
{
    struct th_error err;
    for (size_t i = 0; i < n_winters; i++)
        ln_y0[i] = ln_gas(room, climate, first_year + (int)i);
    ck_assert_int_eq(th_gas_surface_points(room, n, n_winters, ln_y0, runs, &err), TH_OK);
    for (size_t i = 0; i < n; i++) {
        struct th_room moved = *room;
        th_unknowns_move(&moved, runs[i].z);
        runs[i].ln_ratio =
            ln_gas(&moved, climate, first_year + (int)runs[i].winter) - ln_y0[runs[i].winter];
    }
}

static inline double share_off(size_t n, const double *drawn, const double *full, double quantile)
{
    return gsl_stats_quantile_from_sorted_data(drawn, 1, n, quantile) /
               gsl_stats_quantile_from_sorted_data(full, 1, JUDGES, quantile) -
           1.0;
}

/* Root mean square of the errors of P10 and P90. Every residual is added back to every point, so
   that chance in drawing them does not count as an error of the surface. */
static inline double tail_error(const struct th_gas_surface *surface,
                                const struct th_gas_surface_run *judges, const double *ln_y0)
{
    static double drawn[JUDGES * TH_GAS_SURFACE_RUNS];
    double full[JUDGES];
    size_t n = 0;
    for (int i = 0; i < JUDGES; i++) {
        const struct th_gas_surface_line line = th_gas_surface_at(surface, judges[i].reach);
        const double at = ln_y0[judges[i].winter] + line.level + line.slope * judges[i].l;
        for (size_t k = 0; k < surface->n_runs; k++)
            drawn[n++] = exp(at + surface->residual[k]);
        full[i] = exp(ln_y0[judges[i].winter] + judges[i].ln_ratio);
    }
    gsl_sort(drawn, 1, n);
    gsl_sort(full, 1, JUDGES);
    return hypot(share_off(n, drawn, full, 0.1), share_off(n, drawn, full, 0.9)) / M_SQRT2;
}

/* The surface and its error at P10 and P90. */
static inline double judge_room(const struct th_room *room, const struct th_climate *climate,
                                int first_year, size_t n_winters, struct th_gas_surface *surface)
{
    enum { ALL = TH_GAS_SURFACE_RUNS + JUDGES };
    static struct th_gas_surface_run runs[ALL];
    double ln_y0[JUDGE_WINTERS_MAX];
    struct th_error err;
    run_points(room, climate, first_year, n_winters, ALL, ln_y0, runs);
    ck_assert_int_eq(th_gas_surface_fit(TH_GAS_SURFACE_RUNS, runs, surface, &err), TH_OK);
    return tail_error(surface, runs + TH_GAS_SURFACE_RUNS, ln_y0);
}

#endif
