/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real station files, read from the folder TURNHEAT_WEATHER names. Expected figures: the notes that
   come with those files, computed by another program; ± 0.2 °F·day and ± 0.05 °F. */
#include "turnheat/calendar.h"
#include "turnheat/degree_days.h"
#include "turnheat/units.h"
#include "turnheat/weather_summary.h"
#include "weather_fixture.h"

#include <math.h>

#define BASE_C ((65.0 - 32.0) * 5.0 / 9.0)

static bool read_years(const char *station, int first, int last, struct th_weather *weather,
                       const char *test)
{
    const char *paths[8];
    int n = 0;
    for (int year = first; year <= last; year++) {
        char name[64];
        snprintf(name, sizeof name, "%s-%d.txt", station, year);
        paths[n] = real_file(name, test);
        if (!paths[n++])
            return false;
    }
    const struct th_weather_options none = {0};
    struct th_error err;
    ck_assert_msg(th_weather_read(NULL, paths, n, &none, weather, &err) == TH_OK, "%s", err.text);
    return true;
}

static double hdd_f(const struct th_climate *climate, int y0, int m0, int y1, int m1)
{
    const long first = th_day_number(y0, m0, 1) * 24;
    const long hours = th_day_number(y1, m1, 1) * 24 - first;
    return th_degree_days_count(climate, first, hours, BASE_C).hourly_k_d / TH_K_PER_F;
}

struct year_row {
    const char *station;
    int year;
    double present, filled;
};

static const struct year_row years[] = {
    {"725500-14942", 2017, 5476.1, 5493.0}, {"725500-14942", 2018, 6511.4, 6540.2},
    {"725500-14942", 2019, 6478.0, 6485.6}, {"726580-14922", 2017, 6885.5, 6888.1},
    {"726580-14922", 2018, 7839.7, 7841.0}, {"726580-14922", 2019, 8051.4, 8055.2},
};

static double present_hdd_f(const struct th_climate *climate, int year)
{
    double sum = 0.0;
    for (long h = th_day_number(year, 1, 1) * 24; h < th_day_number(year + 1, 1, 1) * 24; h++) {
        const struct th_climate_hour *hour = th_climate_at(climate, h);
        if (hour && hour->state == TH_HOUR_OBSERVED)
            sum += fmax(0.0, BASE_C - hour->out_c) / 24.0;
    }
    return sum / TH_K_PER_F;
}

START_TEST(utc_years_have_the_known_degree_days)
{
    const struct year_row *row = &years[_i];
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    if (!read_years(row->station, 2017, 2019, &weather, "utc_years"))
        return;
    ck_assert_msg(th_climate_init(&climate, &weather, 300.0, 0.0, &err) == TH_OK, "%s", err.text);
    ck_assert_double_eq_tol(present_hdd_f(&climate, row->year), row->present, 0.2);
    ck_assert_double_eq_tol(hdd_f(&climate, row->year, 1, row->year + 1, 1), row->filled, 0.2);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

struct season_row {
    const char *station;
    int year;
    double degree_days;
};

static const struct season_row seasons[] = {{"725500-14942", 2017, 6256.9},
                                            {"725500-14942", 2018, 6649.5},
                                            {"726580-14922", 2017, 7686.2},
                                            {"726580-14922", 2018, 8118.5}};

START_TEST(local_seasons_have_the_known_degree_days)
{
    const struct season_row *row = &seasons[_i];
    struct th_weather weather;
    struct th_climate climate;
    if (!read_years(row->station, 2017, 2019, &weather, "local_seasons"))
        return;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 300.0, -6.0, NULL), TH_OK);
    ck_assert_double_eq_tol(hdd_f(&climate, row->year, 7, row->year + 1, 7), row->degree_days, 0.2);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* Omaha 2018 at UTC-6, hours present: 6502.5 by hour, 6439.2 by the 24-hour mean, 6333.9 by
   mid-range. The hours filled here would change them, so they are struck out first. */
