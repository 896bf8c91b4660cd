/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain tables, and files that cannot be read as any form. The spellings are the project's own
   promise (docs/weather.md). */
#include "weather_fixture.h"
#include "weather_forms.h"

struct plain_case {
    const char *text;
    double temp_c;
    long minute; /* after 2018-01-31 00:00 */
    enum th_clock clock;
};

static const struct plain_case plains[] = {
    {"time,temp_f\n2018-01-31T13:00,50\n", 10.0, 780, TH_CLOCK_STANDARD},
    {"\xEF\xBB\xBFtime,tempC\r\n2018-01-31 13:00:00,10\r\n", 10.0, 780, TH_CLOCK_STANDARD},
    {"\"Date and time\",\" Temperature (\xC2\xB0"
     "F)\"\n\"1/31/2018 1:00 PM\",\"50\"\n",
     10.0, 780, TH_CLOCK_STANDARD},
    {"date;hour;temp_c\n2018-01-31;24:00;10,5\n", 10.5, 1440, TH_CLOCK_STANDARD},
    {"temp_k\ttimestamp\n283.15\t2018-01-31T13:00Z\n", 10.0, 780, TH_CLOCK_UTC},
    {"# made up\n\nDate,Time,Dry bulb degF,wind dir\n01/31/2018,13:30,50,x\n", 10.0, 810,
     TH_CLOCK_STANDARD},
    {"time_utc,temp_c\n2018-01-31 12 ,10\n", 10.0, 720, TH_CLOCK_UTC},
    {"UTC time,temp_c\n20180131 1215,10\n", 10.0, 735, TH_CLOCK_UTC},
    {"time,temp_c\n2018-01-31T06:00-06:00,10\n", 10.0, 720, TH_CLOCK_UTC},
    {"time,temp_f\n2018-01-31 12:05 AM,50\n", 10.0, 5, TH_CLOCK_STANDARD},
};

START_TEST(plain_tables_in_many_spellings)
{
    const struct plain_case *c = &plains[_i];
    struct th_weather w;
    read_ok("p.csv", c->text, NULL, &w);
    ck_assert_str_eq(w.form, "plain");
    ck_assert_uint_eq(w.n, 1);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], c->temp_c, 1e-9);
    ck_assert_int_eq(w.reports[0].minute - minute_of(2018, 1, 31, 0, 0), c->minute);
    ck_assert_int_eq(w.clock, c->clock);
    th_weather_finish(&w);
}
END_TEST

START_TEST(plain_tables_with_everything)
{
    struct th_weather w;
    read_ok("p.csv",
            "time,temp_c,dew_point_c,RH %,wind_mph,station_pressure_inhg,sea level pressure (hPa)\n"
            "2018-01-31 00:00,10,5,80,10,29,1020\n2018-01-31 01:00,NA,,-,,null,\n",
            NULL, &w);
    ck_assert_uint_eq(w.reports[0].has, (1u << TH_QUANTITIES) - 1);
    ck_assert_double_eq_tol(w.reports[0].value[TH_RH], 0.80, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_WIND_M_S], 4.4704, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_PRESSURE_PA], 29 * 3386.389, 1e-6);
    ck_assert_uint_eq(w.reports[1].has, 0);
    th_weather_finish(&w);
}
END_TEST

START_TEST(humidity_without_a_unit_is_judged_by_its_values)
{
    struct th_weather w;
    read_ok("p.csv", "time,temp_c,rh\n2018-01-31 00:00,10,0.8\n2018-01-31 01:00,10,1\n", NULL, &w);
    ck_assert_double_eq(w.reports[0].value[TH_RH], 0.8);
    th_weather_finish(&w);
    read_ok("p.csv", "time,temp_c,rh\n2018-01-31 00:00,10,1\n2018-01-31 01:00,10,80\n", NULL, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_RH], 0.01, 1e-12);
    th_weather_finish(&w);
}
END_TEST

/* Zones that change with daylight time: the smaller one is standard time. */
START_TEST(plain_zones_give_the_offset)
{
    struct th_weather w;
    read_ok("p.csv",
            "time,temp_c\n2018-03-11T01:30-06:00,1\n2018-03-11T03:30-05:00,2\n"
            "2018-03-11T04:30-05:00,3\n",
            NULL, &w);
    ck_assert_double_eq(w.station.utc_offset_h, -6.0);
    ck_assert_int_eq(w.reports[1].minute - w.reports[0].minute, 60);
    th_weather_finish(&w);
}
END_TEST

