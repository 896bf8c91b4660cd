/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choices over the farms that a barn may be: what is the same for all, what a record narrows, and
 * what cannot be run somewhere within what is not known. */
#include "sample_room.h"
#include "turnheat/joint.h"

#include "run_suite.h"
#include "run_trial.h"
#include "three_farms.h"
#include <math.h>
#include <string.h>

#define FIRST_YEAR 2010
#define WINTERS 2
#define PRICE_USD 2.0
#define COST_USD 3000.0

static struct th_climate climate;
static struct th_runs runs;
static struct th_room base, modulating;
static struct th_case one;
static struct th_comparison *compared;

static void make(void)
{
    th_runs_init(&runs, 2, NULL);
    climate = sample_climate(FIRST_YEAR, WINTERS);
    compared = calloc(1, sizeof *compared);
    ck_assert(climate.hours && compared);
    base = sample_room(TH_ON_OFF);
    modulating = sample_room(TH_MODULATING);
    base.fuel.has_price = modulating.fuel.has_price = true;
    base.fuel.price = modulating.fuel.price = PRICE_USD;
    one = (struct th_case){.room = &base,
                           .climate = &climate,
                           .first_year = FIRST_YEAR,
                           .last_year = FIRST_YEAR + WINTERS - 1};
}

static void finish(void)
{
    free(compared);
    th_climate_finish(&climate);
    th_runs_finish(&runs);
}

static struct th_record record_of(double gal)
{
    return (struct th_record){
        .name = "last", .year = FIRST_YEAR, .gal = gal, .error = TH_RECORD_ERROR};
}

/* Draws the farms, with a record of so many gallons or none, and compares `room` with the base. */
static const struct th_choice_return *compare(struct th_farms *farms, const struct th_room *room,
                                              double recorded_gal)
{
    static struct th_choice choice;
    const struct th_record record = record_of(recorded_gal);
    struct th_error err = {0};
    choice = (struct th_choice){.buy = {.name = "other", .cost_usd = COST_USD}, .room = *room};
    ck_assert_msg(th_farms_init(farms, &runs, &one, 1, 0, recorded_gal > 0.0, &record, &err) ==
                      TH_OK,
                  "%s", err.text);
    ck_assert_msg(th_comparison_weigh(compared, &runs, &one, &choice, 1, -20.0, farms, &err) ==
                      TH_OK,
                  "%s", err.text);
    return &compared->money[0].today;
}

/* The same room saves nothing on any farm: its net is its cost, and it never pays. */
START_TEST(the_same_room_saves_nothing)
{
    struct th_farms farms;
    const struct th_choice_return *const r = compare(&farms, &base, 0.0);
    ck_assert(farms.drawn && !farms.learnt && r->net.drawn);
    ck_assert_double_eq_tol(r->net.low_usd, r->net.usd, 1e-6 * COST_USD);
    ck_assert_double_eq_tol(r->net.high_usd, r->net.usd, 1e-6 * COST_USD);
    ck_assert_double_eq(r->chance, 0.0);
    th_farms_finish(&farms);
}
END_TEST

/* The farm at which every number is as the file has it burns, in every room, what its own runs
 * say. */
START_TEST(the_file_itself_is_exact)
{
    struct th_room warm = base;
    struct th_trial now, then;
    struct th_farms farms;
    struct th_beside beside;
    struct th_error err;
    double gas_j[2];
    warm.surfaces[1].r_m2k_w *= 2.0;
    ck_assert_int_eq(run_trial(&now, &base, &climate, FIRST_YEAR, FIRST_YEAR + WINTERS - 1, &err),
                     TH_OK);
    ck_assert_int_eq(run_trial(&then, &warm, &climate, FIRST_YEAR, FIRST_YEAR + WINTERS - 1, &err),
                     TH_OK);
    const struct th_beside_room rooms[] = {{.room = &base, .trial = &now},
                                           {.room = &warm, .trial = &then}};
    ck_assert_int_eq(th_farms_init(&farms, &runs, &one, 1, 0, 0, NULL, &err), TH_OK);
    ck_assert_int_eq(th_beside_init(&beside, &runs, &farms.outlook, 0, &one, rooms, 2, &err),
                     TH_OK);
    memset(farms.outlook.z, 0, (size_t)farms.outlook.n_z * sizeof *farms.outlook.z);
    ck_assert_int_eq(th_beside_gas_j(&beside, 0, gas_j, &err), TH_OK);
    ck_assert_double_eq_tol(gas_j[0], th_trial_gas_j(&now), 1e-9 * gas_j[0]);
    ck_assert_double_eq_tol(gas_j[1], th_trial_gas_j(&then), 1e-9 * gas_j[1]);
    th_beside_finish(&beside);
    th_farms_finish(&farms);
}
END_TEST

