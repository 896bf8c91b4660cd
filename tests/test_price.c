/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/price.h"

#include "run_suite.h"
#include "turnheat/calendar.h"
#include <gsl/gsl_statistics_double.h>
#include <math.h>

enum { PATHS = 2048, WINTERS = 30 };

static struct th_price_model sample_model(void)
{
    struct th_price_model model;
    th_price_defaults(&model);
    model.posted_usd_gal = 1.90; /* 1.00 $/gal wholesale */
    return model;
}

static void init_paths(struct th_price_paths *paths, const struct th_price_model *model)
{
    double gal[WINTERS];
    for (int i = 0; i < WINTERS; i++)
        gal[i] = 8000.0 + 100.0 * ((i * 7) % WINTERS);
    ck_assert_int_eq(th_price_paths_init(paths, model, PATHS, 1, WINTERS, gal, NULL), TH_OK);
}

/* Ratios derived from 284 monthly Gulf-coast prices 1992–2016; other months only lie between. */
START_TEST(month_index_meets_its_known_months)
{
    double index[TH_PRICE_MONTHS];
    th_price_month_index(index);
    ck_assert_double_eq_tol(index[0], 1.011, 1e-12);
    ck_assert_double_eq_tol(index[5], 0.950, 1e-12);
    ck_assert_double_eq_tol(index[9], 1.051, 1e-12);
    for (int m = 0; m < TH_PRICE_MONTHS; m++) {
        ck_assert(index[m] >= 0.950 && index[m] <= 1.051);
        ck_assert(fabs(index[m] - index[(m + 1) % 12]) < 0.04);
    }
}
END_TEST

/* The six weeks from 15 January are 15 January to 25 February, in leap years as well. */
START_TEST(tight_weeks)
{
    const struct th_price_model model = sample_model();
    ck_assert_int_eq(th_price_period(&model, th_day_number(2018, 1, 14)), 0);
    ck_assert_int_eq(th_price_period(&model, th_day_number(2018, 1, 15)), 12);
    ck_assert_int_eq(th_price_period(&model, th_day_number(2018, 2, 25)), 13);
    ck_assert_int_eq(th_price_period(&model, th_day_number(2018, 2, 26)), 1);
    ck_assert_int_eq(th_price_period(&model, th_day_number(2020, 2, 25)), 13);
    ck_assert_int_eq(th_price_period(&model, th_day_number(2017, 10, 3)), 9);
    struct th_price_model over_new_year = model;
    over_new_year.tight_month = 12;
    over_new_year.tight_day = 20;
    ck_assert_int_eq(th_price_period(&over_new_year, th_day_number(2018, 1, 5)), 12);
    ck_assert_int_eq(th_price_period(&over_new_year, th_day_number(2018, 2, 5)), 1);
}
END_TEST

/* The definition: today 1 August; the log of wholesale in month m has standard deviation σ √t and
   Pearson correlation ρ with the winters' scores; its mean price is today's along the index. The
   scores are those of equal ranks, so sampling leaves the means about 1 % off at ρ 0.3. */
static void check_month(const struct th_price_paths *paths, int month, double years)
{
    static double log_usd[PATHS * WINTERS], usd[PATHS * WINTERS], score[PATHS * WINTERS];
    size_t n = 0;
    for (size_t w = 0; w < WINTERS; w++)
        for (size_t p = 0; p < PATHS; p++, n++) {
            double posted[TH_PRICE_PERIODS];
            th_price_posted(paths, p, w, 0.0, posted);
            usd[n] = posted[month] - 0.90;
            log_usd[n] = log(usd[n]);
            score[n] = paths->score[w];
        }
    const double *index = paths->model.month_index;
    ck_assert_double_eq_tol(gsl_stats_sd(log_usd, 1, n), 0.34 * sqrt(years), 0.004);
    ck_assert_double_eq_tol(gsl_stats_mean(usd, 1, n) / (index[month] / index[7]), 1.0, 0.01);
    ck_assert_double_eq_tol(gsl_stats_correlation(log_usd, 1, score, 1, n), 0.3, 0.01);
}

START_TEST(paths_have_the_stated_moments)
{
    const struct th_price_model model = sample_model();
    struct th_price_paths paths;
    init_paths(&paths, &model);
    check_month(&paths, 8, 1.0 / 12.0);
    check_month(&paths, 0, 5.0 / 12.0);
    check_month(&paths, 5, 10.0 / 12.0);
    double posted[TH_PRICE_PERIODS];
    th_price_posted(&paths, 17, 3, 0.0, posted);
    ck_assert_double_eq_tol(posted[7], 1.90, 1e-12); /* today's month is known */
    th_price_paths_finish(&paths);
    th_price_paths_finish(&paths);
    th_price_paths_finish(NULL);
}
END_TEST