START_TEST(times_out_of_order_are_sorted_and_counted)
{
    struct th_weather w;
    read_ok("p.csv", "time,temp_c\n2018-01-31 02:00,2\n2018-01-31 00:00,0\n2018-01-31 01:00,1\n",
            NULL, &w);
    ck_assert_uint_eq(w.counts.out_of_order, 1);
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq(w.reports[i].value[TH_TEMP_C], i);
    th_weather_finish(&w);
}
END_TEST

struct bad_case {
    const char *text, *words;
};

static const struct bad_case bads[] = {
    {"time,temp\n2018-01-31 00:00,5\n", "--units"},
    {"time,temp_c,temp_f\n2018-01-31 00:00,5,41\n", "mean the same"},
    {"station,valid,tmpc,TMPC \nA,2018-01-31 00:00,5x,41\n", "\"5x\""}, /* the first is used */
    {"time,temp_c\n2018-02-29 00:00,5\n", "2018-02-29"},
    {"time,temp_c\nyesterday,5\n", "expected a date and time"},
    {"time,temp_c\n2018-01-31 25:00,5\n", "25:00"},
    {"time,temp_c\n2018-01-31 00:00,warm\n", "\"warm\""},
    {"time,temp_c\n2018-01-31T00:00Z,1\n2018-01-31 01:00,2\n", "zone"},
    {"time,temp_c\n\"2018-01-31 00:00,1\n2018-01-31 01:00,2\n", "not closed"},
    {"time,temp_c\n", "no data rows"},
    {"a,b,c\n1,2,3\n", "expected isd-lite, epw"},
    {"", "empty"},
    {"\n\n\n", "expected"},
    {"LOCATION,x\n", "found 2 fields; expected 10"},
    {"LOCATION,a,b,c,d,e,1,2,3,4\nDESIGN\n", "8 heading lines"},
    {EPW_HEAD, "no data rows"},
    {EPW_HEAD "2003,1,1,25,0,x,1,0,90,98000\n", "hour 1-24"},
    {EPW_HEAD "2003,1,1,1,0,x,1\n", "fields"},
    {"2018 01 01 24   -17   -89 10142   220    15     0 -9999 -9999\n", "expected"},
};

START_TEST(bad_files_are_refused_in_words)
{
    read_refused("bad.csv", bads[_i].text, NULL, bads[_i].words);
}
END_TEST

START_TEST(errors_name_the_line)
{
    struct th_weather w;
    struct th_error err;
    ck_assert_int_eq(read_text("p.csv",
                               "# one\ntime,temp_c,note\n2018-01-31 00:00,1,\"two\nlines\"\n"
                               "2018-01-31 01:00,x,\n2018-01-31 02:00,x,\n"
                               "2018-01-31 03:00,x,\n2018-01-31 04:00,x,\n",
                               NULL, &w, &err),
                     TH_ERR_READ);
    ck_assert_int_eq(err.line, 5);
}
END_TEST

/* One bad row in many is counted, remembered and does not stop the file. */
START_TEST(a_truncated_last_row_is_counted)
{
    struct th_weather w;
    read_ok("725500-14942-2018.txt", ISD_ROWS "2018 01 01 03   -1", NULL, &w);
    ck_assert_uint_eq(w.counts.refused, 1);
    ck_assert_int_eq(w.files[0].bad_line, 3);
    ck_assert_uint_eq(w.n, 2);
    th_weather_finish(&w);
}
END_TEST

