/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tank.h"

#include "run_suite.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include "validation/validate.h"
#include <gsl/gsl_rng.h>
#include <gsl/gsl_math.h>
#include <string.h>

enum { DAYS = 182 };

static struct th_tank sample_tank(void)
{
    struct th_tank tank;
    th_tank_defaults(&tank);
    ck_assert_int_eq(th_tank_size(tank.capacity_gal, &tank.diameter_m, &tank.length_m, NULL),
                     TH_OK);
    return tank;
}

/* I1. 42 % by weight of the water a tank holds, SG 0.510, × 1.031 to 40 °F: printed 79.8 gal per
   100 by a rounded divisor. */
START_TEST(fill_share_of_the_safety_rule)
{
    validate("I1", VALIDATE_CHECK, "29 CFR 1910.110(b)(19)(v)(d)",
             "propane a 100-gal tank may hold at 42 % filling density", 79.9,
             100.0 * th_tank_fill_share(0.42, 0.510, 1.031), 0.1, "gal");
    struct th_tank tank;
    th_tank_defaults(&tank);
    ck_assert_double_eq_tol(tank.fill_share, th_tank_fill_share(0.42, 0.510, 1.031), 0.002);
}
END_TEST

/* Share of a cylinder's mantle that liquid wets when it fills `full` of it, by halving. */
static double wetted_share(double full)
{
    double low = 0.0, high = 2.0 * M_PI;
    for (int i = 0; i < 60; i++) {
        const double angle = 0.5 * (low + high);
        *((angle - sin(angle)) / (2.0 * M_PI) < full ? &low : &high) = angle;
    }
    return low / (2.0 * M_PI);
}

/* I2. What still air (1.46 Btu/h ft² °F, ASHRAE, from memory) gives to liquid that boils at -30 °F
 * under 5.6 psig, over 182 Btu/lb to vaporise it (both from memory); right to a factor of 1.5. */
START_TEST(vapour_of_the_wetted_surface)
{
    struct th_tank tank = sample_tank();
    const double wetted_ft2 =
        M_PI * tank.diameter_m * tank.length_m * wetted_share(0.30) / TH_M2_PER_FT2;
    const double heat_btu_h = 1.46 * wetted_ft2 * (-10.0 - -30.0);
    const double gas_btu_h = heat_btu_h / 182.0 * 91500.0 / 4.2;
    validate("I2", VALIDATE_CHECK, "common practice, no source; geometry and a film of still air",
             "vapour of a 1,000-gal tank, 30 % full, -10 °F", gas_btu_h,
             th_tank_vapour_w(&tank, 0.30, th_c_from_f(-10.0)) / TH_W_PER_BTUH, 0.5 * gas_btu_h,
             "Btu/h");
}
END_TEST

/* Common practice, no source: the air factor 2.0 at 20 °F, 1.5 at 10, 1 at 0, 0.5 at −10, 0.25 at
 * −15. */
START_TEST(vapour_follows_air_and_level)
{
    const struct th_tank tank = sample_tank();
    const double at_0f = th_tank_vapour_w(&tank, 0.30, th_c_from_f(0.0));
    const double printed[][2] = {{20, 2.0}, {10, 1.5}, {-10, 0.5}, {-15, 0.25}, {-20, 0}, {-40, 0}};
    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++)
        ck_assert_double_eq_tol(th_tank_vapour_w(&tank, 0.30, th_c_from_f(printed[i][0])) / at_0f,
                                printed[i][1], 1e-9);
    ck_assert_double_eq_tol(th_tank_vapour_w(&tank, 0.60, -5.0), /* K 100 against 45 */
                            th_tank_vapour_w(&tank, 0.10, -5.0) * 100.0 / 45.0, 1e-6);
    ck_assert_double_eq_tol(th_tank_vapour_w(&tank, 0.05, -5.0), /* linear to 0 below 10 % */
                            0.5 * th_tank_vapour_w(&tank, 0.10, -5.0), 1e-6);
    ck_assert_double_eq(th_tank_vapour_w(&tank, 0.0, -5.0), 0.0);
    ck_assert_double_eq(th_tank_vapour_w(&tank, 0.8, -5.0), th_tank_vapour_w(&tank, 0.6, -5.0));
}
END_TEST

START_TEST(sizes_of_common_tanks)
{
    double diameter_m, length_m;
    ck_assert_int_eq(th_tank_size(500, &diameter_m, &length_m, NULL), TH_OK);
    ck_assert_double_eq_tol(diameter_m / TH_M_PER_IN, 37.5, 1e-9);
    ck_assert_double_eq_tol(length_m / TH_M_PER_IN, 120.0, 1e-9);
    ck_assert_int_eq(th_tank_size(30000, &diameter_m, &length_m, NULL), TH_ERR_RANGE);
    ck_assert_int_eq(th_tank_size(NAN, &diameter_m, &length_m, NULL), TH_ERR_RANGE);
}
END_TEST

