/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/study.h"
#include "turnheat/units.h"

#include "run_suite.h"

/* Hand-worked at 0 %: in a study of 15 years a fan of 100 $ that lasts 4 years is bought at the
   start and in years 4, 8 and 12, and the last is good for one year more: 400 − 25 $; two of them
   750 $. */
START_TEST(bought_again_when_worn_out)
{
    struct th_outlay outlay = {0};
    const struct th_study study = {.years = 15, .payer_share = 1.0};
    const struct th_purchase fan = {.cost_usd = 100.0, .life_years = 4.0};
    double usd = 0.0;
    th_outlay_buy(&outlay, 1, &fan, 15);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq_tol(usd, 375.0, 1e-9);
    th_outlay_buy(&outlay, 1, &fan, 15);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq_tol(usd, 750.0, 1e-9);
    ck_assert_int_eq(outlay.n_replacements, 3);
}
END_TEST

/* The longest study and the shortest life, many times over: every year's purchase counts. */
START_TEST(no_replacement_is_lost)
{
    struct th_outlay outlay = {0};
    const struct th_study study = {.years = TH_PAYBACK_YEARS_MAX, .payer_share = 1.0};
    const struct th_purchase part = {.cost_usd = 10.0, .life_years = 1.0};
    double usd = 0.0;
    for (int i = 0; i < 20; i++)
        th_outlay_buy(&outlay, 1, &part, TH_PAYBACK_YEARS_MAX);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq_tol(usd, 20 * 10.0 * TH_PAYBACK_YEARS_MAX, 1e-6);
}
END_TEST

/* Hand-worked, as NIST Handbook 135 counts it (from memory): 1,000 $ that lasts 25 years and is
   worth 60 % at the end of a study of 10 years at 5 %: 1,000 − 600/1.05^10 = 631.65 $, whatever its
   life. */
START_TEST(residual_is_worth_at_the_end_of_the_study)
{
    const struct th_study study = {.years = 10, .discount = 0.05, .payer_share = 1.0};
    const double lives[] = {25.0, 10.0, 0.0};
    for (int i = 0; i < 3; i++) {
        const struct th_purchase bought = {.cost_usd = 1000.0,
                                           .life_years = lives[i],
                                           .has_residual = true,
                                           .residual_share = 0.60};
        struct th_outlay outlay = {0};
        double usd = 0.0;
        th_outlay_buy(&outlay, 1, &bought, 10);
        ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
        ck_assert_double_eq_tol(usd, 631.65, 0.005);
    }
}
END_TEST

/* An option of 4,400 $ that saves 490 $ a year for 25 years. Hand-worked at 5 %:
   UPV 7.7217, 8.8633, 10.3797 for 10, 12, 15 years; left of it 60, 52 and 40 % of its cost,
   discounted 1,620.7, 1,274.0 and 846.6 $. SIR 3,783.6 / 2,779.3 and so on; over its own 25 years
   490 × 14.0939 / 4,400. */
START_TEST(a_long_life_counts_whatever_the_study)
{
    static const struct {
        int years;
        double net_usd, sir;
    } rows[] = {{10, 1004.3, 1.361}, {12, 1217.0, 1.389}, {15, 1532.7, 1.431}, {25, 2506.0, 1.570}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct th_study study = {
            .years = rows[i].years, .discount = 0.05, .price_usd_unit = 1.0, .payer_share = 1.0};
        const struct th_purchase bought = {.cost_usd = 4400.0, .life_years = 25.0};
        const struct th_outlay base = {.fuel_units_year = 1000.0};
        struct th_outlay better = {.fuel_units_year = 510.0};
        struct th_return result;
        th_outlay_buy(&better, 1, &bought, study.years);
        ck_assert_int_eq(th_payback_compare(&base, &better, &study, &result, NULL), TH_OK);
        ck_assert_double_eq_tol(result.net_usd, rows[i].net_usd, 1.0);
        ck_assert_double_eq_tol(result.sir.value, rows[i].sir, 0.001);
    }
}
END_TEST

/* A life of 9.5 years ends in the last of 10: nothing is bought for what is left of it. */
START_TEST(nothing_is_replaced_in_the_last_year)
{
    const struct th_purchase lamp = {.cost_usd = 100.0, .life_years = 9.5};
    struct th_outlay outlay = {0};
    th_outlay_buy(&outlay, 1, &lamp, 10);
    ck_assert_int_eq(outlay.n_replacements, 0);
    ck_assert_double_eq(outlay.residual_usd, 0.0);
}
END_TEST

START_TEST(a_rebate_comes_once)
{
    const struct th_study study = {.years = 10, .discount = 0.05, .payer_share = 1.0};
    const struct th_purchase rebate = {.cost_usd = -500.0, .life_years = 4.0};
    struct th_outlay outlay = {0};
    double usd = 0.0;
    th_outlay_buy(&outlay, 2, &rebate, 10);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq(usd, -1000.0);
}
END_TEST

/* Hand-worked: 1,000 $ over 10 years at 5 % is 1,000 / 7.7217 = 129.50 $ a year; at 0 % 100 $. */
START_TEST(equivalent_annual_cost)
{
    ck_assert_double_eq_tol(th_annual_usd(1000.0, 10.0, 0.05), 129.50, 0.01);
    ck_assert_double_eq_tol(th_annual_usd(1000.0, 10.0, 0.0), 100.0, 1e-9);
    ck_assert_double_eq(th_annual_usd(1000.0, 0.0, 0.05), 1000.0);
}
END_TEST

/* 91.5 million Btu are 1,000 gal of propane at $1.80, or 915 therms at $0.90: what 457.5 gal cost.
 */
START_TEST(another_fuel_counts_by_what_it_costs)
{
    struct th_fuel propane = {0}, natural = {0};
    const double gas_j = 91.5e6 * TH_J_PER_BTU;
    th_fuel_of_gas(&propane, TH_PROPANE);
    th_fuel_of_gas(&natural, TH_NATURAL_GAS);
    ck_assert_double_eq_tol(th_units_as_dear(&propane, &natural, gas_j), 915.0, 1e-6);
    propane.has_price = natural.has_price = true;
    propane.price = 1.80;
    natural.price = 0.90;
    ck_assert_double_eq_tol(th_units_as_dear(&propane, &propane, gas_j), 1000.0, 1e-6);
    ck_assert_double_eq_tol(th_units_as_dear(&propane, &natural, gas_j), 457.5, 1e-6);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("study");
    TCase *tc = tcase_create("study");
    tcase_add_test(tc, bought_again_when_worn_out);
    tcase_add_test(tc, no_replacement_is_lost);
    tcase_add_test(tc, residual_is_worth_at_the_end_of_the_study);
    tcase_add_test(tc, a_long_life_counts_whatever_the_study);
    tcase_add_test(tc, nothing_is_replaced_in_the_last_year);
    tcase_add_test(tc, a_rebate_comes_once);
    tcase_add_test(tc, equivalent_annual_cost);
    tcase_add_test(tc, another_fuel_counts_by_what_it_costs);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
