/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each form's traps on small made-up files. What the forms hold: NOAA's ISD-Lite format note and
   Local Climatological Data documentation, NREL/TP-581-43156 for TMY3, the open EPW data
   dictionary; missing codes marked "from memory" in the readers. */
#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include "weather_fixture.h"

#include <math.h>

static void ok(const char *name, const char *text, const struct th_weather_options *options,
               struct th_weather *weather)
{
    struct th_error err;
    const enum th_code code = read_text(name, text, options, weather, &err);
    ck_assert_msg(code == TH_OK, "%s:%ld: %s", err.file, err.line, err.text);
}

static void refused(const char *name, const char *text, const struct th_weather_options *options,
                    const char *words)
{
    struct th_weather weather;
    struct th_error err;
    ck_assert_int_ne(read_text(name, text, options, &weather, &err), TH_OK);
    ck_assert_msg(strstr(err.text, words) != NULL, "got: %s", err.text);
    ck_assert_msg(strstr(err.file, name) != NULL, "no file in the error");
    ck_assert_uint_eq(weather.n, 0);
}

static long minute_of(int year, int month, int day, int hour, int minute)
{
    return (th_day_number(year, month, day) * 24 + hour) * 60 + minute;
}

static const struct th_observation *at(const struct th_weather *weather, long minute)
{
    for (size_t i = 0; i < weather->n; i++)
        if (weather->reports[i].minute == minute)
            return &weather->reports[i];
    return NULL;
}

#define ISD_ROWS                                                                                   \
    "2018 01 01 00   -17   -89 10142   220    15     0 -9999 -9999\n"                              \
    "2018 01 01 02 -9999   -94 10149   140 -9999     0     0 -9999\n"

START_TEST(isd_lite_reads_tenths_and_missing)
{
    struct th_weather w;
    ok("725500-14942-2018.txt", ISD_ROWS, NULL, &w);
    ck_assert_int_eq(w.form, TH_FORM_ISD_LITE);
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
    ok("a.csv", "station,valid,tmpf\nMSP,2018-07-01 15:53,99.9\n", NULL, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], th_c_from_f(99.9), 1e-12);
    th_weather_finish(&w);
}
END_TEST

START_TEST(a_utc_offset_is_kept_for_the_site)
{
    const struct th_weather_options options = {.has_utc_offset = true, .utc_offset_h = -6.0};
    struct th_weather w;
    struct th_climate climate;
    ok("725500-14942-2018.txt", ISD_ROWS, &options, &w);
    ck_assert_int_eq(th_climate_init(&climate, &w, 300.0, NAN, NULL), TH_OK);
    ck_assert_int_eq(climate.first_hour, th_day_number(2018, 1, 1) * 24 - 6);
    th_climate_finish(&climate);
    th_weather_finish(&w);
}
END_TEST

#define EPW_HEAD                                                                                   \
    "LOCATION,Nowhere,ST,USA,made,999999,41.5,-93.7,-6.0,292.0\r\nDESIGN CONDITIONS,0\r\n"         \
    "TYPICAL/EXTREME PERIODS,0\r\nGROUND TEMPERATURES,0\r\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\r\n" \
    "COMMENTS 1,\"a, quoted\"\r\nCOMMENTS 2,\r\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\r\n"
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
    ok("t.epw", t.at, NULL, &w);
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
    ok("t.epw",
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
    ok("t.epw", t.at, NULL, &w);
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
    ok("t.csv", text, NULL, &w);
    ck_assert_int_eq(w.form, TH_FORM_TMY3);
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
    ok("l.csv",
       LCD_NAMES "1,2020-01-01T00:52:00,FM-15,40,29,65,9,28.93,30.1,\"MET, a \"\"b\"\"\nnext\"\n"
                 "1,2020-01-01T01:10:00,FM-16,10,9,65,9,28.93,30.1,x\n"
                 "1,2020-01-01T01:52:00,\"FM-15 \",41s,28,T,11,28.92s,30.1,\n"
                 "1,2020-01-01T02:52:00,FM-15,M,*,,,,,\n"
                 "1,2020-01-01T03:52:00,FM-15,-5*,-9,80,VRB,,,\n"
                 "1,2020-01-01T23:59:00,SOD  ,,,,,,,\n",
       NULL, &w);
    ck_assert_int_eq(w.form, TH_FORM_LCD);
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
    ok("l.csv", text, NULL, &w);
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
    refused("l.csv", text, NULL, "--units");
    ok("l.csv", text, &us, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_TEMP_C], th_c_from_f(25.0), 1e-12);
    th_weather_finish(&w);
}
END_TEST

