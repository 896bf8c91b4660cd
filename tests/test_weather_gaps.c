/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From reports to hours. The rules are the project's own (docs/weather.md); the moist-air figures
   are checked against the standard atmosphere and saturation pressures of psychro.h. */
#include "turnheat/calendar.h"
#include "turnheat/psychro.h"
#include "turnheat/daylight.h"
#include "turnheat/units.h"
#include "turnheat/weather_summary.h"
#include "run_suite.h"

#include <math.h>
#include <string.h>

static const long start_h = 24L * 17532; /* 2018-01-01 */

static void add(struct th_weather *weather, long minute, double temp_c)
{
    struct th_observation o = {.minute = minute};
    th_observation_set(&o, TH_TEMP_C, temp_c);
    ck_assert_int_eq(th_weather_add(weather, &o, NULL), TH_OK);
}

/* A weather in standard time, hourly from 2018-01-01, with temperature temp(h) but in the hours
   gap_from … gap_to - 1. */
static void hourly(struct th_weather *weather, long hours, long gap_from, long gap_to,
                   double (*temp)(long))
{
    th_weather_init(weather);
    weather->clock = TH_CLOCK_STANDARD;
    ck_assert_int_eq(th_weather_add_file(weather, "made.csv", NULL), TH_OK);
    for (long h = 0; h < hours; h++)
        if (h < gap_from || h >= gap_to)
            add(weather, (start_h + h) * 60, temp(h));
    th_weather_order(weather);
}

static double ramp(long h)
{
    return -10.0 + 0.25 * (double)h;
}

static void climate_of(struct th_weather *weather, struct th_climate *climate)
{
    struct th_error err;
    ck_assert_msg(th_climate_init(climate, weather, 250.0, NAN, &err) == TH_OK, "%s", err.text);
}

START_TEST(gaps_of_three_hours_are_interpolated)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 96, 40, 43, ramp);
    climate_of(&weather, &climate);
    ck_assert_int_eq(climate.n, 96);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].interpolated, 3);
    for (long h = 40; h < 43; h++) {
        ck_assert_int_eq(climate.hours[h].state, TH_HOUR_FILLED);
        ck_assert_double_eq_tol(climate.hours[h].out_c, ramp(h), 1e-12);
    }
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* A ramp's days before and after average to the ramp itself; a parabola's do not, so that the
   two rules can be told apart: mean of (h-24)² and (h+24)² is h² + 576. */
static double parabola(long h)
{
    return 0.001 * (double)(h * h);
}

START_TEST(gaps_of_four_to_24_hours_take_the_neighbour_days)
{
    struct th_weather weather;
    struct th_climate climate;
    const long length = _i;
    hourly(&weather, 96, 40, 40 + length, parabola);
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].neighbour, (size_t)length);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].missing, 0);
    for (long h = 40; h < 40 + length; h++)
        ck_assert_double_eq_tol(climate.hours[h].out_c, parabola(h) + 0.576, 1e-9);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(gaps_over_24_hours_stay_missing)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 96, 40, 65, parabola);
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].missing, 25);
    ck_assert_ptr_null(th_climate_at(&climate, start_h + 40));
    ck_assert_ptr_null(th_climate_at(&climate, start_h + 64));
    ck_assert_ptr_nonnull(th_climate_at(&climate, start_h + 65));
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* Two gaps of five hours a day apart: the second day's neighbour is not observed, and filled hours
   never stand in for observed ones. */
