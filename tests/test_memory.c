/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole decisions from texts in memory, as a page without a disk makes them: barn, farm, tables,
   fills, monthly statistics and every form of weather that holds a temperature for each hour. The
   folder the test runs in has none of these files. */
#include "barn.h"
#include "fills_read.h"
#include "normals_read.h"
#include "turnheat/budget.h"
#include "turnheat/calendar.h"
#include "turnheat/fills_fit.h"
#include "turnheat/normals.h"
#include "weather_fixture.h"

#include <math.h>
#include <stdint.h>
#include <zlib.h>

#define YEAR 2018
#define HOURS 8760
#define OFFSET_H (-6)

static const char barn_text[] =
    "[room]\nname = Invented\nspaces = 1,000\nlength = 200 ft\nwidth = 40 ft\nheight = 8 ft\n"
    "[site]\nelevation = 1,000 ft\nutc_offset = -6\n"
    "[surface ceiling]\nkind = ceiling\narea = 8,000 ft2\nR = 30\n"
    "[surface walls]\nkind = wall\narea = 3,840 ft2\nR = 12\n"
    "[setpoints]\ntable = set.csv\n"
    "[heater room]\nunits = 3\ninput = 225,000 Btu/h\n"
    "[turn winter]\nplace = 01-05\nhead = 1000\nweight = 13 lb\ndays = 40\n";
static const char farm_text[] = "[fuel]\nprice = $2.00/gal\n[tank yard]\ncapacity = 1,000 gal\n";
static const char set_text[] = "turn_day,set_f\n0,80\n40,70\n";
static const char fills_text[] =
    "date,gallons,level_before_pct\n2018-01-05,300,40\n"
    "2018-01-15,400,40\n2018-01-25,400,40\n2018-02-01,300,40\n2018-02-05,300,40\n";
static const char normals_text[] =
    "month,mean_c,sd_c,lag1,range_c\n1,-6,6,.7,8\n2,-4,6,.7,8\n3,2,5,.7,9\n4,9,5,.7,10\n"
    "5,15,4,.7,11\n6,20,3,.7,11\n7,23,3,.7,10\n8,22,3,.7,10\n9,18,4,.7,11\n10,11,5,.7,11\n"
    "11,3,5,.7,9\n12,-4,6,.7,8\n";

/* Whole degrees, so that every form holds the same; `hour` of the year, local standard time. */
static long temp_c(long hour)
{
    return lround(-6.0 + 8.0 * sin(0.2618 * (double)hour) + 5.0 * cos(0.0021 * (double)hour));
}

static void write_isd_lite(struct text *t)
{
    for (long hour = 0; hour < HOURS; hour++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 1, 1) + hour / 24);
        text_add(t, "%d %02d %02d %02ld %5ld -9999 10142 220 -9999 0 -9999 -9999\n", date.year,
                 date.month, date.day, hour % 24, 10 * temp_c(hour + OFFSET_H));
    }
}

static void write_plain(struct text *t)
{
    text_add(t, "time,temp_c\n");
    for (long hour = 0; hour < HOURS; hour++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 1, 1) + hour / 24);
        text_add(t, "%d-%02d-%02d %02ld:00,%ld\n", date.year, date.month, date.day, hour % 24,
                 temp_c(hour));
    }
}

/* Labels 1 to 24 are ends of hours. */
static void write_epw(struct text *t)
{
    text_add(t, "%s", EPW_HEAD);
    for (long hour = 0; hour < HOURS; hour++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 1, 1) + hour / 24);
        text_add(t,
                 "%d,%d,%d,%ld,60,x,%ld.0,99.9,999,999999,0,0,0,0,0,0,0,0,0,0,0,999,0,0,0,0,0,0,"
                 "0,0,0,0,0,0,0\r\n",
                 date.year, date.month, date.day, hour % 24 + 1, temp_c(hour + 1));
    }
}

