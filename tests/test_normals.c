/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Winters from monthly statistics, held against the statistics they are made from, Schoenau &
   Kehrig 1990 and the spread of real winters at Milwaukee: standard deviation of the yearly
   degree-days below 65 °F 549; October–March, base 60 °F: the 90th percentile 11 % and the 99th
   17 % above the median (88 seasons of daily records, computed elsewhere). */
#include "turnheat/normals.h"
#include "turnheat/places.h"

#include "normals_read.h"
#include "turnheat/calendar.h"
#include "turnheat/degree_days.h"
#include "turnheat/units.h"
#include "weather_fixture.h"
#include "weather_write.h"
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define SEASONS 50
#define SEEDS 10
#define BASES 6

static struct th_normals milwaukee;

static void read_milwaukee(void)
{
    struct th_error err;
    ck_assert_msg(th_normals_read(NULL, "weather/milwaukee.csv", &milwaukee, &err) == TH_OK,
                  "%s:%ld: %s", err.file, err.line, err.text);
}

/* All winters of all seeds, gathered once. */
static struct gathered {
    bool ready;
    double days[12], sum_f[12], square[12], lagged[12], lag_days[12], range_f[12];
    double degree_days[12][BASES]; /* bases 40, 45 … 65 °F */
    double year_65[SEEDS * SEASONS], winter_60[SEEDS * SEASONS];
} all;

static void gather_day(const struct th_climate *climate, long day, double *before_f)
{
    const struct th_date date = th_date_of(day);
    const int m = date.month - 1;
    const double normal_f = th_f_from_c(milwaukee.month[m].mean_c);
    double mean = 0.0, low = INFINITY, high = -INFINITY;
    for (int h = 0; h < 24; h++) {
        const double t = th_f_from_c(th_climate_at(climate, day * 24 + h)->out_c);
        mean += t / 24.0;
        low = fmin(low, t);
        high = fmax(high, t);
    }
    all.days[m]++;
    all.sum_f[m] += mean;
    all.square[m] += (mean - normal_f) * (mean - normal_f);
    all.range_f[m] += high - low;
    if (date.day > 1) {
        all.lagged[m] += (mean - normal_f) * (*before_f - normal_f);
        all.lag_days[m]++;
    }
    for (int b = 0; b < BASES; b++)
        all.degree_days[m][b] += fmax(0.0, 40.0 + 5.0 * b - mean);
    *before_f = mean;
}

static double span_f_d(const struct th_climate *climate, int year, int month, long days,
                       double base_f)
{
    const long first = th_day_number(year, month, 1) * 24;
    return th_degree_days_count(climate, first, days * 24, th_c_from_f(base_f)).mean_k_d /
           TH_K_PER_F;
}

static void gather_seed(unsigned long seed)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    double before_f = 0.0;
    ck_assert_int_eq(th_normals_generate(&milwaukee, SEASONS, seed, &weather, &err), TH_OK);
    ck_assert_int_eq(th_climate_init(&climate, &weather, 200.0, NAN, &err), TH_OK);
    const long end = th_day_number(TH_NORMAL_FIRST_YEAR + SEASONS, 7, 1);
    for (long day = th_day_number(TH_NORMAL_FIRST_YEAR, 7, 1); day < end; day++)
        gather_day(&climate, day, &before_f);
    for (int i = 0; i < SEASONS; i++) {
        const int year = TH_NORMAL_FIRST_YEAR + i;
        const size_t k = (seed - 1) * SEASONS + (size_t)i;
        all.year_65[k] = span_f_d(&climate, year, 7, 365, 65.0);
        all.winter_60[k] = span_f_d(&climate, year, 10, 182, 60.0);
    }
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}

static void gather(void)
{
    if (all.ready)
        return;
    read_milwaukee();
    for (unsigned long seed = 1; seed <= SEEDS; seed++)
        gather_seed(seed);
    all.ready = true;
}

/* Months of such days vary by up to 5.5 °F, so the mean of 500 is known to 0.25 °F; a spread or a
   correlation to 2 %. The range is fitted, so it is held loosely. */
