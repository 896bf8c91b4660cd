/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a day on: order dates and contracts by hand on a farm that takes 100 gallons every day, and
   sums that close on winters that were run. */
#include "turnheat/ahead.h"
#include "turnheat/calendar.h"

#include "ahead_report.h"
#include "run_suite.h"
#include "sample_room.h"

#include <math.h>

#define A_DAY_GAL 100.0
#define YEARS 2

static struct th_fuel_year years[YEARS];
static double day_gal[TH_FUEL_YEAR_DAYS], hours[24 * TH_FUEL_YEAR_DAYS];
static struct th_tank tank;
static struct th_contract contracts[2];
static struct th_price_model price;
static struct th_climate steady;
static struct th_room steady_room;
static const struct th_case steady_case = {.room = &steady_room, .climate = &steady};
static struct th_plan_in in;
static struct th_plan plan;
static struct th_ahead_in from;
static struct th_ahead ahead;

/* Six tanks of 1,000 gal on 15 January at 62 %; a truck of 2,400 gal on any day, three days off. */
static void make(void)
{
    for (int d = 0; d < TH_FUEL_YEAR_DAYS; d++)
        day_gal[d] = A_DAY_GAL;
    for (int y = 0; y < YEARS; y++)
        years[y] = (struct th_fuel_year){.year = 2001 + y,
                                         .usable = true,
                                         .first_day = th_day_number(2001 + y, 7, 1),
                                         .n_days = 365,
                                         .day_gal = day_gal,
                                         .hour_w = hours,
                                         .hour_out_c = hours};
    th_tank_defaults(&tank);
    snprintf(tank.name, sizeof tank.name, "barns");
    tank.count = 6;
    tank.capacity_gal = 1000.0;
    tank.weekdays = TH_WEEKDAYS_ALL;
    th_contract_defaults(&contracts[0], TH_CONTRACT_SPOT);
    th_contract_defaults(&contracts[1], TH_CONTRACT_PREPAID);
    contracts[1].volume_gal = 10000.0;
    contracts[1].price_usd_gal = 1.60;
    contracts[1].settle = TH_SETTLE_REFUND;
    th_price_defaults(&price);
    in = (struct th_plan_in){.cases = &steady_case,
                             .n_cases = 1,
                             .tanks = &tank,
                             .n_tanks = 1,
                             .contracts = contracts,
                             .n_contracts = 2,
                             .price = &price,
                             .seed = 1,
                             .n_paths = 16};
    plan = (struct th_plan){.in = &in,
                            .demand = {.n = YEARS, .n_usable = YEARS, .years = years},
                            .reorder_gal = {2000.0}};
    plan.tanks[0] = tank;
    ck_assert_int_eq(th_tank_size(1000.0, &plan.tanks[0].diameter_m, &plan.tanks[0].length_m, NULL),
                     TH_OK);
    from = (struct th_ahead_in){.day = th_day_number(2026, 1, 15)};
    from.gauges[0] = (struct th_gauge){.read = true, .share = 0.62, .day = from.day};
}

static void look(void)
{
    struct th_error err;
    ck_assert_msg(th_ahead_run(&plan, &from, &ahead, &err) == TH_OK, "%s", err.text);
}

/* 62 % less 5 % are 3,420 gal; 25 % are 1,500 and the reserve 1,200. After 19 days 1,520 are left,
   after 20 days 1,420. An order of the 20th day would find 1,120 gal on the 23rd. */
