/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/spread.h"

#include "run_suite.h"
#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

/* Product rule: below ten seasons lowest, middle, highest and nothing else. */
START_TEST(few_values_give_a_range_only)
{
    const double gallons[] = {900, 700, 1200, 800, 1000, 650, 720, 810, 990};
    for (size_t n = 1; n <= 9; n++) {
        struct th_spread spread;
        ck_assert_int_eq(th_spread_of(n, gallons, &spread, NULL), TH_OK);
        ck_assert_int_eq(spread.kind, TH_SPREAD_RANGE);
        ck_assert(spread.p10 == 0.0 && spread.p50 == 0.0 && spread.p90 == 0.0);
        ck_assert(spread.cvar95 == 0.0);
        ck_assert(spread.lowest <= spread.middle && spread.middle <= spread.highest);
    }
    struct th_spread four;
    th_spread_of(4, gallons, &four, NULL);
    ck_assert_double_eq_tol(four.middle, 850.0, 1e-12); /* (800 + 900) / 2 */
    ck_assert_double_eq_tol(four.mean, 900.0, 1e-12);
}
END_TEST

/* Hand-worked: quantile f of n sorted values lies at place (n − 1) f, linear between (GSL manual,
   "Median and Percentiles"): of 10, 20 … 110 the 10 % is the second, the 90 % the tenth. */
START_TEST(ten_or_more_give_percentiles)
{
    const double shuffled[] = {110, 20, 30, 100, 50, 60, 10, 80, 90, 40, 70};
    struct th_spread spread;
    ck_assert_int_eq(th_spread_of(11, shuffled, &spread, NULL), TH_OK);
    ck_assert_int_eq(spread.kind, TH_SPREAD_PERCENTILES);
    ck_assert_double_eq_tol(spread.p10, 20.0, 1e-12);
    ck_assert_double_eq_tol(spread.p50, 60.0, 1e-12);
    ck_assert_double_eq_tol(spread.p90, 100.0, 1e-12);
    ck_assert_double_eq_tol(spread.cvar95, 110.0, 1e-12); /* a twentieth of 11 is under one value */
    ck_assert_double_eq(shuffled[0], 110.0);              /* the caller's order is kept */
}
END_TEST

/* Hand-worked: the highest quarter of 1…10 is 2.5 values: (10 + 9 + 8 / 2) / 2.5 = 9.2. */
START_TEST(tail_mean_counts_the_edge_in_part)
{
    const double sorted[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
    ck_assert_double_eq_tol(th_spread_cvar(10, sorted, 0.25), 9.2, 1e-12);
    ck_assert_double_eq_tol(th_spread_cvar(10, sorted, 1.0), 5.5, 1e-12);
    ck_assert_double_eq_tol(th_spread_cvar(10, sorted, 0.05), 10.0, 1e-12);
    ck_assert_double_eq_tol(th_spread_cvar(1, sorted, 0.05), 1.0, 1e-12);
}
END_TEST

/* The same of values that are not sorted, to the last bit. */
START_TEST(tail_mean_of_any_order)
{
    static const double tails[] = {0.001, 0.05, 0.1, 0.25, 0.999, 1.0};
    enum { MOST = 200 };
    for (size_t n = 1; n <= MOST; n++)
        for (size_t t = 0; t < sizeof tails / sizeof *tails; t++) {
            double shuffled[MOST], sorted[MOST];
            for (size_t i = 0; i < n; i++)
                sorted[i] = shuffled[i] = 1.0 / (double)(1 + i * 7919 % 97); /* some are equal */
            gsl_sort(sorted, 1, n);
            ck_assert_double_eq(th_spread_worst(n, shuffled, tails[t]),
                                th_spread_cvar(n, sorted, tails[t]));
        }
}
END_TEST

START_TEST(refuses_nothing_and_not_a_number)
{
    struct th_spread spread;
    struct th_error err;
    const double bad[] = {1.0, NAN, 3.0};
    ck_assert_int_eq(th_spread_of(0, bad, &spread, &err), TH_ERR_INPUT);
    ck_assert_int_eq(th_spread_of(3, bad, &spread, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "value 2 of 3"));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("spread");
    TCase *tc = tcase_create("spread");
    tcase_add_test(tc, few_values_give_a_range_only);
    tcase_add_test(tc, ten_or_more_give_percentiles);
    tcase_add_test(tc, tail_mean_counts_the_edge_in_part);
    tcase_add_test(tc, tail_mean_of_any_order);
    tcase_add_test(tc, refuses_nothing_and_not_a_number);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
