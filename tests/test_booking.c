/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/booking.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>

/* H1. Snyder & Shen, Fundamentals of Supply Chain Theory, 2019: holding 2, shortage 18, N(120, 10)
   gives S 132.815515655446 and cost 35.09966638649737 (printed by the book's own software). */
START_TEST(newsvendor_with_normal_need)
{
    double volume = 0.0, cost = 0.0;
    ck_assert_int_eq(th_booking_normal(120.0, 10.0, 18.0, 2.0, &volume, &cost, NULL), TH_OK);
    const char *const source = "Snyder & Shen, Fundamentals of Supply Chain Theory, 2019";
    validate("H1", VALIDATE_CHECK, source, "newsvendor, best order", 132.815515655446, volume, 1e-9,
             "units");
    validate("H1", VALIDATE_CHECK, source, "newsvendor, cost", 35.09966638649737, cost, 1e-9, "$");
}
END_TEST

static struct th_booking_terms sample_terms(double rho)
{
    return (struct th_booking_terms){.posted_usd_gal = 1.75,
                                     .posted_sigma = 0.25,
                                     .price_usd_gal = 1.65,
                                     .resale_usd_gal = 1.25,
                                     .rho = rho};
}

static const struct {
    double rho, volume_gal;
} correlated[] = {{0.0, 7470.3}, {0.3, 7898.0}, {0.5, 8218.6}, {0.7, 8551.3}};

/* H2. Derived: closed form, printed to 0.1 gal. */
START_TEST(correlated_lognormals)
{
    const struct th_booking_terms terms = sample_terms(correlated[_i].rho);
    double volume = 0.0;
    ck_assert_int_eq(th_booking_lognormal(9000.0, 0.20, &terms, &volume, NULL), TH_OK);
    char what[80];
    snprintf(what, sizeof what, "volume to book, lognormal gallons and price, correlation %.1f",
             terms.rho);
    validate("H2", VALIDATE_CHECK, "derived", what, correlated[_i].volume_gal, volume, 0.06, "gal");
}
END_TEST

/* H2 again by simulation, without the closed form: at the best volume one gallon more gains what it
   loses, E[p; D > Q] − p_c P(D > Q) − c_o P(D ≤ Q) = 0, here within four standard errors; 3 % to
   either side it is off by more. */
START_TEST(simulation_agrees_with_closed_form)
{
    const struct th_booking_terms terms = sample_terms(correlated[_i].rho);
    const double s = sqrt(log(1.04)), m = log(9000.0) - 0.5 * s * s;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    double sum[3] = {0}, squares = 0.0;
    enum { DRAWS = 400000 };
    for (int i = 0; i < DRAWS; i++) {
        double x, y;
        gsl_ran_bivariate_gaussian(rng, 1.0, 1.0, terms.rho, &x, &y);
        const double need = exp(m + s * x);
        const double price = 1.75 * exp(0.25 * y - 0.5 * 0.25 * 0.25);
        for (int k = 0; k < 3; k++) {
            const double volume = correlated[_i].volume_gal * (0.97 + 0.03 * k);
            const double gain = need > volume ? price - 1.65 : -(1.65 - 1.25);
            sum[k] += gain;
            squares += k == 1 ? gain * gain : 0.0;
        }
    }
    gsl_rng_free(rng);
    const double error = sqrt(squares) / DRAWS;
    ck_assert_double_le(fabs(sum[1] / DRAWS), 4.0 * error);
    ck_assert_double_ge(sum[0] / DRAWS, 4.0 * error);
    ck_assert_double_le(sum[2] / DRAWS, -4.0 * error);
}
END_TEST

/* With a sure price the closed form is the newsvendor's fractile of a lognormal: F(Q) = 0.2 here.
 */
START_TEST(sure_price_gives_the_fractile)
{
    struct th_booking_terms terms = sample_terms(0.3);
    terms.posted_sigma = 0.0;
    double volume, fractile;
    th_booking_lognormal(9000.0, 0.20, &terms, &volume, NULL);
    th_booking_fractile(0.10, 0.40, &fractile, NULL);
    ck_assert_double_eq_tol(fractile, 0.2, 1e-12);
    const double s = sqrt(log(1.04));
    ck_assert_double_eq_tol(volume, 9000.0 * exp(-0.8416212335729143 * s - 0.5 * s * s), 1e-4);
}
END_TEST

/* Hand-worked: of ten seasons the 0.3 fractile is the third lowest, 0.31 the fourth, 0 the first.
 */
START_TEST(few_seasons_take_an_order_statistic)
{
    const double gal[] = {900, 100, 800, 200, 700, 300, 600, 400, 500, 1000};
    double volume;
    th_booking_ordered(10, gal, 0.30, &volume, NULL);
    ck_assert_double_eq(volume, 300.0);
    th_booking_ordered(10, gal, 0.31, &volume, NULL);
    ck_assert_double_eq(volume, 400.0);
    th_booking_ordered(10, gal, 0.0, &volume, NULL);
    ck_assert_double_eq(volume, 100.0);
    th_booking_ordered(10, gal, 1.0, &volume, NULL);
    ck_assert_double_eq(volume, 1000.0);
    const struct th_booking_terms terms = sample_terms(0.0); /* fractile 0.10 / 0.50 = 0.2 */
    th_booking_best(10, gal, &terms, &volume, NULL);
    ck_assert_double_eq(volume, 200.0);
}
END_TEST

START_TEST(awkward_terms)
{
    struct th_booking_terms terms = sample_terms(0.3);
    double volume = -1.0, cost;
    terms.posted_usd_gal = terms.price_usd_gal;
    ck_assert_int_eq(th_booking_lognormal(9000.0, 0.2, &terms, &volume, NULL), TH_OK);
    ck_assert_double_eq(volume, 0.0);
    terms = sample_terms(0.3);
    terms.resale_usd_gal = terms.price_usd_gal;
    ck_assert_int_eq(th_booking_lognormal(9000.0, 0.2, &terms, &volume, NULL), TH_ERR_RANGE);
    terms = sample_terms(NAN);
    ck_assert_int_eq(th_booking_lognormal(9000.0, 0.2, &terms, &volume, NULL), TH_ERR_RANGE);
    ck_assert_int_eq(th_booking_normal(1.0, 1.0, 0.0, 0.0, &volume, &cost, NULL), TH_ERR_MODEL);
    ck_assert_int_eq(th_booking_ordered(0, NULL, 0.5, &volume, NULL), TH_ERR_INPUT);
    terms = sample_terms(1.0);
    terms.posted_usd_gal = 1.6500001; /* the root lies far out in the tail */
    ck_assert_int_eq(th_booking_lognormal(9000.0, 0.2, &terms, &volume, NULL), TH_OK);
    ck_assert(isfinite(volume) && volume > 0.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("booking");
    TCase *tc = tcase_create("booking");
    tcase_add_test(tc, newsvendor_with_normal_need);
    tcase_add_loop_test(tc, correlated_lognormals, 0, 4);
    tcase_add_loop_test(tc, simulation_agrees_with_closed_form, 0, 4);
    tcase_add_test(tc, sure_price_gives_the_fractile);
    tcase_add_test(tc, few_seasons_take_an_order_statistic);
    tcase_add_test(tc, awkward_terms);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
