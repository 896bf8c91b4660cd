/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizing, and what compares rooms: the free choice, the same mean temperature, what costs gallons.
 */
#include "sample_room.h"
#include "turnheat/compare.h"
#include "turnheat/sizing.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include <math.h>
#include <string.h>

#define FIRST_YEAR 2010

static struct th_climate climate;
static struct th_runs runs;

static void make_climate(void)
{
    th_runs_init(&runs, 2, NULL);
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
    th_runs_finish(&runs);
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
    struct th_trial now, then;
    struct th_error err;
    ck_assert_int_eq(th_free_choice_find(&runs, &room, &climate, FIRST_YEAR, -20.0, &choice, &err),
                     TH_OK);
    ck_assert(choice.found);
    ck_assert_int_eq(th_trial_run(&now, &room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_int_eq(th_trial_run(&then, &choice.room, &climate, FIRST_YEAR, FIRST_YEAR, &err),
                     TH_OK);
    ck_assert_double_lt(th_trial_gas_j(&then), th_trial_gas_j(&now));
    ck_assert_double_le(then.mean.sum[TH_BELOW_COMFORT], now.mean.sum[TH_BELOW_COMFORT] + 0.5);
}
END_TEST

/* Mean temperature of a room in the hours in which another one fires. */
struct both_hours {
    unsigned char fires[3 * 8784];
    bool first_run;
    double sum_c, n;
};

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct both_hours *both = context;
    const long i = hour_number - climate.first_hour;
    (void)turn;
    (void)in;
    ck_assert(i >= 0 && i < (long)sizeof both->fires);
    if (both->first_run)
        both->fires[i] = out->heat_wanted;
    both->sum_c += both->fires[i] ? out->room_c : 0.0;
    both->n += both->fires[i];
}

static double mean_in_those_hours(struct both_hours *both, const struct th_room *room)
{
    const struct th_watch watch = {.hour = see_hour, .context = both};
    struct th_winters winters;
    struct th_error err;
    both->sum_c = both->n = 0.0;
    ck_assert_int_eq(
        th_winters_run(&winters, room, &climate, FIRST_YEAR, FIRST_YEAR + 1, &watch, &err), TH_OK);
    th_winters_finish(&winters);
    ck_assert_double_gt(both->n, 500.0);
    both->first_run = false;
    return both->sum_c / both->n;
}

/* Over the hours in which the base fires, one shift brings the other within 0.02 °F. */
START_TEST(the_same_mean_is_met)
{
    struct th_room rooms[2] = {sample_room(TH_ON_OFF), sample_room(TH_MODULATING)};
    struct th_choice_result results[2];
    struct both_hours both = {.first_run = true};
    struct th_error err;
    ck_assert_int_eq(
        th_trial_run(&results[0].trial, &rooms[0], &climate, FIRST_YEAR, FIRST_YEAR + 1, &err),
        TH_OK);
    ck_assert_int_eq(
        th_compare_run(&runs, rooms, 2, &climate, FIRST_YEAR, FIRST_YEAR + 1, results, &err),
        TH_OK);
    ck_assert_int_eq(results[1].same_mean.state, TH_SAME_MEAN_FOUND);
    ck_assert_double_gt(fabs(results[1].same_mean.shift_k), 0.02 * TH_K_PER_F);
    const double base_c = mean_in_those_hours(&both, &rooms[0]);
    th_room_shift_offsets(&rooms[1], results[1].same_mean.shift_k);
    const double shifted_c = mean_in_those_hours(&both, &rooms[1]);
    ck_assert_double_eq_tol(shifted_c, base_c, 0.02 * TH_K_PER_F);
    ck_assert_double_gt(results[1].saved_j[TH_OVERSHOOT_TWICE], results[1].saved_j[TH_AS_GIVEN]);
    ck_assert_double_lt(results[1].saved_j[TH_OVERSHOOT_HALF], results[1].saved_j[TH_AS_GIVEN]);
}
END_TEST

/* The range says what the same comparison says in a room with that response, within half a percent
 * of the gas. */
START_TEST(the_range_is_that_of_other_rooms)
{
    static const enum th_response_case cases[] = {TH_OVERSHOOT_HALF, TH_OVERSHOOT_TWICE,
                                                  TH_STAGE_LOW, TH_STAGE_HIGH};
    static const enum th_control controls[] = {TH_MODULATING, TH_LEAD_LAG};
    struct th_room rooms[2] = {sample_room(TH_ON_OFF), sample_room(controls[_i])};
    struct th_choice_result results[2], others[2];
    struct th_error err;
    const int first = FIRST_YEAR, last = FIRST_YEAR + 1;
    ck_assert_int_eq(th_trial_run(&results[0].trial, &rooms[0], &climate, first, last, &err),
                     TH_OK);
    ck_assert_int_eq(th_compare_run(&runs, rooms, 2, &climate, first, last, results, &err), TH_OK);
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        struct th_room changed[2] = {rooms[0], rooms[1]};
        th_response_apply(&changed[0], cases[k]);
        th_response_apply(&changed[1], cases[k]);
        ck_assert_int_eq(th_trial_run(&others[0].trial, &changed[0], &climate, first, last, &err),
                         TH_OK);
        ck_assert_int_eq(th_compare_run(&runs, changed, 2, &climate, first, last, others, &err),
                         TH_OK);
        ck_assert_int_eq(others[1].same_mean.state, TH_SAME_MEAN_FOUND);
        ck_assert_double_eq_tol(results[1].saved_j[cases[k]], others[1].saved_j[TH_AS_GIVEN],
                                0.005 * th_trial_gas_j(&others[0].trial));
    }
}
END_TEST