START_TEST(months_have_the_figures_they_are_made_from)
{
    gather();
    const struct th_month_normal *normal = &milwaukee.month[_i];
    const double variance = all.square[_i] / all.days[_i];
    ck_assert_double_eq_tol(all.sum_f[_i] / all.days[_i], th_f_from_c(normal->mean_c), 0.75);
    ck_assert_double_eq_tol(sqrt(variance) / (normal->sd_k / TH_K_PER_F), 1.0, 0.04);
    ck_assert_double_eq_tol(all.lagged[_i] / all.lag_days[_i] / variance, normal->lag1, 0.04);
    ck_assert_double_eq_tol(all.range_f[_i] / all.days[_i] / (normal->range_k / TH_K_PER_F), 1.0,
                            0.13);
}
END_TEST

static double schoenau_kehrig(double base_f, double mean_f, double sd_f, double days)
{
    double expected;
    ck_assert_int_eq(th_hdd_schoenau_kehrig(base_f, mean_f, sd_f, days, &expected, NULL), TH_OK);
    return expected;
}

/* Base 40 + 5 i °F, October to April. With the statistics the days have: within 1 % or 2 °F·day a
   month, which tests the distribution. With those they are made from: within 2 % over the months,
   since the mean of 500 winters, whose degree-days vary by 8 to 18 %, is known to 0.4 to 0.8 %. */
START_TEST(degree_days_agree_with_schoenau_and_kehrig)
{
    gather();
    const double base_f = 40.0 + 5.0 * _i;
    double ours = 0.0, theirs = 0.0;
    for (int m = 0; m < 12; m++) {
        if (m > 3 && m < 9)
            continue;
        const struct th_month_normal *normal = &milwaukee.month[m];
        const double normal_f = th_f_from_c(normal->mean_c);
        const double mean_f = all.sum_f[m] / all.days[m];
        const double sd_f = sqrt(all.square[m] / all.days[m] - pow(mean_f - normal_f, 2));
        const double days = all.days[m] / (SEEDS * SEASONS);
        const double made = all.degree_days[m][_i] / (SEEDS * SEASONS);
        const double expected = schoenau_kehrig(base_f, mean_f, sd_f, days);
        ck_assert_double_eq_tol(made, expected, fmax(0.01 * expected, 2.0));
        ours += made;
        theirs += schoenau_kehrig(base_f, normal_f, normal->sd_k / TH_K_PER_F, days);
    }
    ck_assert_double_eq_tol(ours / theirs, 1.0, 0.02);
}
END_TEST

/* 549 °F·day, held to 15 %: 500 winters know a standard deviation to 3 %, 88 real ones to 8 %. */
START_TEST(years_differ_as_real_ones_do)
{
    gather();
    const double sd = gsl_stats_sd(all.year_65, 1, SEEDS * SEASONS);
    ck_assert_double_eq_tol(sd / 549.0, 1.0, 0.15);
}
END_TEST

/* 11 % and 17 %; the 99th of 88 real winters is their coldest, so it is known to a few percent. */
START_TEST(hard_winters_are_as_hard_as_real_ones)
{
    gather();
    gsl_sort(all.winter_60, 1, SEEDS * SEASONS);
    const double middle = gsl_stats_median_from_sorted_data(all.winter_60, 1, SEEDS * SEASONS);
    const double p90 = gsl_stats_quantile_from_sorted_data(all.winter_60, 1, SEEDS * SEASONS, 0.90);
    const double p99 = gsl_stats_quantile_from_sorted_data(all.winter_60, 1, SEEDS * SEASONS, 0.99);
    ck_assert_double_eq_tol(p90 / middle, 1.11, 0.025);
    ck_assert_double_eq_tol(p99 / middle, 1.17, 0.05);
}
END_TEST

/* Same seed, same series: the first hours of seed 1, frozen when first made. Another machine must
   give them too. Another seed gives others. */
