/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surface through a few full runs: exact where it can be, and near the full runs on rooms. */
#include "sample_room.h"
#include "turnheat/gas_surface.h"
#include "turnheat/winters.h"

#include "run_suite.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#define FIRST_YEAR 2010
#define WINTERS 4
/* Full runs that no surface was fitted to. */
#define JUDGES 240

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, WINTERS);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

static double ln_gas(const struct th_room *room, int year)
{
    struct th_winters winters;
    struct th_error err;
    ck_assert_int_eq(th_winters_run(&winters, room, &climate, year, year, NULL, &err), TH_OK);
    const double gas_j = th_winters_mean_gas_j(&winters);
    th_winters_finish(&winters);
    return log(gas_j);
}

/* Runs `n` points of `room`, of which the last JUDGES are for judging. */
static void run_points(const struct th_room *room, size_t n, double *ln_y0,
                       struct th_gas_surface_run *runs)
{
    struct th_error err;
    for (int i = 0; i < WINTERS; i++)
        ln_y0[i] = ln_gas(room, FIRST_YEAR + i);
    ck_assert_int_eq(th_gas_surface_points(room, n, WINTERS, ln_y0, runs, &err), TH_OK);
    for (size_t i = 0; i < n; i++) {
        struct th_room moved = *room;
        th_unknowns_move(&moved, runs[i].z);
        runs[i].ln_ratio = ln_gas(&moved, FIRST_YEAR + (int)runs[i].winter) - ln_y0[runs[i].winter];
    }
}

static double share_off(size_t n, const double *drawn, const double *full, double quantile)
{
    return gsl_stats_quantile_from_sorted_data(drawn, 1, n, quantile) /
               gsl_stats_quantile_from_sorted_data(full, 1, JUDGES, quantile) -
           1.0;
}

/* Root mean square of the errors of P10 and P90. Every residual is added back to every point, so
   that chance in drawing them does not count as an error of the surface. */
static double tail_error(const struct th_gas_surface *surface,
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

static void check_room(const struct th_room *room)
{
    enum { ALL = TH_GAS_SURFACE_RUNS + JUDGES };
    static struct th_gas_surface_run runs[ALL];
    double ln_y0[WINTERS];
    struct th_gas_surface surface;
    struct th_error err;
    run_points(room, ALL, ln_y0, runs);
    ck_assert_int_eq(th_gas_surface_fit(TH_GAS_SURFACE_RUNS, runs, &surface, &err), TH_OK);
    ck_assert_double_lt(tail_error(&surface, runs + TH_GAS_SURFACE_RUNS, ln_y0), 0.03);
    ck_assert_double_gt(surface.error, 0.0);
    ck_assert_double_lt(surface.error, 0.12);
}

START_TEST(near_the_full_runs_of_a_curtain_room)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    check_room(&room);
}
END_TEST

START_TEST(near_the_full_runs_of_a_solid_room)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.surfaces[1].kind = TH_WALL;
    room.surfaces[1].r_m2k_w = 15.0 * TH_R_SI_PER_US;
    room.air.leak_cm2 = 800.0;
    check_room(&room);
}
END_TEST

/* ln ratio = 0.1 x0 − 0.2 x4 + 0.03 x4² + 0.05 x0 x4 + 0.1 x6 l has exactly the surface's form. */
START_TEST(a_quadratic_is_found_again)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    const double ln_y0[3] = {8.0, 8.2, 8.5};
    struct th_gas_surface_run runs[TH_GAS_SURFACE_RUNS];
    struct th_gas_surface surface;
    struct th_error err;
    ck_assert_int_eq(th_gas_surface_points(&room, TH_GAS_SURFACE_RUNS, 3, ln_y0, runs, &err),
                     TH_OK);
    int times[3] = {0};
    for (int i = 0; i < TH_GAS_SURFACE_RUNS; i++) {
        const double *x = runs[i].reach;
        times[runs[i].winter]++;
        runs[i].ln_ratio = 0.1 * x[0] - 0.2 * x[4] + 0.03 * x[4] * x[4] + 0.05 * x[0] * x[4] +
                           0.1 * x[6] * runs[i].l;
    }
    for (int i = 0; i < 3; i++)
        ck_assert_int_ge(times[i], 20);
    ck_assert_int_eq(th_gas_surface_fit(TH_GAS_SURFACE_RUNS, runs, &surface, &err), TH_OK);
    ck_assert_double_lt(surface.error, 0.005);
    const double x[TH_UNKNOWNS] = {1.0, 0, 0, 0, -1.0, 0, 0.5, 0};
    const struct th_gas_surface_line line = th_gas_surface_at(&surface, x);
    ck_assert_double_eq_tol(line.level, 0.1 + 0.2 + 0.03 - 0.05, 0.005);
    ck_assert_double_eq_tol(line.slope, 0.05, 0.01);
    const double none[TH_UNKNOWNS] = {0};
    ck_assert_double_eq(th_gas_surface_at(&surface, none).level, 0.0);
}
END_TEST

START_TEST(a_run_that_is_no_number_is_refused)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    const double ln_y0 = 8.0;
    struct th_gas_surface_run runs[8];
    struct th_gas_surface surface;
    struct th_error err;
    ck_assert_int_eq(th_gas_surface_points(&room, 8, 1, &ln_y0, runs, &err), TH_OK);
    ck_assert_int_eq(th_gas_surface_fit(8, runs, &surface, &err), TH_ERR_INPUT);
    ck_assert_int_eq(th_gas_surface_fit(0, runs, &surface, &err), TH_ERR_INPUT);
    ck_assert_int_eq(th_gas_surface_fit(TH_GAS_SURFACE_RUNS + 1, runs, &surface, &err),
                     TH_ERR_INPUT);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("gas_surface");
    TCase *tc = tcase_create("gas_surface");
    tcase_set_timeout(tc, 120);
    tcase_add_unchecked_fixture(tc, make_climate, free_climate);
    tcase_add_test(tc, near_the_full_runs_of_a_curtain_room);
    tcase_add_test(tc, near_the_full_runs_of_a_solid_room);
    tcase_add_test(tc, a_quadratic_is_found_again);
    tcase_add_test(tc, a_run_that_is_no_number_is_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