START_TEST(the_order_goes_out_while_the_reserve_is_whole)
{
    look();
    const struct th_ahead_order *o = &ahead.orders[0];
    ck_assert(o->needed && !o->late && !o->by_quarter);
    ck_assert_double_eq_tol(o->reading_gal, 3720.0, 1e-9);
    ck_assert_double_eq_tol(o->counted_gal, 3420.0, 1e-9);
    ck_assert_int_eq(o->by_day, from.day + 18);
    ck_assert_int_eq(o->comes_day, from.day + 21);
    ck_assert_double_eq_tol(o->level_share, 1220.0 / 6000.0, 1e-9);
    ck_assert_double_eq_tol(o->room_gal, 4800.0 - 1220.0, 1e-9);
    tank.lead_days = 1; /* now the quarter decides */
    look();
    ck_assert(ahead.orders[0].by_quarter);
    ck_assert_int_eq(ahead.orders[0].by_day, from.day + 18);
    from.gauges[0].share = 0.28;
    look();
    ck_assert(ahead.orders[0].late);
    ck_assert_int_eq(ahead.orders[0].by_day, from.day);
}
END_TEST

/* Ten days and 1,000 gallons ago. */
START_TEST(an_old_reading_is_carried_on)
{
    from.gauges[0].day -= 10;
    look();
    ck_assert_double_eq_tol(ahead.orders[0].counted_gal, 2420.0, 1e-9);
    ck_assert_int_eq(ahead.orders[0].by_day, from.day + 8);
    from.gauges[0].day = from.day + 1;
    ck_assert_int_eq(th_ahead_run(&plan, &from, &ahead, NULL), TH_ERR_RANGE);
    from.gauges[0].day = th_day_number(2025, 6, 30);
    ck_assert_int_eq(th_ahead_run(&plan, &from, &ahead, NULL), TH_ERR_RANGE);
}
END_TEST

/* 167 days to 30 June. Without tanks every week is delivered: 76 days to 31 March are ten whole
   weeks, 7,000 gal. */
START_TEST(what_is_left_of_a_contract)
{
    in.n_tanks = 0;
    from.n_taken = 1;
    from.taken[0] = (struct th_taken){.contract = 1, .gal = 4000.0};
    look();
    ck_assert_double_eq_tol(ahead.used.middle, 16700.0, 1e-6);
    ck_assert_double_eq_tol(ahead.bought.mean, 16700.0, 1e-6);
    ck_assert_double_eq_tol(ahead.contracts[0].left_gal, 6000.0, 1e-9);
    ck_assert_int_eq(ahead.contracts[0].last_day, th_day_number(2026, 3, 31));
    ck_assert_double_eq_tol(ahead.contracts[0].all_share, 1.0, 1e-9);
    ck_assert_double_eq_tol(ahead.spot.middle, 10700.0, 1e-6);
    from.taken[0].gal = 2000.0;
    look();
    ck_assert_double_eq_tol(ahead.contracts[0].all_share, 0.0, 1e-9);
    ck_assert_double_eq_tol(ahead.contracts[0].drawn_gal, 7000.0, 1e-6);
    ck_assert_double_eq_tol(ahead.contracts[0].unused_gal, 1000.0, 1e-6);
    from.taken[0].gal = 10001.0;
    ck_assert_int_eq(th_ahead_run(&plan, &from, &ahead, NULL), TH_ERR_RANGE);
    from.taken[0] = (struct th_taken){.contract = 0, .gal = 0.0};
    ck_assert_int_eq(th_ahead_run(&plan, &from, &ahead, NULL), TH_ERR_INPUT);
}
END_TEST

/* The posted price kept at 2 dollars: 9,700 gal at it, and 1,000 gal of prepaid come back less a
   fifth. */
START_TEST(cash_is_what_is_still_to_be_paid)
{
    in.n_tanks = 0;
    price.posted_usd_gal = 2.0;
    price.sigma_year = 0.0;
    for (int m = 0; m < TH_PRICE_MONTHS; m++)
        price.month_index[m] = 1.0;
    from.n_taken = 1;
    from.taken[0] = (struct th_taken){.contract = 1, .gal = 2000.0};
    look();
    ck_assert_double_eq_tol(ahead.usd.middle, 9700.0 * 2.0 - 1000.0 * 1.60 * 0.80, 1e-6);
    double usd = 0.0;
    for (int m = 0; m < 12; m++)
        usd += ahead.cash.month_usd[m];
    ck_assert_double_eq_tol(usd, ahead.usd.mean, 1e-6);
    /* March: nothing but the refund; January, 17 days with two whole weeks, nothing at all. */
    ck_assert_double_eq_tol(ahead.cash.month_usd[2], -1280.0, 1e-6);
    ck_assert_double_eq_tol(ahead.cash.month_usd[0], 0.0, 1e-9);
}
END_TEST

