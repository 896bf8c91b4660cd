/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fills say of a room: its own numbers, and ranges that hold what they say. */
#include "calibrate_report.h"
#include "sample_room.h"
#include "turnheat/demand.h"
#include "turnheat/fills_fit.h"

#include "run_suite.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

#define FIRST_YEAR 2010
#define WINTERS 3
#define BARNS 200
/* Fills every `STEP` days from 10 November. */
enum { FILLS = 8, STEP = 15 };
#define CAPACITY_GAL 2000.0
#define LEVEL 0.5

static struct th_climate climate;
static struct th_weather weather;
static struct th_room room;
static struct th_runs runs;
static struct th_tank_fill fills[FILLS];
static const struct th_case one = {.room = &room,
                                   .weather = &weather,
                                   .climate = &climate,
                                   .first_year = FIRST_YEAR,
                                   .last_year = FIRST_YEAR + WINTERS - 1};
static const struct th_fills_in in = {.runs = &runs,
                                      .cases = &one,
                                      .n_cases = 1,
                                      .fills = fills,
                                      .n_fills = FILLS,
                                      .capacity_gal = CAPACITY_GAL};

static void make(void)
{
    climate = sample_climate(FIRST_YEAR, WINTERS);
    ck_assert_ptr_nonnull(climate.hours);
    spread_winters(&climate, 4.0);
    room = sample_room(TH_ON_OFF);
    room.copies = 2;
    th_runs_init(&runs, 1, NULL);
    for (int k = 0; k < FILLS; k++)
        fills[k] = (struct th_tank_fill){.day = th_day_number(FIRST_YEAR, 11, 10) + k * STEP,
                                         .level_share = LEVEL};
}

static void drop(void)
{
    th_runs_finish(&runs);
    th_climate_finish(&climate);
}

/* Gallons of a room from fill to fill, and of each winter. */
static void burn(const struct th_room *truth, double stretch_gal[FILLS - 1],
                 double winter_gal[WINTERS])
{
    struct th_runs own;
    struct th_demand demand;
    struct th_error err;
    struct th_case true_case = one;
    true_case.room = truth;
    th_runs_init(&own, 1, NULL);
    ck_assert_msg(th_demand_run(&own, &true_case, 1, NULL, 0, &demand, &err) == TH_OK, "%s",
                  err.text);
    for (int k = 0; k < FILLS - 1; k++) {
        stretch_gal[k] = 0.0;
        for (long day = fills[k].day; day < fills[k + 1].day; day++)
            stretch_gal[k] += demand.years[0].day_gal[day - demand.years[0].first_day];
    }
    for (int w = 0; w < WINTERS; w++)
        winter_gal[w] = demand.years[w].barns_gal;
    th_demand_finish(&demand);
    th_runs_finish(&own);
}

START_TEST(a_room_is_found_from_its_own_fills)
{
    struct th_room truth = room;
    struct th_fills_fit found;
    struct th_error err;
    double gal[FILLS - 1], winter_gal[WINTERS];
    th_unknown_move(&truth, TH_UNKNOWN_AIR, 1.0);
    burn(&truth, gal, winter_gal);
    for (int k = 0; k < FILLS - 1; k++)
        fills[k].delivered_gal = gal[k];
    ck_assert_msg(th_fills_fit(&in, &found, &err) == TH_OK, "%s", err.text);
    double used = 0.0, before = 0.0, after = 0.0;
    for (size_t k = 0; k < found.n_stretches; k++) {
        ck_assert_double_eq_tol(found.used_gal[k], gal[k], 1e-6);
        used += found.used_gal[k];
        before += found.before_gal[k];
        after += found.after_gal[k];
    }
    /* A turn may be off by 7 % by itself, so the barn is not believed to be all of it. */
    ck_assert_double_gt(fabs(before / used - 1.0), 0.08);
    ck_assert_double_lt(fabs(after / used - 1.0), 0.03);
    ck_assert_double_gt(found.learnt.belief.z[TH_UNKNOWN_AIR], 0.3);
    ck_assert_double_lt(th_belief_sd(&found.learnt.belief, TH_UNKNOWN_AIR), 0.9);
    ck_assert_double_lt(found.learnt.strain_sd, TH_LEARN_MISFIT_SD);
    ck_assert_double_gt(found.learnt.effective_draws, TH_LEARN_DRAWS_ENOUGH);
    const struct th_calibrate_file file = {.path = "some/room.barn", .digest = "0"};
    struct th_report *report = th_report_new("calibrate");
    ck_assert_int_eq(th_calibrate_report(report, &in, &found, &file, &err), TH_OK);
    th_report_free(report);
    report = th_report_new("calibrate");
    found.books.sum[TH_TO_AIR] *= 1.001;
    ck_assert_int_eq(th_calibrate_report(report, &in, &found, &file, &err), TH_ERR_BALANCE);
    th_report_free(report);
    th_fills_fit_finish(&found);
}
END_TEST

