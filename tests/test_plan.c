/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A farm of one room and one use on one tank: demand and plan. */
#include "plan_report.h"
#include "render.h"
#include "sample_room.h"

#include "run_suite.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_YEAR 2010
#define YEARS 3

static struct th_climate climate;
static struct th_weather weather;
static struct th_room room;
static struct th_runs runs;

static const struct th_case one = {.room = &room,
                                   .weather = &weather,
                                   .climate = &climate,
                                   .first_year = FIRST_YEAR,
                                   .last_year = FIRST_YEAR + 1};

static void make(void)
{
    climate = sample_climate(FIRST_YEAR, YEARS);
    ck_assert_ptr_nonnull(climate.hours);
    room = sample_room(TH_ON_OFF);
    room.copies = 2;
    th_runs_init(&runs, 1, NULL);
}

static void drop(void)
{
    th_runs_finish(&runs);
    th_climate_finish(&climate);
}

static double gal_of_season(int year)
{
    struct th_winters winters;
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, year, year, NULL, NULL), TH_OK);
    const double gal = room.copies * th_winters_mean_gas_j(&winters) / room.fuel.hhv_j;
    th_winters_finish(&winters);
    return gal;
}

/* The turn lies inside a fuel year, so that a year's gallons are those of its season. */
START_TEST(demand_is_what_the_rooms_burn)
{
    struct th_use dryer = {.from_month = 10, .from_day = 1, .n_weeks = 2, .week_gal = {700, 350}};
    struct th_demand demand;
    struct th_error err;
    ck_assert_msg(th_demand_run(&runs, &one, 1, &dryer, 1, &demand, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(demand.n, 2);
    ck_assert_int_eq(demand.n_usable, 2);
    for (int y = 0; y < demand.n; y++) {
        const struct th_fuel_year *year = &demand.years[y];
        double days_gal = 0.0, months_gal = 0.0;
        for (size_t day = 0; day < year->n_days; day++)
            days_gal += year->day_gal[day];
        for (int m = 0; m < 12; m++)
            months_gal += year->month_gal[m];
        const double gal = gal_of_season(year->year);
        ck_assert_double_eq_tol(year->barns_gal, gal, 1e-6 * gal);
        ck_assert_double_eq_tol(year->uses_gal, 1050.0, 1e-6);
        ck_assert_double_eq_tol(days_gal, gal + 1050.0, 1e-6 * gal);
        ck_assert_double_eq_tol(months_gal, gal + 1050.0, 1e-6 * gal);
        ck_assert_double_eq_tol(room.copies * th_demand_season_j(&demand.rooms[0], year->year) /
                                    room.fuel.hhv_j,
                                gal, 1e-6 * gal);
    }
    th_demand_finish(&demand);
}
END_TEST

static struct th_tank tank;
static struct th_contract contracts[2];
static struct th_price_model price;
static struct th_plan_in in;

static void make_in(void)
{
    th_tank_defaults(&tank);
    tank.count = 4;
    tank.capacity_gal = 1000.0;
    th_contract_defaults(&contracts[0], TH_CONTRACT_SPOT);
    th_contract_defaults(&contracts[1], TH_CONTRACT_BOOKED);
    contracts[1].volume_gal = 5000.0;
    contracts[1].price_usd_gal = 1.9;
    th_price_defaults(&price);
    price.posted_usd_gal = 2.0;
    price.today_month = 8;
    in = (struct th_plan_in){.cases = &one,
                             .n_cases = 1,
                             .tanks = &tank,
                             .n_tanks = 1,
                             .contracts = contracts,
                             .n_contracts = 2,
                             .price = &price,
                             .seed = 1,
                             .n_paths = 50};
}

/* What the whole plan and the one sheet end with: the same. */
static enum th_code report_of(const struct th_plan *plan)
{
    struct th_error err;
    struct th_report *report = th_report_new("plan"), *sheet = th_report_new("plan");
    const enum th_code code = th_plan_report(report, plan, &err);
    ck_assert_int_eq(th_plan_sheet(sheet, plan, &err), code);
    th_report_free(report);
    th_report_free(sheet);
    return code;
}

START_TEST(a_plan_closes_and_open_ones_are_refused)
{
    struct th_plan plan;
    struct th_error err;
    make_in();
    ck_assert_msg(th_plan_run(&runs, &in, &plan, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(plan.buying.n_offers, 2);
    ck_assert_int_eq(plan.buying.n_volumes, 1);
    ck_assert(plan.has_slip);
    ck_assert_int_eq(report_of(&plan), TH_OK);
    const double delivered_gal = plan.tank_years[1].delivered_gal;
    plan.tank_years[1].delivered_gal += 1.0;
    ck_assert_int_eq(report_of(&plan), TH_ERR_BALANCE);
    plan.tank_years[1].delivered_gal = delivered_gal;
    plan.demand.books.sum[TH_CO2_AIR] *= 0.999;
    ck_assert_int_eq(report_of(&plan), TH_ERR_BALANCE);
    th_plan_finish(&plan);
}
END_TEST

/* The whole plan as JSON, for free(). */
static char *json_of(int jobs)
{
    struct th_plan plan;
    struct th_error err;
    struct th_runs fresh;
    char *text = NULL;
    size_t size;
    struct th_report *const report = th_report_new("plan");
    FILE *const out = open_memstream(&text, &size);
    th_runs_init(&fresh, jobs, NULL);
    ck_assert_msg(th_plan_run(&fresh, &in, &plan, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(th_plan_report(report, &plan, &err), TH_OK);
    ck_assert_int_eq(th_report_write(report, TH_AS_JSON, out, &err), TH_OK);
    fclose(out);
    th_plan_finish(&plan);
    th_runs_finish(&fresh);
    th_report_free(report);
    return text;
}

/* What is worked out side by side comes to the same. */
START_TEST(as_many_jobs_as_one_likes)
{
    make_in();
    char *const alone = json_of(1);
    for (int jobs = 2; jobs <= 5; jobs += 3) {
        char *const together = json_of(jobs);
        ck_assert_str_eq(together, alone);
        free(together);
    }
    free(alone);
}
END_TEST

/* Offers that cannot be weighed are told of, however many work. */
START_TEST(an_error_is_told_by_whoever_meets_it)
{
    for (int jobs = 1; jobs <= 3; jobs += 2) {
        struct th_plan plan;
        struct th_error err;
        struct th_runs fresh;
        make_in();
        contracts[1].price_usd_gal = -1.0;
        th_runs_init(&fresh, jobs, NULL);
        ck_assert_int_eq(th_plan_run(&fresh, &in, &plan, &err), TH_ERR_RANGE);
        ck_assert_int_eq(err.code, TH_ERR_RANGE);
        th_plan_finish(&plan);
        th_runs_finish(&fresh);
    }
}
END_TEST

/* Answer, seasons and trucks of a plan are those of one barn, whatever fills showed of it. */
START_TEST(a_plan_is_of_the_barn_that_was_learnt)
{
    double season_gal[2];
    struct th_error err;
    make_in();
    for (int i = 0; i < 2; i++) {
        struct th_plan plan;
        struct th_spread used;
        room.fitted = (struct th_fitted){.given = i > 0, .fit = "a", .z = {[TH_UNKNOWN_AIR] = 1.5}};
        for (int w = 0; i > 0 && w < TH_FITTED_WAYS; w++)
            room.fitted.way[w][TH_UNKNOWNS - 1 - w] = 0.95;
        ck_assert_msg(th_plan_winters(&runs, &in, &plan, &err) == TH_OK, "%s", err.text);
        ck_assert(plan.learnt == (i > 0));
        ck_assert_int_eq(th_plan_spread(&plan, th_plan_barns_gal, 0, &used, &err), TH_OK);
        season_gal[i] = used.mean;
        ck_assert_double_eq_tol(used.mean, plan.answer.now.mean, 0.05 * used.mean);
        th_plan_finish(&plan);
    }
    ck_assert_double_gt(season_gal[1], 1.1 * season_gal[0]);
}
END_TEST

/* Fills that show a room to burn less do not make anyone order later; more is believed. */
START_TEST(a_fit_never_lowers_the_level_to_order_at)
{
    const double air[] = {0.0, -1.5, 1.5};
    double reorder_gal[3];
    struct th_error err;
    make_in();
    for (int i = 0; i < 3; i++) {
        struct th_plan plan;
        room.fitted =
            (struct th_fitted){.given = i > 0, .fit = "a", .z = {[TH_UNKNOWN_AIR] = air[i]}};
        ck_assert_msg(th_plan_winters(&runs, &in, &plan, &err) == TH_OK, "%s", err.text);
        reorder_gal[i] = plan.reorder_gal[0];
        th_plan_finish(&plan);
    }
    ck_assert_double_eq_tol(reorder_gal[1], reorder_gal[0], 1e-6);
    ck_assert_double_gt(reorder_gal[2], reorder_gal[0]);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan");
    TCase *tc = tcase_create("plan");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make, drop);
    tcase_add_test(tc, demand_is_what_the_rooms_burn);
    tcase_add_test(tc, a_plan_closes_and_open_ones_are_refused);
    tcase_add_test(tc, as_many_jobs_as_one_likes);
    tcase_add_test(tc, an_error_is_told_by_whoever_meets_it);
    tcase_add_test(tc, a_plan_is_of_the_barn_that_was_learnt);
    tcase_add_test(tc, a_fit_never_lowers_the_level_to_order_at);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