START_TEST(a_neighbour_must_itself_be_observed)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 120, 30, 35, ramp);
    size_t kept = 0;
    for (size_t i = 0; i < weather.n; i++) {
        const long h = weather.reports[i].minute / 60 - start_h;
        if (h < 54 || h >= 59)
            weather.reports[kept++] = weather.reports[i];
    }
    weather.n = kept;
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].missing, 10);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* The first day has no day before it. */
START_TEST(a_gap_near_the_start_stays_missing)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 96, 10, 16, ramp);
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].missing, 6);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(the_report_nearest_to_the_hour_is_taken)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 2, 99, 99, ramp);
    add(&weather, (start_h + 1) * 60 + 53, 1.0); /* belongs to 02:00 */
    add(&weather, (start_h + 2) * 60 + 20, 2.0);
    add(&weather, (start_h + 2) * 60 + 31, 3.0); /* belongs to 03:00 */
    th_weather_order(&weather);
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.n, 4);
    ck_assert_double_eq(climate.hours[2].out_c, 1.0);
    ck_assert_double_eq(climate.hours[3].out_c, 3.0);
    ck_assert_uint_eq(climate.extra_reports, 1);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(of_one_minute_the_last_temperature_is_kept)
{
    struct th_weather weather;
    hourly(&weather, 2, 99, 99, ramp);
    struct th_observation empty = {.minute = start_h * 60};
    add(&weather, start_h * 60, 7.0);
    ck_assert_int_eq(th_weather_add(&weather, &empty, NULL), TH_OK);
    th_weather_order(&weather);
    ck_assert_uint_eq(weather.n, 2);
    ck_assert_uint_eq(weather.counts.duplicates, 2);
    ck_assert_double_eq(weather.reports[0].value[TH_TEMP_C], 7.0);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(utc_needs_an_offset_and_is_shifted_by_it)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    hourly(&weather, 48, 99, 99, ramp);
    weather.clock = TH_CLOCK_UTC;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 250.0, NAN, &err), TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "UTC"));
    ck_assert_int_eq(th_climate_init(&climate, &weather, 250.0, -6.0, &err), TH_OK);
    ck_assert_int_eq(climate.first_hour, start_h - 6);
    th_climate_finish(&climate);
    ck_assert_int_eq(th_climate_init(&climate, &weather, 250.0, 5.5, &err), TH_OK);
    ck_assert_int_eq(climate.first_hour, start_h + 6); /* 05:30 is nearest to 06:00 */
    th_climate_finish(&climate);
    ck_assert_int_eq(th_climate_init(&climate, &weather, 250.0, 15.0, &err), TH_ERR_RANGE);
    weather.clock = TH_CLOCK_UNKNOWN;
    ck_assert_int_eq(th_climate_init(&climate, &weather, 250.0, -6.0, &err), TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "clock"));
    th_weather_finish(&weather);
}
END_TEST

/* Wall-clock times, US rule: 2018-03-11 02:00 to 2018-11-04 02:00. An hourly instrument in standard
   time from the evening before each change, written on the wall clock, comes back unbroken. */
START_TEST(wall_clock_time_becomes_standard_time)
{
    static const long change[2][2] = {{2018 * 10000 + 311, 2}, {2018 * 10000 + 1104, 1}};
    const bool autumn = _i == 1;
    const long day =
        th_day_number(2018, (int)(change[_i][0] / 100 % 100), (int)(change[_i][0] % 100));
    const long change_h = day * 24 + change[_i][1]; /* standard hour of the change */
    struct th_weather weather;
    th_weather_init(&weather);
    weather.clock = TH_CLOCK_DAYLIGHT;
    ck_assert_int_eq(th_weather_add_file(&weather, "wall.csv", NULL), TH_OK);
    for (long h = change_h - 12; h < change_h + 12; h++) {
        const long minute = h * 60 - 7;
        const bool daylight = (minute >= change_h * 60) != autumn;
        add(&weather, minute + (daylight ? 60 : 0), (double)(h - change_h));
    }
    /* The doubled 01:53 looks like a repeated report, so only spring gives itself away. */
    ck_assert(th_weather_looks_daylight(&weather) == !autumn);
    th_weather_order(&weather);
    ck_assert_int_eq(weather.clock, TH_CLOCK_STANDARD);
    ck_assert_uint_eq(weather.n, 24);
    for (size_t i = 0; i < weather.n; i++)
        ck_assert_int_eq(weather.reports[i].minute, (change_h - 12 + (long)i) * 60 - 7);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(humidity_wind_and_pressure_have_their_defaults)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 24, 99, 99, ramp);
    for (size_t i = 0; i < 12; i++)
        th_observation_set(&weather.reports[i], TH_WIND_M_S, i < 6 ? 2.0 : 6.0);
    th_observation_set(&weather.reports[3], TH_DEW_C, weather.reports[3].value[TH_TEMP_C] - 4.0);
    th_observation_set(&weather.reports[4], TH_PRESSURE_PA, 97000.0);
    climate_of(&weather, &climate);
    const struct th_climate_hour *last = &climate.hours[20];
    ck_assert_double_eq_tol(last->wind_m_s, 4.0, 1e-12);
    ck_assert_double_eq_tol(last->pressure_pa, th_psy_pressure(250.0), 1e-6);
    ck_assert_double_eq_tol(th_psy_relative_humidity(last->out_c, last->w_kg_kg, last->pressure_pa),
                            0.75, 1e-9);
    ck_assert_double_eq(climate.hours[4].pressure_pa, 97000.0);
    const struct th_climate_hour *fourth = &climate.hours[3];
    ck_assert_double_eq_tol(fourth->w_kg_kg * fourth->pressure_pa /
                                (TH_PSY_RATIO + fourth->w_kg_kg),
                            th_psy_saturation_pressure(fourth->out_c - 4.0), 1e-9);
    ck_assert_uint_eq(climate.fill[TH_PART_WIND].missing, 12);
    ck_assert_uint_eq(climate.fill[TH_PART_HUMIDITY].missing, 23);
    ck_assert_uint_eq(climate.fill[TH_PART_PRESSURE].missing, 23);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

