/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cold temperatures found by selection are those of the sorted hours. */
#include "turnheat/design.h"

#include "quantile.h"
#include "run_suite.h"
#include "sample_room.h"
#include "turnheat/calendar.h"
#include "turnheat/weather_summary.h"
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define VALUES_MAX 1000

static double sorted_quantile(double *values, size_t n, double share)
{
    gsl_sort(values, 1, n);
    return gsl_stats_quantile_from_sorted_data(values, 1, n, share);
}

/* In whole numbers, so that many are equal. */
START_TEST(a_quantile_needs_no_sort)
{
    static const double shares[] = {0.0, 0.004, 0.01, 0.1, 0.5, 0.9, 1.0};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus);
    for (size_t n = 1; n <= VALUES_MAX; n = n * 3 / 2 + 1) {
        double values[VALUES_MAX], sorted[VALUES_MAX];
        for (size_t i = 0; i < n; i++)
            values[i] = sorted[i] = floor(100.0 * gsl_rng_uniform(rng));
        for (size_t k = 0; k < sizeof shares / sizeof *shares; k++)
            ck_assert_double_eq(th_quantile(values, n, shares[k]),
                                sorted_quantile(sorted, n, shares[k]));
    }
    gsl_rng_free(rng);
}
END_TEST

/* A mean summed in doubles is that of long doubles, of values as unlike as gallons of winters are.
 */
START_TEST(a_mean_of_doubles_is_near)
{
    static double values[VALUES_MAX * 100];
    const size_t n = sizeof values / sizeof *values;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus);
    for (size_t i = 0; i < n; i++)
        values[i] = 1e4 * exp(gsl_ran_ugaussian(rng));
    const double mean = gsl_stats_mean(values, 1, n);
    ck_assert_double_le(fabs(th_mean(values, n) - mean), 1e-13 * mean);
    gsl_rng_free(rng);
}
END_TEST

/* By the definition: every hour whose date is within 15 days, 29 February as the 28th. */
static double around(const struct th_climate *climate, int date, double *temps)
{
    size_t n = 0;
    for (size_t i = 0; i < climate->n; i++) {
        const struct th_climate_hour *hour = th_climate_at(climate, climate->first_hour + (long)i);
        const struct th_date d = th_date_of(th_day_of_hour(climate->first_hour + (long)i));
        const int off = abs(th_design_date(d.month, d.day) - date);
        if (hour && (off <= 15 || off >= TH_DESIGN_DATES_N - 15))
            temps[n++] = hour->out_c;
    }
    return n > 0 ? sorted_quantile(temps, n, 0.01) : NAN;
}

static void check_dates(const struct th_climate *climate)
{
    double out_c[TH_DESIGN_DATES_N];
    double *temps = malloc(climate->n * sizeof *temps);
    ck_assert_ptr_nonnull(temps);
    ck_assert_int_eq(th_design_dates(climate, out_c, NULL), TH_OK);
    for (int date = 0; date < TH_DESIGN_DATES_N; date++) {
        const double expected = around(climate, date - date % 5, temps);
        if (isnan(expected))
            ck_assert_double_nan(out_c[date]);
        else
            ck_assert_double_eq(out_c[date], expected);
    }
    free(temps);
}

START_TEST(dates_hold_the_hours_around_them)
{
    struct th_climate climate = sample_climate(2015, 3); /* 29 February 2016 in it */
    spread_winters(&climate, 7.0);
    for (size_t i = 0; i < climate.n; i += 7)
        climate.hours[i].state = TH_HOUR_MISSING;
    check_dates(&climate);
    struct th_climate part; /* a winter with no summer, from the middle of a day */
    const long from = 24 * th_day_number(2015, 11, 20) + 7;
    ck_assert_int_eq(th_climate_slice(&part, &climate, from, from + 100 * 24, NULL), TH_OK);
    check_dates(&part);
    th_climate_finish(&part);
    th_climate_finish(&climate);
}
END_TEST

START_TEST(a_typical_year_closes_on_itself)
{
    struct th_climate climate = sample_climate(TH_TYPICAL_YEAR, 1);
    climate.n = 8760;
    climate.first_hour = 24 * th_day_number(TH_TYPICAL_YEAR, 1, 1);
    climate.typical = true;
    for (size_t i = 0; i < climate.n; i++)
        climate.hours[i].out_c = 10.0 - 20.0 * cos((double)i / 8760.0 * 6.28) + (double)(i % 24);
    check_dates(&climate);
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("design");
    TCase *tc = tcase_create("design");
    tcase_add_test(tc, a_quantile_needs_no_sort);
    tcase_add_test(tc, a_mean_of_doubles_is_near);
    tcase_add_test(tc, dates_hold_the_hours_around_them);
    tcase_add_test(tc, a_typical_year_closes_on_itself);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