/* A record narrows the range and moves it: a barn known to burn a quarter less saves less. */
START_TEST(a_record_narrows_the_range)
{
    struct th_farms farms;
    const struct th_net before = compare(&farms, &modulating, 0.0)->net;
    const double chance = compared->money[0].today.chance;
    const double gal = th_trial_gas_j(&compared->results[0].trial) / base.fuel.hhv_j;
    th_farms_finish(&farms);
    ck_assert(before.low_usd < before.middle_usd && before.middle_usd < before.high_usd);
    ck_assert(before.case_low_usd <= before.usd && before.usd <= before.case_high_usd);
    const struct th_choice_return *const now = compare(&farms, &modulating, 0.75 * gal);
    ck_assert(farms.learnt);
    ck_assert_double_lt(farms.answer.learnt.effective_draws, TH_OUTLOOK_DRAWS);
    ck_assert_double_gt(farms.answer.learnt.effective_draws, TH_LEARN_DRAWS_ENOUGH);
    ck_assert_double_lt(now->net.high_usd - now->net.low_usd, before.high_usd - before.low_usd);
    ck_assert_double_lt(now->net.middle_usd, before.middle_usd);
    ck_assert_double_lt(now->chance, chance);
    ck_assert_double_eq(now->net.usd, now->net.middle_usd);
    /* Every measure is of the same barns: what is worth nothing at the end is no better. */
    ck_assert_double_eq_tol(now->payback.net_usd, now->net.usd, 1e-6 * COST_USD);
    ck_assert_double_le(now->scrapped_usd, now->net.usd + 1e-6 * COST_USD);
    th_farms_finish(&farms);
}
END_TEST

/* What fills taught narrows it likewise: here, that six numbers are nearly as the file says. */
START_TEST(a_calibration_narrows_the_range)
{
    struct th_farms farms;
    const struct th_net before = compare(&farms, &modulating, 0.0)->net;
    th_farms_finish(&farms);
    base.fitted.given = true;
    snprintf(base.fitted.fit, sizeof base.fitted.fit, "one");
    for (int w = 0; w < TH_FITTED_WAYS; w++)
        base.fitted.way[w][TH_UNKNOWNS - 1 - w] = 0.95;
    modulating.fitted = base.fitted;
    const struct th_net now = compare(&farms, &modulating, 0.0)->net;
    ck_assert(farms.learnt);
    ck_assert_double_lt(now.high_usd - now.low_usd, 0.8 * (before.high_usd - before.low_usd));
    th_farms_finish(&farms);
}
END_TEST

/* Where a choice cannot be run with numbers within what is not known, its range is that of the
 * response cases, and the others stand. */
START_TEST(what_cannot_be_run_somewhere_is_left_out)
{
    struct th_trial now;
    struct th_room odd = base;
    struct th_farms farms;
    struct th_beside beside;
    struct th_error err;
    double gas_j[3];
    odd.heaters[0].off_k = -1.5 * TH_K_PER_F; /* above the start of the fan ramp */
    ck_assert_int_eq(run_trial(&now, &base, &climate, FIRST_YEAR, FIRST_YEAR + WINTERS - 1, &err),
                     TH_OK);
    const struct th_beside_room rooms[] = {
        {.room = &base, .trial = &now}, {.room = &odd, .trial = &now}, {.room = NULL}};
    ck_assert_int_eq(th_farms_init(&farms, &runs, &one, 1, 0, 0, NULL, &err), TH_OK);
    ck_assert_int_eq(th_beside_init(&beside, &runs, &farms.outlook, 0, &one, rooms, 3, &err),
                     TH_OK);
    ck_assert_int_eq(th_beside_gas_j(&beside, 0, gas_j, &err), TH_OK);
    ck_assert(beside.surfaces[0].found && isfinite(gas_j[0]));
    ck_assert(!beside.surfaces[1].found && isnan(gas_j[1]) && isnan(gas_j[2]));
    th_beside_finish(&beside);
    ck_assert_int_eq(
        th_beside_init(&beside, &runs, &farms.outlook, 0, &one, rooms, TH_BESIDE_MAX + 1, &err),
        TH_ERR_INPUT);
    th_beside_finish(&beside);
    th_farms_finish(&farms);
}
END_TEST

/* At prices of 0.6, 0.8, 1, 1.3 and 1.7 times $2 it pays from 500, 375, 300, 231 and 176 units on.
 */
START_TEST(the_range_by_hand)
{
    double chance = 0.0;
    const struct th_net net = three_farms_net(&chance);
    ck_assert(net.drawn);
    ck_assert_double_eq_tol(net.low_usd, 20.0 * 180.0 - 6000.0, 1e-6);
    ck_assert_double_eq_tol(net.middle_usd, 20.0 * 500.0 - 6000.0, 1e-6);
    ck_assert_double_eq_tol(net.high_usd, 20.0 * 820.0 - 6000.0, 1e-6);
    /* 100 never, 500 at four prices (at 0.6 it comes to 0), 900 at all five: 9 of 15. */
    ck_assert_double_eq_tol(chance, 9.0 / 15.0, 1e-12);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("joint");
    TCase *tc = tcase_create("joint");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make, finish);
    tcase_add_test(tc, the_same_room_saves_nothing);
    tcase_add_test(tc, the_file_itself_is_exact);
    tcase_add_test(tc, a_record_narrows_the_range);
    tcase_add_test(tc, a_calibration_narrows_the_range);
    tcase_add_test(tc, what_cannot_be_run_somewhere_is_left_out);
    tcase_add_test(tc, the_range_by_hand);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