/* Hand-worked: 1,000 gal, from 400 on a Monday, 50 gal a day, ordered at 300, lead 3 days, Monday
   to Friday. Monday's to Wednesday's use leave 350, 300, 250: ordered on Tuesday at 300, due on
   Friday; Friday's use leaves 150, the truck brings 650. Then 800 − 50 a day: Monday of week 3 is
   day 14. */
START_TEST(orders_and_deliveries_by_hand)
{
    const struct th_tank tank = sample_tank();
    const long monday = th_day_number(2018, 1, 1);
    double use[21], level[21];
    for (int i = 0; i < 21; i++)
        use[i] = 50.0;
    struct th_delivery deliveries[21];
    struct th_tank_run run;
    ck_assert_int_eq(
        th_tank_run(&tank, 300.0, 400.0, monday, 21, use, deliveries, level, &run, NULL), TH_OK);
    ck_assert_int_eq(deliveries[0].day, monday + 4);
    ck_assert_double_eq_tol(deliveries[0].gal, 650.0, 1e-9);
    ck_assert_double_eq_tol(level[4], 150.0, 1e-9);
    ck_assert_double_eq_tol(level[5], 750.0, 1e-9);
    /* 300 is reached on day 14, Monday, due Thursday, day 17, when 150 are left. */
    ck_assert_int_eq(deliveries[1].day, monday + 17);
    ck_assert_double_eq_tol(deliveries[1].gal, 650.0, 1e-9);
    ck_assert_int_eq((int)run.n_deliveries, 2);
    ck_assert_int_eq(run.run_out_days, 0);
    ck_assert_double_eq_tol(run.lowest_gal, 150.0, 1e-9);
    ck_assert_double_eq_tol(run.end_gal, 400.0 + 1300.0 - 1050.0, 1e-9);
}
END_TEST

/* Hand-worked: an order due on Saturday comes on Monday; meanwhile the tank runs dry. From 260 with
   100 a day from Tuesday: 160 (ordered, due Friday), 60, 0 (40 short), 0 (100 short) … */
START_TEST(weekends_and_run_outs)
{
    struct th_tank tank = sample_tank();
    tank.lead_days = 4;
    double use[8];
    for (int i = 0; i < 8; i++)
        use[i] = 100.0;
    const long tuesday = th_day_number(2018, 1, 2);
    struct th_delivery deliveries[8];
    struct th_tank_run run;
    ck_assert_int_eq(
        th_tank_run(&tank, 200.0, 260.0, tuesday, 8, use, deliveries, NULL, &run, NULL), TH_OK);
    ck_assert_int_eq(deliveries[0].day, tuesday + 6); /* due Saturday, comes Monday */
    ck_assert_double_eq_tol(deliveries[0].gal, 800.0, 1e-9);
    ck_assert_int_eq(run.run_out_days, 5); /* Thursday to Monday */
    ck_assert_double_eq_tol(run.short_gal, 40.0 + 4 * 100.0, 1e-9);
}
END_TEST

/* A truck with less than the tanks can take, and a drop too small to be worth the drive. */
START_TEST(small_trucks_and_small_drops)
{
    struct th_tank tank = sample_tank();
    tank.count = 4;
    tank.truck_gal = 1000.0;
    tank.weekdays = TH_WEEKDAYS_ALL;
    tank.lead_days = 2;
    double use[10] = {0};
    struct th_delivery deliveries[10];
    struct th_tank_run run;
    ck_assert_int_eq(
        th_tank_run(&tank, 1500.0, 400.0, 17600, 10, use, deliveries, NULL, &run, NULL), TH_OK);
    ck_assert_int_eq((int)run.n_deliveries, 2); /* 400 + 1,000 is below 1,500, so a second truck */
    ck_assert_double_eq_tol(run.end_gal, 2400.0, 1e-9);

    tank.reorder_share = 0.79; /* nearly full: 3,160 of 3,200 gal */
    ck_assert_int_eq(
        th_tank_run(&tank, 3160.0, 3150.0, 17600, 10, use, deliveries, NULL, &run, NULL), TH_OK);
    ck_assert_int_eq((int)run.n_deliveries, 0); /* room for 50, the least is 200 */
    use[5] = 160.0;
    ck_assert_int_eq(
        th_tank_run(&tank, 3160.0, 3150.0, 17600, 10, use, deliveries, NULL, &run, NULL), TH_OK);
    ck_assert_int_eq((int)run.n_deliveries, 1);
    ck_assert_int_eq(deliveries[0].day, 17605);
}
END_TEST