START_TEST(costs_are_differences_of_runs)
{
    struct th_room room = sample_room(TH_ON_OFF), tighter = room;
    struct th_trial now, other;
    struct th_error err;
    double costs[TH_COST_COUNT];
    ck_assert_int_eq(th_trial_run(&now, &room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    const struct th_block block = th_trial_block(&now);
    ck_assert_double_eq_tol(block.scale, 1.0, 1e-12);
    ck_assert_int_eq(th_costs_run(&runs, &room, &climate, &block, costs, &err), TH_OK);
    tighter.air.leak_cm2 *= 2.0;
    ck_assert_int_eq(th_trial_run(&other, &tighter, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_double_eq_tol(costs[TH_COST_LEAKAGE], th_trial_gas_j(&other) - th_trial_gas_j(&now),
                            1e-9 * th_trial_gas_j(&now));
    ck_assert_double_gt(costs[TH_COST_AIR], 0.0);
    ck_assert_double_gt(costs[TH_COST_SET_POINT], 0.0);
    ck_assert_double_gt(costs[TH_COST_OFF], 0.0);
    ck_assert_double_ge(costs[TH_COST_FAN_FLOOR], 0.0);
    ck_assert_double_ge(costs[TH_COST_PILOTS], 0.0);
}
END_TEST

/* Twelve invented seasons of 100 to 111, the last 12 more: mean 106.5, 2006 is nearest. */
START_TEST(the_block_lies_around_the_middle_season)
{
    struct th_winters winters = {.n = 12, .n_counted = 12};
    struct th_trial trial;
    struct th_error err;
    winters.seasons = calloc(12, sizeof *winters.seasons);
    ck_assert_ptr_nonnull(winters.seasons);
    for (int i = 0; i < winters.n; i++) {
        struct th_season *season = &winters.seasons[i];
        *season = (struct th_season){.year = 2000 + i, .counted = true};
        season->total.sum[TH_GAS_HEATERS] = 100.0 + i + (i == 11 ? 12.0 : 0.0);
    }
    ck_assert_int_eq(th_trial_of(&winters, "invented", &trial, &err), TH_OK);
    th_winters_finish(&winters);
    const struct th_block block = th_trial_block(&trial);
    ck_assert_int_eq(th_trial_middle_year(&trial), 2006);
    ck_assert_int_eq(block.first_year, 2004);
    ck_assert_int_eq(block.last_year, 2008);
    ck_assert_double_eq_tol(block.gas_j, 106.0, 1e-9);
    ck_assert_double_eq_tol(block.scale, 106.5 / 106.0, 1e-9);
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
    tcase_add_loop_test(tc, the_range_is_that_of_other_rooms, 0, 2);
    tcase_add_test(tc, costs_are_differences_of_runs);
    tcase_add_test(tc, the_block_lies_around_the_middle_season);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
