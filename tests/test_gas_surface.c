/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surface through a few full runs: exact where it can be, and near the full runs on rooms. */
#include "sample_room.h"
#include "surface_judge.h"

#include "run_suite.h"

#define FIRST_YEAR 2010
#define WINTERS 4

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

static void check_room(const struct th_room *room)
{
    struct th_gas_surface surface;
    ck_assert_double_lt(judge_room(room, &climate, FIRST_YEAR, WINTERS, &surface), 0.03);
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
