/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizing, and what compares rooms: the free choice, the same mean temperature, what costs gallons.
 */
#include "sample_room.h"
#include "turnheat/compare.h"
#include "turnheat/sizing.h"

#include "run_suite.h"

#define FIRST_YEAR 2010

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

START_TEST(sizing_agrees_with_the_balance)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.air.burner_air_m3_s_w = 0.0;
    struct th_sizing sizing;
    struct th_error err;
    ck_assert_int_eq(th_sizing_run(&room, -20.0, &sizing, &err), TH_OK);
    ck_assert_double_gt(sizing.load_w, 0.0);
    ck_assert_double_eq_tol(sizing.needed_w * room.fuel.lhv_share, sizing.load_w,
                            1e-9 * sizing.load_w);
    ck_assert_double_eq_tol(th_sizing_installed_w(&room, NULL), 3.0 * room.heaters[0].input_w,
                            1e-6);
    ck_assert_double_eq_tol(th_sizing_one_out_w(&room), 2.0 * room.heaters[0].input_w, 1e-6);
    ck_assert_double_eq(th_sizing_altitude_share(500.0), 1.0);
    ck_assert_double_eq_tol(th_sizing_altitude_share(914.4), 0.96, 1e-9);
    /* R that just meets the dew point: the inside face is then at it. */
    const double r = th_sizing_dry_r_m2k_w(25.0, -20.0, 12.0, 0.12);
    ck_assert_double_eq_tol(25.0 - (25.0 + 20.0) * 0.12 / r, 12.0, 1e-9);
}
END_TEST

START_TEST(the_free_choice_keeps_comfort_and_saves)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_free_choice choice;
    struct th_trial now;
    struct th_error err;
    ck_assert_int_eq(th_free_choice_find(&room, &climate, FIRST_YEAR, FIRST_YEAR, FIRST_YEAR, -20.0,
                                         &choice, &err),
                     TH_OK);
    ck_assert_int_eq(th_trial_run(&now, &room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert(choice.found);
    ck_assert_double_lt(th_trial_gas_j(&choice.trial), th_trial_gas_j(&now));
    ck_assert_double_le(choice.trial.mean.sum[TH_BELOW_COMFORT],
                        now.mean.sum[TH_BELOW_COMFORT] + 0.5);
}
END_TEST

START_TEST(the_same_mean_is_met)
{
    struct th_room rooms[2] = {sample_room(TH_ON_OFF), sample_room(TH_MODULATING)};
    struct th_choice_result results[2];
    struct th_error err;
    ck_assert_int_eq(th_compare_run(rooms, 2, &climate, FIRST_YEAR, FIRST_YEAR + 1, results, &err),
                     TH_OK);
    ck_assert_int_eq(results[1].same_mean.state, TH_SAME_MEAN_FOUND);
    ck_assert_double_gt(results[1].saved_j[TH_OVERSHOOT_TWICE], results[1].saved_j[TH_AS_GIVEN]);
    ck_assert_double_lt(results[1].saved_j[TH_OVERSHOOT_HALF], results[1].saved_j[TH_AS_GIVEN]);
    double costs[TH_COST_COUNT];
    ck_assert_int_eq(th_costs_run(&rooms[0], &climate, FIRST_YEAR, FIRST_YEAR, costs, &err), TH_OK);
    for (int i = 0; i < TH_COST_COUNT; i++)
        ck_assert_double_ge(costs[i], 0.0);
    ck_assert_double_gt(costs[TH_COST_AIR], 0.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("compare");
    TCase *tc = tcase_create("compare");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make_climate, free_climate);
    tcase_add_test(tc, sizing_agrees_with_the_balance);
    tcase_add_test(tc, the_free_choice_keeps_comfort_and_saves);
    tcase_add_test(tc, the_same_mean_is_met);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