/* Steps of a random walk are uncorrelated: month to month levels correlate as √(t1 / t2). */
START_TEST(paths_are_random_walks)
{
    const struct th_price_model model = sample_model();
    struct th_price_paths paths;
    init_paths(&paths, &model);
    const double r = gsl_stats_correlation(paths.z + 9, 12, paths.z + 3, 12, PATHS);
    ck_assert_double_eq_tol(r, sqrt(2.0 / 8.0), 0.02); /* October 2 months on, April 8 */
    th_price_paths_finish(&paths);
}
END_TEST

START_TEST(tight_supply_has_its_chance)
{
    const struct th_price_model model = sample_model();
    struct th_price_paths paths;
    init_paths(&paths, &model);
    int tight = 0;
    for (size_t p = 0; p < PATHS; p++) {
        double never[TH_PRICE_PERIODS], some[TH_PRICE_PERIODS], always[TH_PRICE_PERIODS];
        th_price_posted(&paths, p, 0, 0.0, never);
        th_price_posted(&paths, p, 0, 0.1, some);
        th_price_posted(&paths, p, 0, 1.0, always);
        ck_assert_double_eq(never[12], never[0]);
        ck_assert_double_eq_tol(always[12], 2.0 * never[0], 1e-12);
        ck_assert_double_eq(always[0], never[0]);
        tight += some[12] > 1.5 * some[0];
    }
    ck_assert_double_eq_tol(tight / (double)PATHS, 0.1, 0.005);
    th_price_paths_finish(&paths);
}
END_TEST

/* The same seed gives the same prices, another seed others; equal winters have no score. */
START_TEST(seeded_and_reproducible)
{
    const struct th_price_model model = sample_model();
    struct th_price_paths one, same, other;
    const double equal[3] = {5000, 5000, 5000};
    init_paths(&one, &model);
    init_paths(&same, &model);
    ck_assert_int_eq(th_price_paths_init(&other, &model, 10, 2, 3, equal, NULL), TH_OK);
    for (int i = 0; i < PATHS * 12; i++)
        ck_assert_double_eq(one.z[i], same.z[i]);
    ck_assert_double_ne(one.z[0], other.z[0]);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq(other.score[i], 0.0);
    th_price_paths_finish(&one);
    th_price_paths_finish(&same);
    th_price_paths_finish(&other);
}
END_TEST

/* Planned in May, the season's first month already is two months off; in January the autumn is
   past. */
START_TEST(today_before_or_in_the_season)
{
    struct th_price_model model = sample_model();
    struct th_price_paths paths;
    model.today_month = 5;
    init_paths(&paths, &model);
    ck_assert_double_ne(paths.z[6], 0.0);
    th_price_paths_finish(&paths);
    model.today_month = 1;
    init_paths(&paths, &model);
    ck_assert_double_eq(paths.z[11], 0.0);
    ck_assert_double_eq(paths.z[0], 0.0);
    ck_assert_double_ne(paths.z[1], 0.0);
    th_price_paths_finish(&paths);
}
END_TEST

START_TEST(refuses_what_is_out_of_range)
{
    struct th_price_model model = sample_model();
    struct th_price_paths paths;
    struct th_error err;
    const double gal[] = {NAN};
    ck_assert_int_eq(th_price_paths_init(&paths, &model, 10, 1, 1, gal, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_price_paths_init(&paths, &model, 10, 1, 0, gal, &err), TH_ERR_RANGE);
    model.posted_usd_gal = 0.50;
    ck_assert_int_eq(th_price_check(&model, &err), TH_ERR_RANGE);
    model = sample_model();
    model.rho = NAN;
    ck_assert_int_eq(th_price_check(&model, &err), TH_ERR_RANGE);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("price");
    TCase *tc = tcase_create("price");
    tcase_add_test(tc, month_index_meets_its_known_months);
    tcase_add_test(tc, tight_weeks);
    tcase_add_test(tc, paths_have_the_stated_moments);
    tcase_add_test(tc, paths_are_random_walks);
    tcase_add_test(tc, tight_supply_has_its_chance);
    tcase_add_test(tc, seeded_and_reproducible);
    tcase_add_test(tc, today_before_or_in_the_season);
    tcase_add_test(tc, refuses_what_is_out_of_range);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