static void write_tmy3(struct text *t)
{
    text_add(t, "725460,\"NOWHERE, INVENTED\",ST,-6.0,41.5,-93.7,292\n"
                "Date (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C),Dew-point (C),RHum (%%),"
                "Pressure (mbar),Wspd (m/s)\n");
    for (long hour = 0; hour < HOURS; hour++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 1, 1) + hour / 24);
        text_add(t, "%02d/%02d/%d,%02ld:00,%ld.0,-9900,-9900,-9900,-9900\n", date.month, date.day,
                 date.year, hour % 24 + 1, temp_c(hour + 1));
    }
}

static void write_mesonet(struct text *t)
{
    text_add(t, "station,valid,tmpc\n");
    for (long hour = 0; hour < HOURS; hour++) {
        const struct th_date date = th_date_of(th_day_number(YEAR, 1, 1) + hour / 24);
        text_add(t, "MCW,%d-%02d-%02d %02ld:00,%ld\n", date.year, date.month, date.day, hour % 24,
                 temp_c(hour + OFFSET_H));
    }
}

static const struct form {
    const char *name;
    void (*write)(struct text *t);
} forms[] = {{"plain", write_plain},
             {"isd-lite", write_isd_lite},
             {"epw", write_epw},
             {"tmy3", write_tmy3},
             {"mesonet", write_mesonet}};

#define HELD 6

static struct th_barn barn;
static struct th_issues issues;
static struct th_weather weather;
static struct th_climate climate;
static struct th_case one;
static struct th_file held[HELD];
static struct th_files files;
static struct text written;

static void hold(int at, const char *name, const char *bytes, size_t size)
{
    held[at] = (struct th_file){name, bytes, size};
}

static void start(void)
{
    hold(0, "a.barn", barn_text, sizeof barn_text - 1);
    hold(1, "b.farm", farm_text, sizeof farm_text - 1);
    hold(2, "set.csv", set_text, sizeof set_text - 1);
    hold(3, "fills.csv", fills_text, sizeof fills_text - 1);
    hold(4, "normals.csv", normals_text, sizeof normals_text - 1);
    hold(5, "weather", "", 0);
    files = (struct th_files){.n_held = HELD, .held = held};
    const enum th_code code = th_barn_read(&files, "a.barn", "b.farm", NULL, 0, &barn, &issues);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no error");
}

static void stop(void)
{
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    free(written.at);
    written = (struct text){0};
}

static void read_form(const struct form *form)
{
    struct th_error err;
    const struct th_weather_options options = {.has_utc_offset = strcmp(form->name, "mesonet") == 0,
                                               .utc_offset_h = OFFSET_H};
    const char *const name = "weather";
    form->write(&written);
    hold(5, name, written.at, written.used);
    ck_assert_str_eq(th_weather_looks_like(&files, name), form->name);
    ck_assert_msg(th_weather_read(&files, &name, 1, &options, &weather, &err) == TH_OK, "%s:%ld %s",
                  err.file, err.line, err.text);
}

static void make_case(void)
{
    struct th_error err;
    ck_assert_msg(th_climate_init(&climate, &weather, barn.room.site.elevation_m, OFFSET_H, &err) ==
                      TH_OK,
                  "%s", err.text);
    one = (struct th_case){.room = &barn.room,
                           .weather = &weather,
                           .climate = &climate,
                           .first_year = YEAR - 1,
                           .last_year = YEAR};
}

static double budget_j(void)
{
    struct th_error err;
    struct th_runs runs;
    struct th_budget budget = {0};
    double gas_j = 0.0;
    th_runs_init(&runs, 1, NULL);
    ck_assert_msg(th_budget_run(&budget, &runs, &one, NULL, &err) == TH_OK, "%s", err.text);
    const int request = th_runs_add(&runs, one.room, &climate, one.first_year, one.last_year);
    ck_assert_int_eq(th_runs_do(&runs, "again", &err), TH_OK);
    ck_assert_int_eq(th_runs_gas(&runs, request, &gas_j, &err), TH_OK);
    th_budget_finish(&budget);
    th_runs_finish(&runs);
    return gas_j;
}

