/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each form's traps on small made-up files. What the forms hold: NOAA's ISD-Lite format note and
   Local Climatological Data documentation, NREL/TP-581-43156 for TMY3, the open EPW data
   dictionary; missing codes marked "from memory" in the readers. */
#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include "weather_fixture.h"

#include <math.h>

static const struct th_observation *at(const struct th_weather *weather, long minute)
{
    for (size_t i = 0; i < weather->n; i++)
        if (weather->reports[i].minute == minute)
            return &weather->reports[i];
    return NULL;
}

START_TEST(isd_lite_reads_tenths_and_missing)
{
    struct th_weather w;
    read_ok("725500-14942-2018.txt", ISD_ROWS, NULL, &w);
    ck_assert_str_eq(w.form, "isd-lite");
    ck_assert_int_eq(w.clock, TH_CLOCK_UTC);
    ck_assert_str_eq(w.station.id, "725500-14942");
    ck_assert(!w.typical && !w.station.has_utc_offset);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], -1.7, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_DEW_C], -8.9, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_WIND_M_S], 1.5, 1e-12);
    ck_assert(!th_observation_has(&w.reports[1], TH_TEMP_C));
    ck_assert(!th_observation_has(&w.reports[1], TH_WIND_M_S));
    ck_assert_uint_eq(w.counts.no_temp, 1);
    /* Field 7 is sea-level pressure: never station pressure. */
    ck_assert(!th_observation_has(&w.reports[0], TH_PRESSURE_PA));
    th_weather_finish(&w);
}
END_TEST

/* 99.9 °C is missing in EPW only; in ISD-Lite 99.9 would be impossible but not missing, and 37.7 °C
   (99.9 °F) is a warm afternoon everywhere. */
START_TEST(a_warm_afternoon_is_not_a_missing_code)
{
    struct th_weather w;
    read_ok("a.csv", "station,valid,tmpf\nMSP,2018-07-01 15:53,99.9\n", NULL, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], th_c_from_f(99.9), 1e-12);
    th_weather_finish(&w);
}
END_TEST

START_TEST(a_utc_offset_is_kept_for_the_site)
{
    const struct th_weather_options options = {.has_utc_offset = true, .utc_offset_h = -6.0};
    struct th_weather w;
    struct th_climate climate;
    read_ok("725500-14942-2018.txt", ISD_ROWS, &options, &w);
    ck_assert_int_eq(th_climate_init(&climate, &w, 300.0, NAN, NULL), TH_OK);
    ck_assert_int_eq(climate.first_hour, th_day_number(2018, 1, 1) * 24 - 6);
    th_climate_finish(&climate);
    th_weather_finish(&w);
}
END_TEST

#define EPW_REST "0,0,0,0,0,0,0,0,0,0,60,4.6,6,6,16.0,77777,9,999999999,80,0.1,0,88"

/* A year of rows, February's from a leap year if asked, each month of its own year. */
static void epw_year(struct text *t, bool leap, const char *minute, const char *rest)
{
    static const int years[12] = {2003, 1988, 1999, 1981, 1994, 2001,
                                  1986, 2002, 1991, 1997, 1985, 1992};
    text_add(t, "%s", EPW_HEAD);
    for (int month = 1; month <= 12; month++) {
        const int year = years[month - 1];
        const long next = th_day_number(year + month / 12, month % 12 + 1, 1);
        int days = (int)(next - th_day_number(year, month, 1));
        if (month == 2)
            days = leap ? 29 : 28;
        for (int day = 1; day <= days; day++)
            for (int hour = 1; hour <= 24; hour++)
                text_add(t, "%d,%d,%d,%d,%s,?9?9,%d.%d,-20.0,56,98000,%s\r\n", year, month, day,
                         hour, minute, month, day, rest);
    }
}

static void check_typical(const struct th_weather *w)
{
    struct th_climate climate;
    ck_assert(w->typical);
    ck_assert_uint_eq(w->n, 8760);
    ck_assert_int_eq(th_climate_init(&climate, w, 292.0, NAN, NULL), TH_OK);
    ck_assert_uint_eq(climate.fill[TH_PART_TEMP].observed, 8760);
    const long year = th_day_number(TH_TYPICAL_YEAR, 1, 1) * 24;
    ck_assert_int_eq(climate.first_hour, year);
    /* The label ends the hour: 24:00 of one day is 00:00 of the next, across month and year. */
    ck_assert_double_eq(th_climate_at(&climate, year)->out_c, 12.31);
    ck_assert_double_eq(th_climate_at(&climate, year + 1)->out_c, 1.1);
    ck_assert_double_eq(th_climate_at(&climate, year + 31 * 24)->out_c, 1.31);
    ck_assert_double_eq(th_climate_at(&climate, year + 31 * 24 + 1)->out_c, 2.1);
    ck_assert_double_eq(th_climate_at(&climate, year + 59 * 24)->out_c, 2.28);
    ck_assert_double_eq(th_climate_at(&climate, year + 59 * 24 + 1)->out_c, 3.1);
    /* A turn across 31 December goes on in January. */
    ck_assert_double_eq(th_climate_at(&climate, year + 8760 + 1)->out_c, 1.1);
    ck_assert_int_eq(th_climate_require(&climate, w, year + 8000, 3960, NULL), TH_OK);
    th_climate_finish(&climate);
}

