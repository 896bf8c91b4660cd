/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/study.h"

#include "run_suite.h"

/* Hand-worked at 0 %: in a study of 15 years a fan of 100 $ that lasts 4 years is bought at the
   start and in years 4, 8 and 12: 400 $; two of them 800 $. */
START_TEST(bought_again_when_worn_out)
{
    struct th_outlay outlay = {0};
    const struct th_study study = {.years = 15, .payer_share = 1.0};
    const struct th_purchase fan = {.cost_usd = 100.0, .life_years = 4.0};
    double usd = 0.0;
    th_outlay_buy(&outlay, 1, &fan, 15);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq_tol(usd, 400.0, 1e-9);
    th_outlay_buy(&outlay, 1, &fan, 15);
    ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
    ck_assert_double_eq_tol(usd, 800.0, 1e-9);
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
        const struct th_purchase bought = {
            .cost_usd = 1000.0, .life_years = lives[i], .residual_share = 0.60};
        struct th_outlay outlay = {0};
        double usd = 0.0;
        th_outlay_buy(&outlay, 1, &bought, 10);
        ck_assert_int_eq(th_payback_lcc(&outlay, &study, &usd, NULL), TH_OK);
        ck_assert_double_eq_tol(usd, 631.65, 0.005);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("study");
    TCase *tc = tcase_create("study");
    tcase_add_test(tc, bought_again_when_worn_out);
    tcase_add_test(tc, no_replacement_is_lost);
    tcase_add_test(tc, residual_is_worth_at_the_end_of_the_study);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