START_TEST(a_seed_gives_one_series)
{
    struct th_weather a, b, other;
    read_milwaukee();
    ck_assert_int_eq(th_normals_generate(&milwaukee, 2, 1, &a, NULL), TH_OK);
    ck_assert_int_eq(th_normals_generate(&milwaukee, 2, 1, &b, NULL), TH_OK);
    ck_assert_int_eq(th_normals_generate(&milwaukee, 2, 2, &other, NULL), TH_OK);
    ck_assert_uint_eq(a.n, (365 + 365 + 184) * 24);
    double sum = 0.0;
    size_t different = 0;
    for (size_t i = 0; i < a.n; i++) {
        ck_assert_double_eq(a.reports[i].value[TH_TEMP_C], b.reports[i].value[TH_TEMP_C]);
        different += a.reports[i].value[TH_TEMP_C] != other.reports[i].value[TH_TEMP_C];
        sum += a.reports[i].value[TH_TEMP_C];
    }
    ck_assert_uint_gt(different, a.n / 2);
    ck_assert_double_eq(a.reports[0].value[TH_TEMP_C], 15.4);
    ck_assert_double_eq_tol(sum, 217434.5, 0.05);
    th_weather_finish(&a);
    th_weather_finish(&b);
    th_weather_finish(&other);
}
END_TEST

START_TEST(what_is_written_is_read_again)
{
    struct th_weather made, again;
    char *text = NULL;
    size_t size = 0;
    struct th_normals omaha;
    ck_assert_int_eq(th_normals_read(NULL, "weather/omaha.csv", &omaha, NULL), TH_OK);
    ck_assert_str_eq(omaha.place, "Omaha, Nebraska");
    ck_assert_int_eq(th_normals_generate(&omaha, 1, 7, &made, NULL), TH_OK);
    FILE *stream = open_memstream(&text, &size);
    th_weather_write(&made, "invented", stream);
    fclose(stream);
    read_ok("made.csv", text, NULL, &again);
    ck_assert_uint_eq(again.n, made.n);
    for (size_t i = 0; i < made.n; i++) {
        ck_assert_int_eq(again.reports[i].minute, made.reports[i].minute);
        ck_assert_uint_eq(again.reports[i].has, made.reports[i].has);
        ck_assert_double_eq(again.reports[i].value[TH_TEMP_C], made.reports[i].value[TH_TEMP_C]);
        ck_assert_double_eq(again.reports[i].value[TH_DEW_C], made.reports[i].value[TH_DEW_C]);
        ck_assert_double_eq(again.reports[i].value[TH_WIND_M_S],
                            made.reports[i].value[TH_WIND_M_S]);
    }
    free(text);
    th_weather_finish(&made);
    th_weather_finish(&again);
}
END_TEST

/* Spreadsheets put a byte-order mark before the first line and CR at line ends. */
START_TEST(a_spreadsheets_file_keeps_its_place)
{
    static const char text[] = "\xEF\xBB\xBF# place: Invented, Nowhere\r\n"
                               "month,mean_c,sd_c,lag1,range_c\r\n"
                               "1,0,5,0.7,8\r\n2,0,5,0.7,8\r\n3,0,5,0.7,8\r\n4,0,5,0.7,8\r\n"
                               "5,0,5,0.7,8\r\n6,0,5,0.7,8\r\n7,0,5,0.7,8\r\n8,0,5,0.7,8\r\n"
                               "9,0,5,0.7,8\r\n10,0,5,0.7,8\r\n11,0,5,0.7,8\r\n12,0,5,0.7,8\r\n";
    struct th_normals normals;
    struct scratch f = scratch_text("normals.csv", text);
    ck_assert_int_eq(th_normals_read(NULL, f.path, &normals, NULL), TH_OK);
    ck_assert_str_eq(normals.place, "Invented, Nowhere");
    scratch_remove(&f);
}
END_TEST

#define MEANS                                                                                      \
    "month,mean_c\n1,-5\n2,-3\n3,3\n4,10\n5,16\n6,21\n7,23\n8,22\n9,18\n10,11\n11,3\n12,-4\n"