/* Gallons nobody can burn are a misfit. */
START_TEST(what_no_barn_burns_is_a_misfit)
{
    struct th_fills_model model;
    struct th_fills_learnt learnt;
    struct th_error err;
    double gal[FILLS - 1];
    ck_assert_int_eq(th_fills_model_init(&model, &in, &err), TH_OK);
    th_fills_model_gal(&model, (const double[TH_LEARN_Z_MAX]){0}, gal);
    for (int k = 0; k < FILLS - 1; k++)
        gal[k] *= 5.0;
    const enum th_code code = th_fills_learn(&model, gal, &learnt, &err);
    ck_assert(code == TH_ERR_NUMERIC || learnt.strain_sd > TH_LEARN_MISFIT_SD);
    th_fills_model_finish(&model);
}
END_TEST

START_TEST(what_cannot_be_weighed_is_refused)
{
    struct th_fills_model model;
    struct th_fills_in other = in;
    struct th_error err;
    other.n_fills = 1;
    ck_assert_int_eq(th_fills_model_init(&model, &other, &err), TH_ERR_INPUT);
    th_fills_model_finish(&model);
    for (int k = 0; k < FILLS; k++)
        fills[k].day += 366 * 20;
    ck_assert_int_eq(th_fills_model_init(&model, &in, &err), TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "--weather"));
    th_fills_model_finish(&model);
    th_fuel_of_gas(&room.fuel, TH_NATURAL_GAS);
    ck_assert_int_eq(th_fills_model_init(&model, &in, &err), TH_ERR_INPUT);
    th_fills_model_finish(&model);
}
END_TEST

/* A truth, drawn from what is known beforehand; its fills, gauge and turn off by chance; and a
   winter to come. */
static double draw_truth(gsl_rng *rng, double used_gal[FILLS - 1])
{
    const double turn_sd = TH_TURN_SD / sqrt((double)room.n_turns);
    struct th_room truth = room;
    double gal[FILLS - 1], winter_gal[WINTERS];
    for (int u = 0; u < TH_UNKNOWNS; u++)
        th_unknown_move(&truth, (enum th_unknown)u, th_unknown_deviate(gsl_rng_uniform(rng)));
    burn(&truth, gal, winter_gal);
    const double turn = exp(gsl_ran_gaussian(rng, TH_TURN_SD));
    double read = LEVEL + gsl_ran_gaussian(rng, TH_GAUGE_SD);
    for (int k = 0; k < FILLS - 1; k++) {
        const double next = LEVEL + gsl_ran_gaussian(rng, TH_GAUGE_SD);
        used_gal[k] = turn * gal[k] + (read - next) * CAPACITY_GAL;
        read = next;
    }
    return winter_gal[gsl_rng_uniform_int(rng, WINTERS)] * exp(gsl_ran_gaussian(rng, turn_sd));
}

/* Truths by full runs: of 200 barns with eight noisy fills (seed 1) the 10-90 ranges hold 74 to 86
   % of the winters that follow. */
