/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/degree_days.h"

#include "run_suite.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

/* ASHRAE Handbook Fundamentals, estimation of degree-days, worked example after Schoenau & Kehrig
   1990: base 60 °F, mean 57.2, standard deviation 8.7, 31 days give 156.5 heating and 69.7 cooling
   degree-days, printed to 0.1. */
START_TEST(schoenau_kehrig_gives_the_worked_example)
{
    double hdd, cdd;
    ck_assert_int_eq(th_hdd_schoenau_kehrig(60.0, 57.2, 8.7, 31.0, &hdd, NULL), TH_OK);
    ck_assert_int_eq(th_cdd_schoenau_kehrig(60.0, 57.2, 8.7, 31.0, &cdd, NULL), TH_OK);
    ck_assert_double_eq_tol(hdd, 156.5, 0.05);
    ck_assert_double_eq_tol(cdd, 69.7, 0.05);
    ck_assert_double_eq_tol(hdd - cdd, 31.0 * (60.0 - 57.2), 1e-9);
}
END_TEST

START_TEST(schoenau_kehrig_refuses_no_spread)
{
    double hdd;
    struct th_error err;
    ck_assert_int_eq(th_hdd_schoenau_kehrig(60.0, 57.2, 0.0, 31.0, &hdd, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_hdd_schoenau_kehrig(60.0, 57.2, 8.7, 0.0, &hdd, &err), TH_ERR_RANGE);
}
END_TEST

/* Far below the base every day counts in full, so both methods tend to days × (base − mean); far
   above to nothing. */
START_TEST(both_estimates_have_the_right_limits)
{
    double sk, erbs;
    ck_assert_int_eq(th_hdd_schoenau_kehrig(65.0, 5.0, 10.0, 31.0, &sk, NULL), TH_OK);
    ck_assert_int_eq(th_hdd_erbs(65.0, 5.0, 18.0, 31.0, &erbs, NULL), TH_OK);
    ck_assert_double_eq_tol(sk, 31.0 * 60.0, 0.1);
    ck_assert_double_eq_tol(erbs / (31.0 * 60.0), 1.0, 0.005);
    ck_assert_int_eq(th_hdd_erbs(40.0, 85.0, 18.0, 31.0, &erbs, NULL), TH_OK);
    ck_assert_double_eq_tol(erbs, 0.0, 5.0);
    ck_assert_int_eq(th_hdd_erbs(40.0, 85.0, -100.0, 31.0, &erbs, NULL), TH_ERR_RANGE);
}
END_TEST

/* Erbs' spread estimate, by hand: σ = 3.54 − 0.029·23.3 + 0.0664·17 = 3.9931; h =
   (50 − 23.3)/(3.9931·√31) = 1.20093; h/2 = 0.600466; cosh(1.698·1.20093) = cosh(2.03918) =
   3.90727, its logarithm 1.36284, over 3.396 = 0.401308; sum with 0.2041 = 1.205874; times
   σ·31^1.5 = 689.22 → 831.1. */
START_TEST(erbs_by_hand)
{
    double erbs;
    ck_assert_int_eq(th_hdd_erbs(50.0, 23.3, 17.0, 31.0, &erbs, NULL), TH_OK);
    ck_assert_double_eq_tol(erbs, 831.1, 0.2);
}
END_TEST

/* One day: 12 h at 40 °F, 11 h at 60.4 °F, 1 h at 75.5 °F, base 65 °F. Hourly: (12·25 + 11·4.6)/24
   = 14.6083; mean 50.8292 → 14.1708; mid-range 57.75 → 7.25; NWS: high 76 (half up), low 40, mean
   58 → 7. */
START_TEST(one_day_counted_four_ways)
{
    struct th_climate_hour hours[24];
    for (int h = 0; h < 24; h++)
        hours[h] = (struct th_climate_hour){.out_c = th_c_from_f(h < 12   ? 40.0
                                                                 : h < 23 ? 60.4
                                                                          : 75.5),
                                            .state = TH_HOUR_OBSERVED};
    const struct th_climate climate = {
        .first_hour = th_day_number(2019, 1, 1) * 24, .n = 24, .hours = hours};
    const struct th_degree_days dd =
        th_degree_days_count(&climate, climate.first_hour, 24, th_c_from_f(65.0));
    ck_assert_double_eq_tol(dd.hourly_k_d / TH_K_PER_F, 14.6083, 1e-4);
    ck_assert_double_eq_tol(dd.mean_k_d / TH_K_PER_F, 14.1708, 1e-4);
    ck_assert_double_eq_tol(dd.midrange_k_d / TH_K_PER_F, 7.25, 1e-9);
    ck_assert_double_eq_tol(dd.nws_f_d, 7.0, 1e-9);
    ck_assert_int_eq(dd.days, 1);
}
END_TEST

START_TEST(a_day_of_few_hours_counts_by_hours_only)
{
    struct th_climate_hour hours[24] = {{0}};
    for (int h = 0; h < TH_DAY_HOURS_MIN - 1; h++)
        hours[h] = (struct th_climate_hour){.out_c = 0.0, .state = TH_HOUR_OBSERVED};
    const struct th_climate climate = {.n = 24, .hours = hours};
    struct th_degree_days dd = th_degree_days_count(&climate, 0, 24, 24.0);
    ck_assert_double_eq_tol(dd.hourly_k_d, TH_DAY_HOURS_MIN - 1.0, 1e-9);
    ck_assert_double_eq(dd.mean_k_d, 0.0);
    hours[23] = hours[0];
    dd = th_degree_days_count(&climate, 0, 24, 24.0);
    ck_assert_double_eq_tol(dd.mean_k_d, 24.0, 1e-9);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("degree_days");
    TCase *tc = tcase_create("degree_days");
    tcase_add_test(tc, schoenau_kehrig_gives_the_worked_example);
    tcase_add_test(tc, schoenau_kehrig_refuses_no_spread);
    tcase_add_test(tc, both_estimates_have_the_right_limits);
    tcase_add_test(tc, erbs_by_hand);
    tcase_add_test(tc, one_day_counted_four_ways);
    tcase_add_test(tc, a_day_of_few_hours_counts_by_hours_only);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