START_TEST(the_running_mean_covers_24_hours)
{
    struct th_weather weather;
    struct th_climate climate;
    hourly(&weather, 72, 99, 99, ramp);
    climate_of(&weather, &climate);
    ck_assert_double_eq_tol(climate.hours[0].mean24_c, ramp(0), 1e-12);
    ck_assert_double_eq_tol(climate.hours[50].mean24_c, 0.5 * (ramp(50) + ramp(27)), 1e-9);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

static double with_faults(long h)
{
    if (h >= 30 && h < 60)
        return -5.0;
    if (h == 80)
        return th_c_from_f(126.0);
    return -10.0 + 5.0 * sin((double)h) + (h == 100 ? 25.0 : 0.0);
}

START_TEST(odd_readings_are_flagged_and_impossible_ones_not_used)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_weather_summary summary;
    hourly(&weather, 120, 999, 999, with_faults);
    climate_of(&weather, &climate);
    ck_assert_uint_eq(climate.impossible, 1);
    ck_assert_int_eq(climate.hours[80].state, TH_HOUR_FILLED);
    ck_assert_int_eq(th_weather_summarise(&climate, 18.0, &summary, NULL), TH_OK);
    ck_assert_uint_eq(summary.stuck, 1);
    ck_assert_int_eq(summary.odd[0].first_hour, start_h + 30);
    ck_assert_int_eq(summary.odd[0].hours, 30);
    ck_assert_uint_eq(summary.spikes, 2);
    ck_assert_int_eq(summary.odd[1].first_hour, start_h + 100);
    th_weather_summary_finish(&summary);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* Found by fuzzing: a column of another kind read as pressure gave negative pressures. */
START_TEST(impossible_pressure_wind_and_dew_point_are_not_used)
{
    static const struct {
        enum th_quantity quantity;
        double value;
    } impossible[] = {{TH_PRESSURE_PA, -1610.0}, {TH_PRESSURE_PA, 1030.0e3}, {TH_WIND_M_S, -1.0},
                      {TH_WIND_M_S, 900.0},      {TH_DEW_C, -9900.0},        {TH_DEW_C, 200.0}};
    struct th_weather plain, odd;
    struct th_climate expected, found;
    hourly(&plain, 48, 999, 999, ramp);
    hourly(&odd, 48, 999, 999, ramp);
    th_observation_set(&odd.reports[7], impossible[_i].quantity, impossible[_i].value);
    climate_of(&plain, &expected);
    climate_of(&odd, &found);
    ck_assert_double_eq(found.hours[7].pressure_pa, expected.hours[7].pressure_pa);
    ck_assert_double_eq(found.hours[7].wind_m_s, expected.hours[7].wind_m_s);
    ck_assert_double_eq(found.hours[7].w_kg_kg, expected.hours[7].w_kg_kg);
    th_climate_finish(&expected);
    th_climate_finish(&found);
    th_weather_finish(&plain);
    th_weather_finish(&odd);
}
END_TEST

START_TEST(coverage_names_file_and_hours)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    hourly(&weather, 240, 100, 150, ramp);
    climate_of(&weather, &climate);
    ck_assert_int_eq(th_climate_require(&climate, &weather, start_h, 100, &err), TH_OK);
    ck_assert_int_eq(th_climate_require(&climate, &weather, start_h, 200, &err), TH_ERR_COVERAGE);
    ck_assert_str_eq(err.file, "made.csv");
    ck_assert_str_eq(err.text, "50 of 200 hours are missing, the first 2018-01-05 04:00, the last "
                               "2018-01-07 05:00");
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

/* 2 % of 100 hours are two. */
START_TEST(more_than_two_percent_filled_is_refused)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_error err;
    hourly(&weather, 240, 100, 103, ramp);
    climate_of(&weather, &climate);
    ck_assert_int_eq(th_climate_require(&climate, &weather, start_h + 50, 150, &err), TH_OK);
    ck_assert_int_eq(th_climate_require(&climate, &weather, start_h + 50, 149, &err),
                     TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "3 of 149 hours had to be filled"));
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}
END_TEST