START_TEST(ranges_hold_what_they_say)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct th_fills_model model;
    struct th_outlook outlook;
    struct th_error err;
    int held = 0, narrower = 0;
    gsl_rng_set(rng, 1);
    struct th_range before;
    ck_assert_int_eq(th_fills_model_init(&model, &in, &err), TH_OK);
    ck_assert_int_eq(th_outlook_init(&outlook, &runs, &one, 1, &err), TH_OK);
    ck_assert_int_eq(th_outlook_draw(&outlook, &err), TH_OK);
    ck_assert_int_eq(th_outlook_range(&outlook, &before, &err), TH_OK);
    for (int i = 0; i < BARNS; i++) {
        double used_gal[FILLS - 1];
        struct th_fills_learnt learnt;
        struct th_range range;
        const double next_gal = draw_truth(rng, used_gal);
        ck_assert_msg(th_fills_learn(&model, used_gal, &learnt, &err) == TH_OK, "%s", err.text);
        outlook.belief = learnt.belief;
        ck_assert_int_eq(th_outlook_draw(&outlook, &err), TH_OK);
        ck_assert_int_eq(th_outlook_range(&outlook, &range, &err), TH_OK);
        held += next_gal >= range.low && next_gal <= range.high;
        narrower += range.high / range.low < before.high / before.low;
    }
    gsl_rng_free(rng);
    th_outlook_finish(&outlook);
    th_fills_model_finish(&model);
    ck_assert_int_ge(held, 74 * BARNS / 100);
    ck_assert_int_le(held, 86 * BARNS / 100);
    ck_assert_int_ge(narrower, 95 * BARNS / 100);
}
END_TEST

/* Earlier years that the weather does not hold are no error; one that cannot be simulated is. */
START_TEST(only_missing_years_are_passed_over)
{
    struct th_fills_fit found;
    struct th_error err;
    double gal[FILLS - 1], winter_gal[WINTERS];
    burn(&room, gal, winter_gal);
    for (int k = 0; k < FILLS - 1; k++)
        fills[k].delivered_gal = gal[k];
    th_climate_finish(&climate);
    climate = sample_climate(FIRST_YEAR - 3, 4);
    room.n_turns = 2;
    room.turns[1] = room.turns[0];
    room.turns[1].month = 5;
    room.turns[1].days = 40;
    /* The weather of the days themselves goes before that of other years. */
    ck_assert_msg(th_fills_fit(&in, &found, &err) == TH_OK, "%s", err.text);
    ck_assert(found.known);
    ck_assert_uint_eq(found.left_gal.n, 1);
    ck_assert_double_lt(found.left_low_gal, 0.95 * found.left_gal.middle);
    ck_assert_double_gt(found.left_high_gal, 1.05 * found.left_gal.middle);
    th_fills_fit_finish(&found);
    const long end_day = th_day_number(FIRST_YEAR + 1, 4, 25);
    climate.n = (size_t)(24 * end_day - climate.first_hour);
    ck_assert_msg(th_fills_fit(&in, &found, &err) == TH_OK, "%s", err.text);
    ck_assert(!found.known);
    ck_assert_int_eq(found.known_end_day, end_day);
    ck_assert_uint_eq(found.left_gal.n, 3);
    th_fills_fit_finish(&found);
    for (long hour = 24 * th_day_number(FIRST_YEAR - 2, 4, 25);
         hour < 24 * th_day_number(FIRST_YEAR - 2, 6, 30); hour++)
        climate.hours[hour - climate.first_hour].out_c = 45.0;
    ck_assert_int_eq(th_fills_fit(&in, &found, &err), TH_ERR_MODEL);
    ck_assert_msg(strstr(err.text, "too hot") != NULL, "%s", err.text);
    th_fills_fit_finish(&found);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fills");
    TCase *tc = tcase_create("fills");
    tcase_set_timeout(tc, 120);
    tcase_add_checked_fixture(tc, make, drop);
    tcase_add_test(tc, a_room_is_found_from_its_own_fills);
    tcase_add_test(tc, what_no_barn_burns_is_a_misfit);
    tcase_add_test(tc, what_cannot_be_weighed_is_refused);
    tcase_add_test(tc, ranges_hold_what_they_say);
    tcase_add_test(tc, only_missing_years_are_passed_over);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
