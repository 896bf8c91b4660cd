/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calibrate.h"

#include "run_suite.h"
#include "validation/validate.h"

/* H5. ASHRAE Guideline 14 formulas, p = 1. */
START_TEST(errors_of_a_fit)
{
    const double measured[] = {620, 540, 430, 210, 90, 60, 55, 55, 80, 190, 380, 560};
    const double simulated[] = {600, 560, 410, 225, 85, 62, 57, 52, 86, 180, 400, 540};
    double nmbe = 0.0, cv_rmse = 0.0;
    ck_assert_int_eq(th_fit_nmbe(12, measured, simulated, 1, &nmbe, NULL), TH_OK);
    ck_assert_int_eq(th_fit_cv_rmse(12, measured, simulated, 1, &cv_rmse, NULL), TH_OK);
    validate("H5", VALIDATE_CHECK, "ASHRAE Guideline 14 formulas", "NMBE, p = 1", 0.4337,
             100.0 * nmbe, 0.00005, "%");
    validate("H5", VALIDATE_CHECK, "ASHRAE Guideline 14 formulas", "CV(RMSE), p = 1", 5.4239,
             100.0 * cv_rmse, 0.00005, "%");
    ck_assert_int_eq(th_fit_nmbe(1, measured, simulated, 1, &nmbe, NULL), TH_ERR_INPUT);
    const double nothing[3] = {0};
    ck_assert_int_eq(th_fit_cv_rmse(3, nothing, nothing, 1, &cv_rmse, NULL), TH_ERR_INPUT);
}
END_TEST

/* Hand-worked: 500 delivered, gauge 30 % before and 25 % at the next fill of 1,000 gal: 550. */
START_TEST(gallons_between_fills)
{
    const struct th_tank_fill fills[] = {{17500, 0.30, 500}, {17510, 0.25, 400}, {17520, 0.40, 0}};
    double gal[2];
    th_fill_used_gal(3, fills, 1000.0, gal);
    ck_assert_double_eq_tol(gal[0], 550.0, 1e-9);
    ck_assert_double_eq_tol(gal[1], 250.0, 1e-9);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("calibrate");
    TCase *tc = tcase_create("calibrate");
    tcase_add_test(tc, errors_of_a_fit);
    tcase_add_test(tc, gallons_between_fills);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