START_TEST(omaha_2018_three_ways)
{
    struct th_weather weather;
    struct th_climate climate;
    if (!read_years("725500-14942", 2017, 2019, &weather, "omaha_2018"))
        return;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 300.0, -6.0, NULL), TH_OK);
    for (size_t i = 0; i < climate.n; i++)
        if (climate.hours[i].state == TH_HOUR_FILLED)
            climate.hours[i].state = TH_HOUR_MISSING;
    const struct th_degree_days dd =
        th_degree_days_count(&climate, th_day_number(2018, 1, 1) * 24, 8760, BASE_C);
    ck_assert_double_eq_tol(dd.hourly_k_d / TH_K_PER_F, 6502.5, 0.2);
    ck_assert_double_eq_tol(dd.mean_k_d / TH_K_PER_F, 6439.2, 0.2);
    ck_assert_double_eq_tol(dd.midrange_k_d / TH_K_PER_F, 6333.9, 0.2);
    ck_assert_int_eq(dd.days, 365);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

static bool read_one(const char *name, const struct th_weather_options *options,
                     struct th_weather *weather, const char *test)
{
    const struct th_weather_options none = {0};
    struct th_error err;
    const char *path = real_file(name, test);
    if (!path)
        return false;
    ck_assert_msg(th_weather_read(NULL, &path, 1, options ? options : &none, weather, &err) ==
                      TH_OK,
                  "%s:%ld: %s", err.file, err.line, err.text);
    return true;
}

/* The typical year in its two forms: 6496.9 by hour and 6398.1 by mid-range of each dated day; the
   dry bulb is identical in all rows. */
START_TEST(chicago_is_the_same_in_both_forms)
{
    struct th_weather csv, epw;
    struct th_climate a, b;
    if (!read_one("IL_Chicago-OHare.725300_TMY3.csv", NULL, &csv, "chicago") ||
        !read_one("IL_Chicago-OHare.725300_TMY3.epw", NULL, &epw, "chicago"))
        return;
    ck_assert(csv.typical && epw.typical);
    ck_assert_str_eq(csv.form, "tmy3");
    ck_assert_str_eq(epw.form, "epw");
    ck_assert_int_eq(th_climate_init(&a, &csv, 201.0, NAN, NULL), TH_OK);
    ck_assert_int_eq(th_climate_init(&b, &epw, 201.0, NAN, NULL), TH_OK);
    for (size_t i = 0; i < 8760; i++) {
        ck_assert_double_eq(a.hours[i].out_c, b.hours[i].out_c);
        ck_assert_double_eq_tol(a.hours[i].pressure_pa, b.hours[i].pressure_pa, 1e-6);
        ck_assert_double_eq_tol(a.hours[i].w_kg_kg, b.hours[i].w_kg_kg, 1e-12);
        ck_assert_double_eq(a.hours[i].wind_m_s, b.hours[i].wind_m_s);
    }
    const struct th_degree_days dd = th_degree_days_count(&a, a.first_hour, 8760, BASE_C);
    ck_assert_double_eq_tol(dd.hourly_k_d / TH_K_PER_F, 6496.9, 0.2);
    ck_assert_double_eq_tol(dd.midrange_k_d / TH_K_PER_F, 6398.1, 0.2);
    th_climate_finish(&a);
    th_climate_finish(&b);
    th_weather_finish(&csv);
    th_weather_finish(&epw);
}
END_TEST

struct low_row {
    const char *station;
    double low_f;
    int year, day; /* in January */
};

static const struct low_row lows[] = {{"725500-14942", -17.0, 2018, 1},
                                      {"726580-14922", -27.9, 2019, 30}};

/* Omaha -17.0 °F (1 January 2018, read off the file), Minneapolis -27.9 °F (30-31 January 2019). */
START_TEST(the_coldest_hours_are_found)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_weather_summary summary;
    if (!read_years(lows[_i].station, 2017, 2020, &weather, "coldest"))
        return;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 300.0, -6.0, NULL), TH_OK);
    ck_assert_int_eq(th_weather_summarise(&climate, BASE_C, &summary, NULL), TH_OK);
    ck_assert_double_eq_tol(th_f_from_c(summary.low_c), lows[_i].low_f, 0.05);
    const long day = th_day_number(lows[_i].year, 1, lows[_i].day);
    ck_assert_int_ge(summary.low_hour, day * 24);
    ck_assert_int_lt(summary.low_hour, (day + 2) * 24);
    th_weather_summary_finish(&summary);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* Minneapolis 2020: six-hourly from 8 April. */