START_TEST(binary_and_endless_lines_are_refused)
{
    const struct th_weather_options none = {0};
    struct th_weather w;
    struct th_error err;
    char *big = malloc(3 * TH_LINE_MAX);
    memset(big, 'x', 3 * TH_LINE_MAX);
    memcpy(big, "time,temp_c\n", 12);
    struct scratch f = scratch_bytes("big.csv", big, 3 * TH_LINE_MAX);
    const char *path = f.path;
    ck_assert_int_eq(th_weather_read(NULL, &path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_int_eq(err.line, 2);
    ck_assert_ptr_nonnull(strstr(err.text, "longer than"));
    scratch_remove(&f);
    f = scratch_bytes("zero.csv", "time,temp_c\n2018\0\n", 18);
    path = f.path;
    ck_assert_int_eq(th_weather_read(NULL, &path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(err.text, "binary"));
    scratch_remove(&f);
    path = "there/is/no.csv";
    ck_assert_int_eq(th_weather_read(NULL, &path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_str_eq(err.file, path);
    path = ".";
    ck_assert_int_eq(th_weather_read(NULL, &path, 1, &none, &w, &err), TH_ERR_READ);
    free(big);
}
END_TEST

/* Short decimals are read by one division, which must round as strtod() does. */
START_TEST(decimals_are_read_as_strtod_reads_them)
{
    for (long i = -100000; i <= 100000; i += 7) {
        for (int places = 0; places < 5; places++) {
            char text[32];
            double value;
            snprintf(text, sizeof text, "%.*f", places, (double)i / 97.0);
            ck_assert(th_field_number(text, &value));
            ck_assert(value == strtod(text, NULL));
        }
    }
    static const char *const not_numbers[] = {"",    ".",   "-",   "-.",   "1.2.3",
                                              "1 2", "nan", "inf", "1e999"};
    for (size_t i = 0; i < sizeof not_numbers / sizeof not_numbers[0]; i++) {
        double value;
        ck_assert_msg(!th_field_number(not_numbers[i], &value), "%s", not_numbers[i]);
    }
}
END_TEST

START_TEST(words_for_options)
{
    enum th_unit_choice units;
    enum th_clock clock;
    char names[TH_WEATHER_FORM_NAMES_MAX];
    ck_assert(th_unit_choice_from("si", &units) && units == TH_UNITS_SI);
    ck_assert(!th_unit_choice_from("furlongs", &units));
    ck_assert(th_clock_from("daylight", &clock) && clock == TH_CLOCK_DAYLIGHT);
    ck_assert(!th_clock_from("sundial", &clock));
    ck_assert(th_weather_form_known("epw") && !th_weather_form_known("tmy9"));
    ck_assert_str_eq(th_weather_form_names(names), "isd-lite, epw, tmy3, lcd, mesonet or plain");
}
END_TEST

/* As loggers and climate services write them; 24 is midnight of the next day. */
START_TEST(date_in_columns_of_its_parts)
{
    struct th_weather w;
    read_ok("a.csv",
            "Year,Month,Day,Hour,Temperature (C)\n"
            "2018,1,5,1,-12.541032396257123456\n2018,01,31,24,-3.1\n",
            NULL, &w);
    ck_assert_uint_eq(w.n, 2);
    ck_assert_int_eq(w.reports[0].minute, minute_of(2018, 1, 5, 1, 0));
    ck_assert_int_eq(w.reports[1].minute, minute_of(2018, 2, 1, 0, 0));
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], -12.541032396257123, 1e-14);
    th_weather_finish(&w);
    read_ok("b.csv", "YR,MO,DY,HR (UTC),temp_f\n2018,1,5,6,14\n", NULL, &w);
    ck_assert_int_eq(w.clock, TH_CLOCK_UTC);
    ck_assert_int_eq(w.reports[0].minute, minute_of(2018, 1, 5, 6, 0));
    th_weather_finish(&w);
    read_refused("c.csv", "year,month,day,hour,temp_c\n2018,123,5,1,-12\n", NULL, "2018-123-5");
    read_refused("d.csv", "year,month,hour,temp_c\n2018,12,1,-12\n", NULL, "expected");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_plain");
    TCase *tc = tcase_create("weather_plain");
    tcase_add_loop_test(tc, plain_tables_in_many_spellings, 0, COUNT(plains));
    tcase_add_test(tc, plain_tables_with_everything);
    tcase_add_test(tc, humidity_without_a_unit_is_judged_by_its_values);
    tcase_add_test(tc, plain_zones_give_the_offset);
    tcase_add_test(tc, times_out_of_order_are_sorted_and_counted);
    tcase_add_loop_test(tc, bad_files_are_refused_in_words, 0, COUNT(bads));
    tcase_add_test(tc, errors_name_the_line);
    tcase_add_test(tc, a_truncated_last_row_is_counted);
    tcase_add_test(tc, binary_and_endless_lines_are_refused);
    tcase_add_test(tc, decimals_are_read_as_strtod_reads_them);
    tcase_add_test(tc, words_for_options);
    tcase_add_test(tc, date_in_columns_of_its_parts);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