static void one_file(struct th_weather *weather, const char *name, const char *station)
{
    hourly(weather, 2, 99, 99, ramp);
    snprintf(weather->files[0].name, sizeof weather->files[0].name, "%s", name);
    snprintf(weather->station.id, sizeof weather->station.id, "%s", station);
}

START_TEST(only_files_that_belong_together_are_joined)
{
    struct th_weather a, b;
    struct th_error err;
    one_file(&a, "a.txt", "725500-14942");
    one_file(&b, "b.txt", "726580-14922");
    ck_assert_int_eq(th_weather_join(&a, &b, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "726580-14922 in b.txt"));
    strcpy(b.station.id, a.station.id);
    b.typical = true;
    ck_assert_int_eq(th_weather_join(&a, &b, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "b.txt is a typical year"));
    b.typical = false;
    ck_assert_int_eq(th_weather_join(&a, &b, &err), TH_OK);
    ck_assert_uint_eq(a.n, 4);
    ck_assert_uint_eq(a.n_files, 2);
    th_weather_finish(&a);
    th_weather_finish(&b);
}
END_TEST

START_TEST(nothing_to_read_is_an_error)
{
    struct th_weather weather;
    struct th_climate climate;
    th_weather_init(&weather);
    ck_assert_int_eq(th_climate_init(&climate, &weather, 0.0, 0.0, NULL), TH_ERR_COVERAGE);
    th_weather_finish(&weather);
    th_weather_finish(NULL);
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_gaps");
    TCase *tc = tcase_create("weather_gaps");
    tcase_add_test(tc, gaps_of_three_hours_are_interpolated);
    tcase_add_loop_test(tc, gaps_of_four_to_24_hours_take_the_neighbour_days, 4, 25);
    tcase_add_test(tc, gaps_over_24_hours_stay_missing);
    tcase_add_test(tc, a_neighbour_must_itself_be_observed);
    tcase_add_test(tc, a_gap_near_the_start_stays_missing);
    tcase_add_test(tc, the_report_nearest_to_the_hour_is_taken);
    tcase_add_test(tc, of_one_minute_the_last_temperature_is_kept);
    tcase_add_test(tc, utc_needs_an_offset_and_is_shifted_by_it);
    tcase_add_loop_test(tc, wall_clock_time_becomes_standard_time, 0, 2);
    tcase_add_test(tc, humidity_wind_and_pressure_have_their_defaults);
    tcase_add_test(tc, the_running_mean_covers_24_hours);
    tcase_add_test(tc, odd_readings_are_flagged_and_impossible_ones_not_used);
    tcase_add_loop_test(tc, impossible_pressure_wind_and_dew_point_are_not_used, 0, 6);
    tcase_add_test(tc, coverage_names_file_and_hours);
    tcase_add_test(tc, more_than_two_percent_filled_is_refused);
    tcase_add_test(tc, only_files_that_belong_together_are_joined);
    tcase_add_test(tc, nothing_to_read_is_an_error);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
