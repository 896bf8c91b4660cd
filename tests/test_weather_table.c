/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A made-up form in which everything has its place, read as its descriptor says. */
#include "weather_fixture.h"
#include "weather_forms.h"

#include <math.h>

static const char *const missing_words[] = {"none", NULL};

static const struct th_weather_form ridge = {
    .name = "ridge",
    .delimiter = ' ',
    .heading_lines = 2,
    .fields_min = 6,
    .fields_max = 7,
    .whole = true,
    .missing = missing_words,
    .time_parts = true,
    .clock = TH_CLOCK_STANDARD,
    .clock_note = "local standard time",
    .units_note = "as this form has them",
    .columns = {{TH_TEMP_C, .place = 4, .unit = TH_UNIT_F, .parts = 10, .missing = -999},
                {TH_WIND_M_S, .place = 5, .unit = TH_UNIT_MPH, .missing = 99},
                {TH_RH, .place = 6, .unit = TH_UNIT_PERCENT}}};

static enum th_code read_ridge(const char *text, struct th_weather *weather, struct th_error *err)
{
    const struct th_weather_options none = {0};
    struct scratch file = scratch_text("ridge.txt", text);
    struct th_lines lines;
    ck_assert_int_eq(th_lines_open(&lines, NULL, file.path, err), TH_OK);
    th_weather_init(weather);
    ck_assert_int_eq(th_weather_add_file(weather, file.path, err), TH_OK);
    const enum th_code code = th_weather_read_table(&ridge, &lines, &none, weather, err);
    th_lines_close(&lines);
    scratch_remove(&file);
    return code;
}

START_TEST(columns_stand_at_their_places)
{
    struct th_weather w;
    struct th_error err = {0};
    ck_assert_int_eq(read_ridge("RIDGE 12\nsecond\n"
                                "2018 01 31 00  410  10 80\n"
                                "2018 1 31 1 -999 99\n"
                                "   \n"
                                "2018 1 31 2 none 10\n",
                                &w, &err),
                     TH_OK);
    ck_assert_uint_eq(w.n, 3);
    ck_assert_uint_eq(w.counts.rows, 3);
    ck_assert_uint_eq(w.counts.refused, 0);
    ck_assert_uint_eq(w.counts.no_temp, 2);
    ck_assert_int_eq(w.reports[0].minute, th_day_number(2018, 1, 31) * 1440);
    /* 41 °F is 5 °C; 10 mph is 4.4704 m/s. */
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], 5.0, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_WIND_M_S], 4.4704, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_RH], 0.8, 1e-12);
    ck_assert(!th_observation_has(&w.reports[1], TH_WIND_M_S));
    ck_assert(!th_observation_has(&w.reports[1], TH_RH));
    ck_assert(th_observation_has(&w.reports[2], TH_WIND_M_S));
    ck_assert_str_eq(w.units_note, "°F, % and mph, as this form has them");
    ck_assert_int_eq(w.clock, TH_CLOCK_STANDARD);
    th_weather_finish(&w);
}
END_TEST

static const struct refusal {
    const char *row, *why;
} refusals[] = {
    {"2018 1 31 0 410\n", "found 5 fields; expected 6"},
    {"2018 1 31 0 410 1 2 3\n", "found 8 fields; expected 6"},
    {"2018 1 31 24 410 1\n", "found \"2018,1,31,24\"; expected year, month, day, hour 0-23"},
    {"2018 2 30 0 410 1\n", "found \"2018,2,30,0\""},
    {"2018 1 31 0 41.0 1\n", "found \"41.0\" where a temperature (a whole number) was expected"},
    {"2018 1 31 0 410 calm\n", "found \"calm\" where a wind speed"},
};

START_TEST(rows_out_of_place_are_refused)
{
    struct th_weather w;
    struct th_error err = {0};
    char text[256];
    snprintf(text, sizeof text, "RIDGE\nsecond\n%s2018 1 31 1 410 1\n", refusals[_i].row);
    ck_assert_int_eq(read_ridge(text, &w, &err), TH_OK);
    ck_assert_uint_eq(w.counts.refused, 1);
    ck_assert_int_eq(w.files[0].bad_line, 3);
    ck_assert_msg(strstr(w.files[0].bad_why, refusals[_i].why) != NULL, "%s", w.files[0].bad_why);
    ck_assert_uint_eq(w.n, 1);
    th_weather_finish(&w);
}
END_TEST

START_TEST(a_file_that_ends_in_its_heading_is_refused)
{
    struct th_weather w;
    struct th_error err = {0};
    ck_assert_int_eq(read_ridge("RIDGE\n", &w, &err), TH_ERR_READ);
    ck_assert_msg(strstr(err.text, "2 heading lines") != NULL, "%s", err.text);
    th_weather_finish(&w);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_table");
    TCase *tc = tcase_create("weather_table");
    tcase_add_test(tc, columns_stand_at_their_places);
    tcase_add_loop_test(tc, rows_out_of_place_are_refused, 0, sizeof refusals / sizeof *refusals);
    tcase_add_test(tc, a_file_that_ends_in_its_heading_is_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