/* The season of the date is among the winters: it is not used for itself. */
START_TEST(a_winter_does_not_tell_of_itself)
{
    double colder_gal[TH_FUEL_YEAR_DAYS];
    for (int d = 0; d < TH_FUEL_YEAR_DAYS; d++)
        colder_gal[d] = 2.0 * A_DAY_GAL;
    years[1].day_gal = colder_gal;
    from.day = th_day_number(2003, 1, 15);
    from.gauges[0].day = from.day;
    look();
    ck_assert_uint_eq(ahead.n_winters, 1);
    ck_assert_double_eq_tol(ahead.used.middle, 16700.0, 1e-6);
    ck_assert(ahead.has_came);
    ck_assert_double_eq_tol(ahead.came_gal, 33400.0, 1e-6);
    years[0].usable = false;
    ck_assert_int_eq(th_ahead_run(&plan, &from, &ahead, NULL), TH_ERR_COVERAGE);
}
END_TEST

/* From 29 February and over one, every day is there. */
START_TEST(leap_days_are_days)
{
    from.day = th_day_number(2028, 2, 29);
    from.gauges[0].day = from.day;
    look();
    ck_assert_double_eq_tol(ahead.used.middle, 100.0 * 123.0, 1e-6);
    from.day = from.gauges[0].day = th_day_number(2028, 1, 15);
    look();
    ck_assert_double_eq_tol(ahead.used.middle, 100.0 * 168.0, 1e-6);
}
END_TEST

/* A room that was run: farms are drawn, weeks and months add up to the season, cash to the cost,
   and a report that does not close is refused. */
START_TEST(a_room_that_was_run_closes)
{
    struct th_climate climate = sample_climate(2010, 4);
    struct th_weather weather = {0};
    struct th_room room = sample_room(TH_ON_OFF);
    const struct th_case one = {.room = &room,
                                .weather = &weather,
                                .climate = &climate,
                                .first_year = 2010,
                                .last_year = 2012};
    struct th_runs runs;
    struct th_plan run;
    struct th_error err;
    th_runs_init(&runs, 1, NULL);
    in.cases = &one;
    price.posted_usd_gal = 1.9;
    from.n_taken = 1;
    from.taken[0] = (struct th_taken){.contract = 1, .gal = 4000.0};
    ck_assert_msg(th_plan_winters(&runs, &in, &run, &err) == TH_OK, "%s", err.text);
    ck_assert_msg(th_ahead_run(&run, &from, &ahead, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_gt(ahead.n_cases, 1000);
    ck_assert_double_lt(ahead.used.low, ahead.used.high);
    struct th_report *report = th_report_new("plan");
    ck_assert_int_eq(th_ahead_report(report, &run, &from, &ahead, &err), TH_OK);
    th_report_free(report);
    ahead.weeks[3].used_gal.mean *= 1.01;
    report = th_report_new("plan");
    ck_assert_int_eq(th_ahead_report(report, &run, &from, &ahead, &err), TH_ERR_BALANCE);
    th_report_free(report);
    th_plan_finish(&run);
    th_runs_finish(&runs);
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("ahead");
    TCase *tc = tcase_create("ahead");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make, NULL);
    tcase_add_test(tc, the_order_goes_out_while_the_reserve_is_whole);
    tcase_add_test(tc, an_old_reading_is_carried_on);
    tcase_add_test(tc, what_is_left_of_a_contract);
    tcase_add_test(tc, cash_is_what_is_still_to_be_paid);
    tcase_add_test(tc, a_winter_does_not_tell_of_itself);
    tcase_add_test(tc, leap_days_are_days);
    tcase_add_test(tc, a_room_that_was_run_closes);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