START_TEST(mesonet_traps)
{
    struct th_weather w;
    ok("m.csv",
       "#DEBUG: made up\n# a second comment\nstation,valid, tmpf ,  dwpf ,relh,sknt,alti,mslp\n"
       "MSP,2010-10-23 00:53,60.0,38.0,44.0,10.00,30.01,1010.70\n"
       "MSP,2010-10-23 01:15,M,null,,10.00,30.01,M\n"
       "MSP,2010-10-23 01:53,58.0,38.0,44.0,M,30.01,M\n"
       "MSP,2010-10-23 01:53,59.0,38.0,44.0,M,30.01,M\n",
       NULL, &w);
    ck_assert_int_eq(w.form, TH_FORM_MESONET);
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
    ok("m.csv", text, &utc, &w);
    ck_assert_int_eq(w.clock, TH_CLOCK_UTC);
    th_weather_finish(&w);
    ok("m.csv", text, &wall, &w);
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
    refused("m.csv", text, NULL, "stations MSP and OMA");
    ok("m.csv", text, &one, &w);
    ck_assert_uint_eq(w.n, 1);
    ck_assert_double_eq(w.reports[0].value[TH_TEMP_C], 25.6);
    th_weather_finish(&w);
}
END_TEST

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
    ok("p.csv", c->text, NULL, &w);
    ck_assert_int_eq(w.form, TH_FORM_PLAIN);
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
    ok("p.csv",
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
    ok("p.csv", "time,temp_c,rh\n2018-01-31 00:00,10,0.8\n2018-01-31 01:00,10,1\n", NULL, &w);
    ck_assert_double_eq(w.reports[0].value[TH_RH], 0.8);
    th_weather_finish(&w);
    ok("p.csv", "time,temp_c,rh\n2018-01-31 00:00,10,1\n2018-01-31 01:00,10,80\n", NULL, &w);
    ck_assert_double_eq_tol(w.reports[0].value[TH_RH], 0.01, 1e-12);
    th_weather_finish(&w);
}
END_TEST

/* Zones that change with daylight time: the smaller one is standard time. */
START_TEST(plain_zones_give_the_offset)
{
    struct th_weather w;
    ok("p.csv",
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
    ok("p.csv", "time,temp_c\n2018-01-31 02:00,2\n2018-01-31 00:00,0\n2018-01-31 01:00,1\n", NULL,
       &w);
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
    {"a,b,c\n1,2,3\n", "expected ISD-Lite"},
    {"", "empty"},
    {"\n\n\n", "expected"},
    {"LOCATION,x\n", "expected LOCATION"},
    {"LOCATION,a,b,c,d,e,1,2,3,4\nDESIGN\n", "8 heading lines"},
    {EPW_HEAD, "no data rows"},
    {EPW_HEAD "2003,1,1,25,0,x,1,0,90,98000\n", "hour 1-24"},
    {EPW_HEAD "2003,1,1,1,0,x,1\n", "fields"},
    {"2018 01 01 24   -17   -89 10142   220    15     0 -9999 -9999\n", "expected"},
};

START_TEST(bad_files_are_refused_in_words)
{
    refused("bad.csv", bads[_i].text, NULL, bads[_i].words);
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
    ok("725500-14942-2018.txt", ISD_ROWS "2018 01 01 03   -1", NULL, &w);
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
    struct fixture f = fixture_bytes("big.csv", big, 3 * TH_LINE_MAX);
    const char *path = f.path;
    ck_assert_int_eq(th_weather_read(&path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_int_eq(err.line, 2);
    ck_assert_ptr_nonnull(strstr(err.text, "longer than"));
    fixture_remove(&f);
    f = fixture_bytes("zero.csv", "time,temp_c\n2018\0\n", 18);
    path = f.path;
    ck_assert_int_eq(th_weather_read(&path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(err.text, "binary"));
    fixture_remove(&f);
    path = "there/is/no.csv";
    ck_assert_int_eq(th_weather_read(&path, 1, &none, &w, &err), TH_ERR_READ);
    ck_assert_str_eq(err.file, path);
    path = ".";
    ck_assert_int_eq(th_weather_read(&path, 1, &none, &w, &err), TH_ERR_READ);
    free(big);
}
END_TEST

START_TEST(words_for_options)
{
    enum th_unit_choice units;
    enum th_clock clock;
    enum th_weather_form form;
    ck_assert(th_unit_choice_from("metric", &units) && units == TH_UNITS_METRIC);
    ck_assert(!th_unit_choice_from("furlongs", &units));
    ck_assert(th_clock_from("daylight", &clock) && clock == TH_CLOCK_DAYLIGHT);
    ck_assert(!th_clock_from("sundial", &clock));
    ck_assert(th_weather_form_from("epw", &form) && form == TH_FORM_EPW);
    ck_assert(!th_weather_form_from("tmy9", &form));
}
END_TEST

#define COUNT(list) ((int)(sizeof(list) / sizeof((list)[0])))

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
    tcase_add_loop_test(tc, plain_tables_in_many_spellings, 0, COUNT(plains));
    tcase_add_test(tc, plain_tables_with_everything);
    tcase_add_test(tc, humidity_without_a_unit_is_judged_by_its_values);
    tcase_add_test(tc, plain_zones_give_the_offset);
    tcase_add_test(tc, times_out_of_order_are_sorted_and_counted);
    tcase_add_loop_test(tc, bad_files_are_refused_in_words, 0, COUNT(bads));
    tcase_add_test(tc, errors_name_the_line);
    tcase_add_test(tc, a_truncated_last_row_is_counted);
    tcase_add_test(tc, binary_and_endless_lines_are_refused);
    tcase_add_test(tc, words_for_options);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