/* Means alone: the spread is that of the known places, the dew point as far below the mean. */
START_TEST(means_alone_take_the_spread_of_places)
{
    static const char *const heads[] = {"# place: Mason City, Iowa\n",
                                        "# latitude: 41.0\n# longitude: -95.0\n"};
    const struct th_places_row *row;
    struct th_normals normals, near;
    char text[400];
    snprintf(text, sizeof text, "%s%s", heads[_i], MEANS);
    struct scratch f = scratch_text("means.csv", text);
    ck_assert_int_eq(th_normals_read(NULL, f.path, &normals, NULL), TH_OK);
    scratch_remove(&f);
    ck_assert_int_eq(th_places_find("Mason City, Iowa", &row, NULL), TH_OK);
    const double north = _i ? 41.0 : row->latitude_deg, east = _i ? -95.0 : row->longitude_deg;
    th_places_normals(north, east, th_places_elevation_m(north, east), &near);
    ck_assert(normals.spread_of_places);
    ck_assert_double_eq_tol(normals.month[0].mean_c, -5.0, 1e-12);
    for (int i = 0; i < 12; i++) {
        ck_assert_double_eq_tol(normals.month[i].sd_k, near.month[i].sd_k, 1e-12);
        ck_assert_double_eq_tol(normals.month[i].lag1, near.month[i].lag1, 1e-12);
        ck_assert_double_eq_tol(normals.month[i].range_k, near.month[i].range_k, 1e-12);
        ck_assert_double_eq_tol(normals.month[i].mean_c - normals.month[i].dew_c,
                                near.month[i].mean_c - near.month[i].dew_c, 1e-9);
    }
    ck_assert_double_eq_tol(normals.season_offset_k, near.season_offset_k, 1e-12);
}
END_TEST

struct bad_normals {
    const char *text, *words;
};

#define NAMES "month,mean_c,sd_c,lag1,range_c\n"
static const struct bad_normals bads[] = {
    {"month,mean_f,lag1,range_f\n1,2,3,4\n", "sd_c"},
    {NAMES "1,0,5,0.7,8\n", "found 1 months"},
    {NAMES "13,0,5,0.7,8\n", "\"13\""},
    {NAMES "1,0,5,0.7,8\n1,0,5,0.7,8\n", "once"},
    {NAMES "1,cold,5,0.7,8\n", "\"cold\""},
    {NAMES "1,0,5,0.7,8\n2,0,5,0.7,8\n3,0,5,0.7,8\n4,0,5,0.7,8\n5,0,5,0.7,8\n6,0,5,0.7,8\n"
           "7,0,5,0.7,8\n8,0,5,0.7,8\n9,0,5,0.7,8\n10,0,5,0.7,8\n11,0,5,0.7,8\n12,0,0,0.7,8\n",
     "month 12"},
    {MEANS, "means alone"},
    {"# place: Nowhere, Iowa\n" MEANS, "means alone"},
    {"# latitude: 91\n# longitude: 0\n" MEANS, "means alone"},
    {"", "names"},
};

START_TEST(bad_normals_are_refused_in_words)
{
    struct th_normals normals;
    struct th_error err;
    struct scratch f = scratch_text("normals.csv", bads[_i].text);
    ck_assert_int_ne(th_normals_read(NULL, f.path, &normals, &err), TH_OK);
    ck_assert_msg(strstr(err.text, bads[_i].words) != NULL, "got: %s", err.text);
    ck_assert_str_eq(err.file, f.path);
    scratch_remove(&f);
}
END_TEST

START_TEST(seasons_must_be_a_number_that_makes_sense)
{
    struct th_weather weather;
    read_milwaukee();
    ck_assert_int_eq(th_normals_generate(&milwaukee, 0, 1, &weather, NULL), TH_ERR_RANGE);
    ck_assert_int_eq(th_normals_generate(&milwaukee, TH_NORMAL_SEASONS_MAX + 1, 1, &weather, NULL),
                     TH_ERR_RANGE);
    ck_assert_uint_eq(weather.n, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("normals");
    TCase *tc = tcase_create("normals");
    tcase_set_timeout(tc, 120.0);
    tcase_add_loop_test(tc, months_have_the_figures_they_are_made_from, 0, 12);
    tcase_add_loop_test(tc, degree_days_agree_with_schoenau_and_kehrig, 0, BASES);
    tcase_add_test(tc, years_differ_as_real_ones_do);
    tcase_add_test(tc, hard_winters_are_as_hard_as_real_ones);
    tcase_add_test(tc, a_seed_gives_one_series);
    tcase_add_test(tc, what_is_written_is_read_again);
    tcase_add_test(tc, a_spreadsheets_file_keeps_its_place);
    tcase_add_loop_test(tc, means_alone_take_the_spread_of_places, 0, 2);
    tcase_add_loop_test(tc, bad_normals_are_refused_in_words, 0, COUNT(bads));
    tcase_add_test(tc, seasons_must_be_a_number_that_makes_sense);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