START_TEST(six_hourly_reports_do_not_carry_a_turn)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    if (!read_years("726580-14922", 2017, 2020, &weather, "six_hourly"))
        return;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 256.0, -6.0, NULL), TH_OK);
    const long november = th_day_number(2019, 11, 5) * 24;
    const long october = th_day_number(2019, 10, 1) * 24;
    ck_assert_int_eq(th_climate_require(&climate, &weather, november - 48, 165 * 24 + 48, &err),
                     TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.file, "726580-14922-2020.txt"));
    ck_assert_ptr_nonnull(strstr(err.text, "the first 2020-04-0"));
    ck_assert_ptr_nonnull(strstr(err.text, "the last 2020-04-1"));
    ck_assert_msg(th_climate_require(&climate, &weather, october - 48, 150 * 24 + 48, &err) ==
                      TH_OK,
                  "%s", err.text);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* One release in °F, one in °C, the same column names; Lincoln's first routine report of 2023 reads
   -3.3 °C and 966.5 hPa, Atlanta's of 2020 40 °F and 28.93 inches. */
START_TEST(both_lcd_releases_are_told_apart)
{
    struct th_weather us, metric;
    if (!read_one("LCDv1_72219013874_AtlantaGA_2020JanFeb_degF.csv", NULL, &us, "lcd") ||
        !read_one("LCDv2_USW00014939_LincolnNE_2023JanFeb_degC.csv", NULL, &metric, "lcd"))
        return;
    ck_assert_double_eq_tol(us.reports[0].value[TH_TEMP_C], th_c_from_f(40.0), 1e-9);
    ck_assert_double_eq_tol(us.reports[0].value[TH_PRESSURE_PA], 28.93 * TH_PA_PER_INHG, 1e-6);
    ck_assert_double_eq_tol(metric.reports[0].value[TH_TEMP_C], -3.3, 1e-9);
    ck_assert_double_eq_tol(metric.reports[0].value[TH_PRESSURE_PA], 96650.0, 1e-6);
    ck_assert_str_eq(metric.station.name, "LINCOLN AIRPORT, NE US");
    ck_assert_double_eq(metric.station.elevation_m, 362.7);
    ck_assert_uint_eq(us.counts.refused + metric.counts.refused, 0);
    th_weather_finish(&us);
    th_weather_finish(&metric);
}
END_TEST

START_TEST(mesonet_reports_reduce_to_hours)
{
    const struct th_weather_options utc = {.has_utc_offset = true, .utc_offset_h = -6.0};
    struct th_weather weather;
    struct th_climate climate;
    if (!read_one("IEM_asos_MSP_2010-10.txt", &utc, &weather, "mesonet"))
        return;
    ck_assert_str_eq(weather.station.id, "MSP");
    ck_assert_int_eq(th_climate_init(&climate, &weather, 256.0, NAN, NULL), TH_OK);
    /* 2010-10-23 00:53 UTC reads 15.6 °C and stands for 01:00 UTC, 19:00 the day before. */
    ck_assert_int_eq(climate.first_hour, th_day_number(2010, 10, 22) * 24 + 19);
    ck_assert_double_eq(climate.hours[0].out_c, 15.6);
    ck_assert_uint_gt(climate.extra_reports, 0);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_real");
    TCase *tc = tcase_create("weather_real");
    tcase_add_loop_test(tc, utc_years_have_the_known_degree_days, 0,
                        (int)(sizeof years / sizeof years[0]));
    tcase_add_loop_test(tc, local_seasons_have_the_known_degree_days, 0,
                        (int)(sizeof seasons / sizeof seasons[0]));
    tcase_add_test(tc, omaha_2018_three_ways);
    tcase_add_test(tc, chicago_is_the_same_in_both_forms);
    tcase_add_loop_test(tc, the_coldest_hours_are_found, 0, 2);
    tcase_add_test(tc, six_hourly_reports_do_not_carry_a_turn);
    tcase_add_test(tc, both_lcd_releases_are_told_apart);
    tcase_add_test(tc, mesonet_reports_reduce_to_hours);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