struct epw_case {
    bool leap;
    const char *minute, *rest;
};

static const struct epw_case epw_cases[] = {
    {false, "0", EPW_REST},
    {false, "60", EPW_REST},
    {true, "60", EPW_REST},
    {false, "0", "0,0,0,0,0,0,0,0,0,0,60,4.6,6,6,16.0,77777,9,999999999,80,0.1,0,88,0,0"},
};

START_TEST(epw_typical_years_keep_file_order)
{
    const struct epw_case *c = &epw_cases[_i];
    struct text t = {0};
    struct th_weather w;
    epw_year(&t, c->leap, c->minute, c->rest);
    read_ok("t.epw", t.at, NULL, &w);
    ck_assert_uint_eq(w.counts.rows, c->leap ? 8784 : 8760);
    ck_assert_uint_eq(w.counts.leap_rows, c->leap ? 24 : 0);
    ck_assert_str_eq(w.station.name, "Nowhere, ST");
    ck_assert_double_eq(w.station.utc_offset_h, -6.0);
    ck_assert_double_eq(w.station.elevation_m, 292.0);
    ck_assert_double_eq(w.reports[0].value[TH_PRESSURE_PA], 98000.0);
    ck_assert_double_eq_tol(w.reports[0].value[TH_RH], 0.56, 1e-12);
    ck_assert_double_eq(w.reports[0].value[TH_WIND_M_S], 4.6);
    check_typical(&w);
    th_weather_finish(&w);
    free(t.at);
}
END_TEST

START_TEST(epw_missing_codes)
{
    struct th_weather w;
    read_ok("t.epw",
            EPW_HEAD "2003,1,1,1,0,x,99.9,99.9,999,999999,0,0,0,0,0,0,0,0,0,0,60,999,6\r\n"
                     "2003,1,1,2,0,x,-3.3,-10.0,56,98000,0,0,0,0,0,0,0,0,0,0,60,4.6,6\r\n",
            NULL, &w);
    ck_assert_uint_eq(w.n, 2);
    ck_assert_uint_eq(w.reports[0].has, 0);
    ck_assert_uint_eq(w.reports[1].has, (1u << TH_QUANTITIES) - 1);
    th_weather_finish(&w);
}
END_TEST

/* Rows in order of time over more than a year are actual weather. */
START_TEST(epw_of_several_years_is_actual)
{
    struct text t = {0};
    struct th_weather w;
    text_add(&t, "%s", EPW_HEAD);
    for (long day = th_day_number(2018, 1, 1); day < th_day_number(2020, 1, 1); day++) {
        const struct th_date d = th_date_of(day);
        for (int hour = 1; hour <= 24; hour++)
            text_add(&t, "%d,%d,%d,%d,0,x,1.0,0.0,90,98000," EPW_REST "\n", d.year, d.month, d.day,
                     hour);
    }
    read_ok("t.epw", t.at, NULL, &w);
    ck_assert(!w.typical);
    ck_assert_int_eq(w.reports[0].minute, minute_of(2018, 1, 1, 1, 0));
    ck_assert_int_eq(w.reports[w.n - 1].minute, minute_of(2020, 1, 1, 0, 0));
    th_weather_finish(&w);
    free(t.at);
}
END_TEST

#define TMY3_STATION "725300,\"NOWHERE, INTL AP\",ST,-6.0,41.983,-87.917,201\n"

/* The two releases differ in columns before and after; padding, quotes and case do not matter. */
static const char *const tmy3_names[] = {
    "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),Dry-bulb (C),Dew-point (C),RHum (%),"
    "Pressure (mbar),Wspd (m/s)\n",
    "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),\" Dry-bulb (C) \",dew-point (c), RHum (%) ,"
    "Pressure (mbar),Wspd (m/s),Lprecip quantity (hr)\n",
};