/* Conservation: start + delivered + short = used + end, levels between 0 and 80 %. */
START_TEST(gallons_balance)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (int trial = 0; trial < 300; trial++) {
        struct th_tank tank = sample_tank();
        tank.count = 1 + (int)gsl_rng_uniform_int(rng, 4);
        tank.lead_days = (int)gsl_rng_uniform_int(rng, 31);
        tank.weekdays = 1u + (unsigned)gsl_rng_uniform_int(rng, 127);
        tank.truck_gal = 300.0 + 3000.0 * gsl_rng_uniform(rng);
        double use[DAYS], level[DAYS];
        for (int i = 0; i < DAYS; i++)
            use[i] = 400.0 * gsl_rng_uniform(rng);
        struct th_delivery deliveries[DAYS];
        struct th_tank_run run;
        const double capacity = tank.count * tank.capacity_gal;
        ck_assert_int_eq(th_tank_run(&tank, capacity * gsl_rng_uniform(rng), 0.5 * capacity, 17500,
                                     DAYS, use, deliveries, level, &run, NULL),
                         TH_OK);
        double delivered = 0.0;
        for (size_t i = 0; i < run.n_deliveries; i++) {
            delivered += deliveries[i].gal;
            ck_assert_double_ge(deliveries[i].gal, tank.min_drop_gal);
        }
        ck_assert_double_eq_tol(delivered, run.delivered_gal, 1e-6);
        ck_assert_double_eq_tol(run.start_gal + run.delivered_gal + run.short_gal,
                                run.used_gal + run.end_gal, 1e-6);
        for (int i = 0; i < DAYS; i++)
            ck_assert(level[i] >= 0.0 && level[i] <= 0.8 * capacity + 1e-9);
        ck_assert((run.run_out_days > 0) == (run.short_gal > 0.0));
    }
    gsl_rng_free(rng);
}
END_TEST

/* Hand-worked: lead 3 days and a weekend's wait of 2 make 5. Of windows of 5 days at 10, 20 … (gal
   a day rising by 10 each day) the 95th percentile of the 21 sums 150, 200 … 1,150 is the
   twentieth: 1,100. With a reserve of 200 that is more than 80 % and is cut to 800. */
START_TEST(reorder_level)
{
    struct th_tank tank = sample_tank();
    double use[25], reorder_gal;
    for (int i = 0; i < 25; i++)
        use[i] = 10.0 * (i + 1);
    ck_assert_int_eq(th_tank_longest_lead(&tank), 5);
    ck_assert_int_eq(th_tank_reorder_gal(&tank, 25, use, &reorder_gal, NULL), TH_OK);
    ck_assert_double_eq_tol(reorder_gal, 800.0, 1e-9);
    tank.count = 3;
    ck_assert_int_eq(th_tank_reorder_gal(&tank, 25, use, &reorder_gal, NULL), TH_OK);
    ck_assert_double_eq_tol(reorder_gal, 600.0 + 1100.0, 1e-9);
    tank.reorder_share = 0.30;
    ck_assert_int_eq(th_tank_reorder_gal(&tank, 25, use, &reorder_gal, NULL), TH_OK);
    ck_assert_double_eq_tol(reorder_gal, 900.0, 1e-9);
    tank.reorder_share = 0.0;
    ck_assert_int_eq(th_tank_reorder_gal(&tank, 9, use, &reorder_gal, NULL), TH_ERR_INPUT);
    tank.weekdays = 0x01; /* Mondays only: six days' wait */
    ck_assert_int_eq(th_tank_longest_lead(&tank), 9);
}
END_TEST

/* Hand-worked: from the second day 300 gal last 3 days of 100; from the third 100 + 100 are used
   and 140 more are not there, so 2 full days. */
START_TEST(days_of_supply)
{
    const double use[] = {10, 100, 100, 100, 140, 140, 120, 50, 0, 0};
    size_t days, start;
    bool emptied;
    th_tank_days_of_supply(10, use, 300.0, &days, &start, &emptied);
    ck_assert(emptied);
    ck_assert_int_eq((int)days, 2);
    ck_assert_int_eq((int)start, 2);
    th_tank_days_of_supply(10, use, 5000.0, &days, &start, &emptied);
    ck_assert(!emptied);
    ck_assert_int_eq((int)days, 10);
    th_tank_days_of_supply(10, use, 20.0, &days, &start, &emptied);
    ck_assert_int_eq((int)days, 0);
}
END_TEST