/* The same temperatures in every form burn the same gas. */
START_TEST(every_form_of_weather_gives_a_budget)
{
    static double plain_j;
    read_form(&forms[_i]);
    make_case();
    const double gas_j = budget_j();
    ck_assert_double_gt(gas_j, 1e10);
    if (_i == 0)
        plain_j = gas_j;
    ck_assert_double_eq_tol(gas_j / plain_j, 1.0, 1e-9);
}
END_TEST

/* Elevation: what the file of an EPW station says, where the barn file is silent. */
START_TEST(elevation_comes_from_the_weather)
{
    static const char site[] = "[site]\nelevation = 1,000 ft\n";
    static const char own[] = "[site]\nweather = weather\n";
    struct text text = {0};
    const char *const at = strstr(barn_text, site);
    text_add(&text, "%.*s%s%s", (int)(at - barn_text), barn_text, own, at + strlen(site));
    th_barn_finish(&barn);
    hold(0, "a.barn", text.at, text.used);
    write_epw(&written);
    hold(5, "weather", written.at, written.used);
    ck_assert_int_eq(th_barn_read(&files, "a.barn", NULL, NULL, 0, &barn, &issues), TH_OK);
    ck_assert_double_eq_tol(barn.room.site.elevation_m, 292.0, 1e-9);
    th_barn_finish(&barn);
    hold(5, "weather", ISD_ROWS, sizeof ISD_ROWS - 1); /* names no elevation */
    ck_assert_int_eq(th_barn_read(&files, "a.barn", NULL, NULL, 0, &barn, &issues), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "the elevation is missing"));
    free(text.at);
}
END_TEST