START_TEST(tmy3_finds_columns_by_name)
{
    struct th_weather w;
    char text[1024];
    snprintf(text, sizeof text,
             TMY3_STATION "%s01/31/1986,24:00,0,-12.2,-16.1,73,995,2.6\n"
                          "02/01/1999,01:00,0,-9900,-9900,-9900,-9900,-9900\n"
                          "02/28/1988,24:00,0,1.5,-9900,80,995,2.6\n",
             tmy3_names[_i]);
    read_ok("t.csv", text, NULL, &w);
    ck_assert_str_eq(w.form, "tmy3");
    ck_assert_str_eq(w.station.name, "NOWHERE, INTL AP, ST");
    const struct th_observation *o = at(&w, minute_of(TH_TYPICAL_YEAR, 2, 1, 0, 0));
    ck_assert_ptr_nonnull(o);
    ck_assert_double_eq(o->value[TH_TEMP_C], -12.2);
    ck_assert_double_eq(o->value[TH_PRESSURE_PA], 99500.0);
    ck_assert_uint_eq(at(&w, minute_of(TH_TYPICAL_YEAR, 2, 1, 1, 0))->has, 0);
    /* 28 February 24:00, though of a leap year, is 1 March 00:00 of the typical year. */
    ck_assert_ptr_nonnull(at(&w, minute_of(TH_TYPICAL_YEAR, 3, 1, 0, 0)));
    th_weather_finish(&w);
}
END_TEST

#define LCD_NAMES                                                                                  \
    "STATION,DATE,\" REPORT_TYPE\",HourlyDryBulbTemperature,HourlyDewPointTemperature,"            \
    "HourlyRelativeHumidity,HourlyWindSpeed,HourlyStationPressure,HourlySeaLevelPressure,REM,"     \
    "REPORT_TYPE\n"

START_TEST(lcd_in_us_units_is_told_by_pressure)
{
    struct th_weather w;
    read_ok("l.csv",
            LCD_NAMES
            "1,2020-01-01T00:52:00,FM-15,40,29,65,9,28.93,30.1,\"MET, a \"\"b\"\"\nnext\"\n"
            "1,2020-01-01T01:10:00,FM-16,10,9,65,9,28.93,30.1,x\n"
            "1,2020-01-01T01:52:00,\"FM-15 \",41s,28,T,11,28.92s,30.1,\n"
            "1,2020-01-01T02:52:00,FM-15,M,*,,,,,\n"
            "1,2020-01-01T03:52:00,FM-15,-5*,-9,80,VRB,,,\n"
            "1,2020-01-01T23:59:00,SOD  ,,,,,,,\n",
            NULL, &w);
    ck_assert_str_eq(w.form, "lcd");
    ck_assert_int_eq(w.clock, TH_CLOCK_STANDARD);
    ck_assert_uint_eq(w.n, 4);
    ck_assert_uint_eq(w.counts.other_type, 2);
    ck_assert_uint_eq(w.counts.suspect, 1);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], th_c_from_f(40.0), 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_PRESSURE_PA], 28.93 * 3386.389, 1e-6);
    ck_assert_double_eq_tol(w.reports[0].value[TH_WIND_M_S], 9 * 0.44704, 1e-12);
    ck_assert(!th_observation_has(&w.reports[1], TH_TEMP_C));
    ck_assert(!th_observation_has(&w.reports[2], TH_TEMP_C));
    ck_assert_double_eq_tol(w.reports[3].value[TH_TEMP_C], th_c_from_f(-5.0), 1e-12);
    ck_assert_ptr_nonnull(strstr(w.units_note, "pressure"));
    th_weather_finish(&w);
}
END_TEST

START_TEST(lcd_in_metric_units_is_told_by_pressure_or_decimals)
{
    static const char *const rows[] = {
        "1,2023-01-01T00:54:00,FM-15,-5,-7,88,2.6,966.5,,\n",
        "1,2023-01-01T00:54:00,FM-15,-5.0,-7.2,88,2.6,,,\n",
    };
    struct th_weather w;
    char text[1024];
    snprintf(text, sizeof text, LCD_NAMES "%s", rows[_i]);
    read_ok("l.csv", text, NULL, &w);
    ck_assert_double_eq(w.reports[0].value[TH_TEMP_C], -5.0);
    ck_assert_double_eq(w.reports[0].value[TH_WIND_M_S], 2.6);
    th_weather_finish(&w);
}
END_TEST