/* A steady 100,000 Btu/h at 0 °F: one 1,000-gal tank at 30 % gives 41 · 192 · 70 = 551,040. */
START_TEST(vapour_check_counts_hours)
{
    const struct th_tank tank = sample_tank();
    const double capacity_w = 551040.0 * TH_W_PER_BTUH;
    double demand_w[72], out_c[72];
    const double level[3] = {300, 300, 300};
    for (int h = 0; h < 72; h++) {
        demand_w[h] = h < 24 ? 0.2 * capacity_w : h < 48 ? 0.6 * capacity_w : 0.0;
        out_c[h] = th_c_from_f(0.0);
    }
    demand_w[30] = 1.25 * capacity_w;
    struct th_vapour_check check;
    th_tank_vapour_check(&tank, 72, demand_w, out_c, level, &check);
    ck_assert_int_eq((int)check.hours_short, 1);
    ck_assert_int_eq((int)check.worst_hour, 30);
    ck_assert_double_eq_tol(check.worst_ratio, 0.8, 1e-9);
    /* 24 h means pass half when k hours of 0.6 (one of them 1.25) replace 0.2: 4.8 + 0.4 k + 0.65 >
       12 from k = 17, hour 40; after hour 47 zeros replace first 0.6s: 15.05 − 0.6 j > 12 for j ≤
       5, so hours 40 to 52. */
    ck_assert_int_eq((int)check.hours_over_half, 13);
    memset(demand_w, 0, sizeof demand_w);
    th_tank_vapour_check(&tank, 72, demand_w, out_c, level, &check);
    ck_assert(!check.asked && check.worst_ratio == 0.0 && check.hours_over_half == 0);
}
END_TEST

/* 700 and 1,400 gal in two weeks from 1 October: 100 and 200 a day, then nothing. */
START_TEST(other_users)
{
    const struct th_use use = {
        .from_month = 10, .from_day = 1, .n_weeks = 2, .week_gal = {700, 1400}};
    ck_assert_int_eq(th_use_check(&use, NULL), TH_OK);
    const long first = th_day_number(2017, 10, 1);
    ck_assert_double_eq(th_use_day_gal(&use, first - 1), 0.0);
    ck_assert_double_eq_tol(th_use_day_gal(&use, first), 100.0, 1e-12);
    ck_assert_double_eq_tol(th_use_day_gal(&use, first + 7), 200.0, 1e-12);
    ck_assert_double_eq(th_use_day_gal(&use, first + 14), 0.0);
    struct th_use dryer = use;
    dryer.from_month = 12;
    dryer.from_day = 27;
    ck_assert_double_eq_tol(th_use_day_gal(&dryer, th_day_number(2018, 1, 4)), 200.0, 1e-12);
    /* 100 gal · 91,500 Btu/gal a day, evenly */
    ck_assert_double_eq_tol(th_use_day_w(&use, first, 91500.0 * TH_J_PER_BTU) / TH_W_PER_BTUH,
                            100.0 * 91500.0 / 24.0, 1e-6);
    dryer.rate_w = 1e6;
    ck_assert_double_eq(th_use_day_w(&dryer, th_day_number(2018, 1, 4), 9e7), 1e6);
    ck_assert_double_eq(th_use_day_w(&dryer, th_day_number(2018, 3, 4), 9e7), 0.0);
}
END_TEST

START_TEST(refuses_what_is_out_of_range)
{
    struct th_tank tank = sample_tank();
    struct th_error err;
    struct th_tank_run run;
    const double bad[] = {1.0, NAN};
    ck_assert_int_eq(th_tank_run(&tank, 300, 400, 0, 2, bad, NULL, NULL, &run, &err), TH_ERR_INPUT);
    ck_assert_int_eq(th_tank_run(&tank, 300, 1400, 0, 0, bad, NULL, NULL, &run, &err),
                     TH_ERR_RANGE);
    tank.weekdays = 0;
    ck_assert_int_eq(th_tank_check(&tank, &err), TH_ERR_RANGE);
    tank = sample_tank();
    tank.fill_share = NAN;
    ck_assert_int_eq(th_tank_check(&tank, &err), TH_ERR_RANGE);
    tank = sample_tank();
    tank.min_drop_gal = 900.0;
    ck_assert_int_eq(th_tank_check(&tank, &err), TH_ERR_RANGE);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("tank");
    TCase *tc = tcase_create("tank");
    tcase_add_test(tc, fill_share_of_the_safety_rule);
    tcase_add_test(tc, vapour_of_the_wetted_surface);
    tcase_add_test(tc, vapour_follows_air_and_level);
    tcase_add_test(tc, sizes_of_common_tanks);
    tcase_add_test(tc, orders_and_deliveries_by_hand);
    tcase_add_test(tc, weekends_and_run_outs);
    tcase_add_test(tc, small_trucks_and_small_drops);
    tcase_add_test(tc, gallons_balance);
    tcase_add_test(tc, reorder_level);
    tcase_add_test(tc, days_of_supply);
    tcase_add_test(tc, vapour_check_counts_hours);
    tcase_add_test(tc, other_users);
    tcase_add_test(tc, refuses_what_is_out_of_range);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