START_TEST(monthly_statistics_give_a_budget)
{
    struct th_error err;
    struct th_normals normals;
    ck_assert_msg(th_normals_read(&files, "normals.csv", &normals, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(th_normals_generate(&normals, 2, 1, &weather, &err), TH_OK);
    make_case();
    one.first_year = -9999;
    one.last_year = 9999;
    ck_assert_double_gt(budget_j(), 1e10);
}
END_TEST

START_TEST(fills_are_fitted)
{
    struct th_error err;
    struct th_tank_fill fills[TH_FILLS_MAX];
    struct th_fills_fit found = {0};
    struct th_runs runs;
    struct th_fills_in in = {
        .runs = &runs, .cases = &one, .n_cases = 1, .fills = fills, .capacity_gal = 1000.0};
    th_runs_init(&runs, 1, NULL);
    read_form(&forms[0]);
    make_case();
    ck_assert_double_eq_tol(barn.tanks[0].capacity_gal, 1000.0, 1e-9);
    ck_assert_msg(th_fills_read(&files, "fills.csv", 1000.0, 0.0, fills, &in.n_fills, &err) ==
                      TH_OK,
                  "%s", err.text);
    ck_assert_msg(th_fills_fit(&in, &found, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(found.n_stretches, 4);
    ck_assert_double_eq_tol(found.used_gal[0], 300.0, 1e-6);
    th_fills_fit_finish(&found);
    th_runs_finish(&runs);
}
END_TEST

/* Packs `size` bytes; returns how many there are then. */
static size_t gzip(const char *text, size_t size, unsigned char *out, size_t room)
{
    z_stream stream = {.next_in = (unsigned char *)(uintptr_t)text, .avail_in = (unsigned)size};
    ck_assert_int_eq(deflateInit2(&stream, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY), Z_OK);
    stream.next_out = out;
    stream.avail_out = (unsigned)room;
    ck_assert_int_eq(deflate(&stream, Z_FINISH), Z_STREAM_END);
    deflateEnd(&stream);
    return room - stream.avail_out;
}

/* Two yearly halves packed, as a folder, by a pattern and by name: the same as the whole. */
START_TEST(packed_files_of_a_folder_are_joined)
{
    static unsigned char packed[2][400000];
    static const char *const ways[] = {"st", "st/", "st/a*.gz", "st/a?.gz"};
    const struct th_weather_options none = {0};
    struct th_error err;
    struct th_file halves[4] = {{"st/a2.gz", (char *)packed[1], 0},
                                {"st/README", "not weather\n", 12},
                                {"st/a1.gz", (char *)packed[0], 0},
                                {"st/below/c.csv", "time,temp_c\n", 12}};
    write_plain(&written);
    const char *const middle = strstr(written.at, "2018-07-01");
    const size_t first = (size_t)(middle - written.at);
    struct text second = {0};
    text_add(&second, "time,temp_c\n%.4000s", middle);
    halves[2].size = gzip(written.at, first, packed[0], sizeof packed[0]);
    halves[0].size = gzip(second.at, second.used, packed[1], sizeof packed[1]);
    files = (struct th_files){.n_held = 4, .held = halves};
    ck_assert_msg(th_weather_read(&files, &ways[_i], 1, &none, &weather, &err) == TH_OK, "%s: %s",
                  err.file, err.text);
    ck_assert_uint_eq(weather.n_files, 2);
    ck_assert_str_eq(weather.files[0].name, "st/a1.gz");
    ck_assert_uint_gt(weather.n, 4344);
    free(second.at);
}
END_TEST

/* Cut short or with a byte changed it is refused by name, not read in part. */
START_TEST(damaged_packed_files_are_refused)
{
    static unsigned char packed[400000];
    const struct th_weather_options none = {0};
    const char *const name = "w.gz";
    struct th_error err;
    write_plain(&written);
    const size_t size = gzip(written.at, written.used, packed, sizeof packed);
    struct th_file one_file = {name, (char *)packed, _i ? size : size / 2};
    if (_i)
        packed[size / 2] ^= 0x55;
    files = (struct th_files){.n_held = 1, .held = &one_file};
    ck_assert_int_eq(th_weather_read(&files, &name, 1, &none, &weather, &err), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(err.text, _i ? "damaged" : "ends too early"));
    ck_assert_str_eq(err.file, name);
    ck_assert_uint_eq(weather.n, 0);
}
END_TEST

START_TEST(patterns_and_folders_without_weather_are_refused)
{
    static const struct {
        const char *path, *says;
    } wrong[] = {{"*.gz", "no file has a name that fits this"},
                 {"st", "cannot be opened"},
                 {"notes", "the folder holds no weather files"}};
    static const struct th_file note = {"notes/a.txt", "hello\n", 6};
    const struct th_weather_options none = {0};
    struct th_error err;
    files = (struct th_files){.n_held = 1, .held = &note};
    ck_assert_int_eq(th_weather_read(&files, &wrong[_i].path, 1, &none, &weather, &err),
                     TH_ERR_READ);
    ck_assert_msg(strstr(err.text, wrong[_i].says) != NULL, "got: %s", err.text);
}
END_TEST

START_TEST(what_is_not_held_is_not_looked_for_on_the_disk)
{
    struct th_error err;
    struct th_normals normals;
    const char *const path = "samples/curtain.barn";
    ck_assert_int_eq(access(path, R_OK), 0);
    ck_assert_ptr_null(th_weather_looks_like(&files, path));
    ck_assert_int_eq(th_normals_read(&files, path, &normals, &err), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(err.text, "cannot be opened"));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("memory");
    TCase *tc = tcase_create("memory");
    tcase_add_checked_fixture(tc, start, stop);
    tcase_add_loop_test(tc, every_form_of_weather_gives_a_budget, 0, COUNT(forms));
    tcase_add_test(tc, elevation_comes_from_the_weather);
    tcase_add_test(tc, monthly_statistics_give_a_budget);
    tcase_add_test(tc, fills_are_fitted);
    tcase_add_loop_test(tc, packed_files_of_a_folder_are_joined, 0, 4);
    tcase_add_loop_test(tc, damaged_packed_files_are_refused, 0, 2);
    tcase_add_loop_test(tc, patterns_and_folders_without_weather_are_refused, 0, 3);
    tcase_add_test(tc, what_is_not_held_is_not_looked_for_on_the_disk);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