START_TEST(lcd_that_does_not_tell_asks_for_units)
{
    static const char text[] = LCD_NAMES "1,2023-01-01T00:54:00,FM-15,25,20,88,2,,,\n";
    const struct th_weather_options us = {.units = TH_UNITS_US};
    struct th_weather w;
    read_refused("l.csv", text, NULL, "--units");
    read_ok("l.csv", text, &us, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], th_c_from_f(25.0), 1e-12);
    th_weather_finish(&w);
}
END_TEST

START_TEST(mesonet_traps)
{
    struct th_weather w;
    read_ok(
        "m.csv",
        "#DEBUG: made up\n# a second comment\nstation,valid, tmpf ,  dwpf ,relh,sknt,alti,mslp\n"
        "MSP,2010-10-23 00:53,60.0,38.0,44.0,10.00,30.01,1010.70\n"
        "MSP,2010-10-23 01:15,M,null,,10.00,30.01,M\n"
        "MSP,2010-10-23 01:53,58.0,38.0,44.0,M,30.01,M\n"
        "MSP,2010-10-23 01:53,59.0,38.0,44.0,M,30.01,M\n",
        NULL, &w);
    ck_assert_str_eq(w.form, "mesonet");
    ck_assert_int_eq(w.clock, TH_CLOCK_UNKNOWN);
    ck_assert_uint_eq(w.n, 3);
    ck_assert_uint_eq(w.counts.duplicates, 1);
    ck_assert_double_eq_tol(w.reports[2].value[TH_TEMP_C], 15.0, 1e-12);
    ck_assert_double_eq_tol(w.reports[0].value[TH_WIND_M_S], 10.0 * 1852.0 / 3600.0, 1e-12);
    ck_assert_uint_eq(w.reports[1].has, 1u << TH_WIND_M_S);
    /* Altimeter setting and sea-level pressure are not station pressure. */
    ck_assert(!th_observation_has(&w.reports[0], TH_PRESSURE_PA));
    th_weather_finish(&w);
}
END_TEST

START_TEST(mesonet_clock_is_the_users_to_say)
{
    static const char text[] = "station,valid,tmpc\nMSP,2010-07-23 00:53,15.60\n";
    const struct th_weather_options utc = {.has_utc_offset = true, .utc_offset_h = -6.0};
    const struct th_weather_options wall = {.clock = TH_CLOCK_DAYLIGHT};
    struct th_weather w;
    read_ok("m.csv", text, &utc, &w);
    ck_assert_int_eq(w.clock, TH_CLOCK_UTC);
    th_weather_finish(&w);
    read_ok("m.csv", text, &wall, &w);
    ck_assert_int_eq(w.clock, TH_CLOCK_STANDARD);
    ck_assert_int_eq(w.reports[0].minute, minute_of(2010, 7, 22, 23, 53));
    th_weather_finish(&w);
}
END_TEST

START_TEST(two_stations_in_a_file_are_refused_or_selected)
{
    static const char text[] = "station,valid,tmpc\nMSP,2010-07-23 00:53,15.60\n"
                               "OMA,2010-07-23 00:53,25.60\n";
    const struct th_weather_options one = {.station = "OMA"};
    struct th_weather w;
    read_refused("m.csv", text, NULL, "stations MSP and OMA");
    read_ok("m.csv", text, &one, &w);
    ck_assert_uint_eq(w.n, 1);
    ck_assert_double_eq(w.reports[0].value[TH_TEMP_C], 25.6);
    th_weather_finish(&w);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_forms");
    TCase *tc = tcase_create("weather_forms");
    tcase_add_test(tc, isd_lite_reads_tenths_and_missing);
    tcase_add_test(tc, a_warm_afternoon_is_not_a_missing_code);
    tcase_add_test(tc, a_utc_offset_is_kept_for_the_site);
    tcase_add_loop_test(tc, epw_typical_years_keep_file_order, 0, COUNT(epw_cases));
    tcase_add_test(tc, epw_missing_codes);
    tcase_add_test(tc, epw_of_several_years_is_actual);
    tcase_add_loop_test(tc, tmy3_finds_columns_by_name, 0, COUNT(tmy3_names));
    tcase_add_test(tc, lcd_in_us_units_is_told_by_pressure);
    tcase_add_loop_test(tc, lcd_in_metric_units_is_told_by_pressure_or_decimals, 0, 2);
    tcase_add_test(tc, lcd_that_does_not_tell_asks_for_units);
    tcase_add_test(tc, mesonet_traps);
    tcase_add_test(tc, mesonet_clock_is_the_users_to_say);
    tcase_add_test(tc, two_stations_in_a_file_are_refused_or_selected);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
