/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `turnheat weather` tells, on a made-up file whose figures are known by construction. */
#include "weather_report.h"

#include "turnheat/normals.h"
#include "turnheat/units.h"
#include "render.h"
#include "weather_fixture.h"
#include <jansson.h>
#include <math.h>

/* Two calendar months of hours at 5 °C (41 °F): 24 °F·day a day below 65 °F by every count. Three
   hours are missing, 30 hours stand still because all do, and one report cannot be read. */
static void make(struct text *t)
{
    text_add(t, "time,temp_c\n");
    for (long day = th_day_number(2018, 1, 1); day < th_day_number(2018, 3, 1); day++) {
        const struct th_date d = th_date_of(day);
        for (int hour = 0; hour < 24; hour++)
            if (d.month != 1 || d.day != 10 || hour < 3 || hour > 5)
                text_add(t, "%d-%02d-%02d %02d:00,5\n", d.year, d.month, d.day, hour);
    }
    text_add(t, "2018-03-01 00:00,warm\n");
}

static json_t *report_of(const char *text)
{
    struct th_weather weather;
    struct th_climate climate;
    struct th_weather_summary summary;
    struct th_error err;
    read_ok("made.csv", text, NULL, &weather);
    ck_assert_int_eq(th_climate_init(&climate, &weather, 0.0, NAN, &err), TH_OK);
    ck_assert_int_eq(th_weather_summarise(&climate, th_c_from_f(65.0), &summary, &err), TH_OK);
    struct th_report *report = th_report_new("weather");
    th_weather_report(report, &weather, &climate, &summary);
    char *out = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&out, &size);
    ck_assert_int_eq(th_report_write(report, TH_AS_JSON, stream, &err), TH_OK);
    fclose(stream);
    json_t *root = json_loads(out, 0, NULL);
    ck_assert_ptr_nonnull(root);
    free(out);
    th_report_free(report);
    th_weather_summary_finish(&summary);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    return root;
}

static double number(json_t *root, const char *section, const char *table, size_t row,
                     const char *key)
{
    json_t *at = json_object_get(root, section);
    if (table)
        at = json_array_get(json_object_get(at, table), row);
    json_t *value = json_object_get(at, key);
    ck_assert_msg(json_is_number(value), "%s %s %s", section, table ? table : "", key);
    return json_number_value(value);
}

START_TEST(the_figures_are_those_of_the_file)
{
    struct text t = {0};
    make(&t);
    json_t *root = report_of(t.at);
    ck_assert_double_eq_tol(number(root, "degree_days", "years", 0, "hourly_f_d"), 59 * 24.0, 1e-6);
    ck_assert_double_eq_tol(number(root, "degree_days", "years", 0, "mean_f_d"), 59 * 24.0, 1e-6);
    ck_assert_double_eq_tol(number(root, "degree_days", "years", 0, "midrange_f_d"), 59 * 24.0,
                            1e-6);
    ck_assert_double_eq_tol(number(root, "degree_days", "years", 0, "nws_f_d"), 59 * 24.0, 1e-6);
    ck_assert_double_eq(number(root, "coverage", "gaps", 0, "interpolated_h"), 3.0);
    ck_assert_double_eq(number(root, "coverage", "months", 0, "filled_h"), 3.0);
    ck_assert_double_eq(number(root, "coverage", "months", 1, "observed_h"), 672.0);
    ck_assert_double_eq(number(root, "rows", NULL, 0, "refused_count"), 1.0);
    ck_assert_double_eq_tol(number(root, "cold", NULL, 0, "low_f"), 41.0, 1e-6);
    ck_assert_double_eq_tol(number(root, "cold", NULL, 0, "design_996_f"), 41.0, 1e-6);
    ck_assert_double_eq(number(root, "odd", NULL, 0, "stuck_count"), 2.0);
    json_decref(root);
    free(t.at);
}
END_TEST

static bool warned(json_t *root, const char *words)
{
    size_t i;
    json_t *warning;
    json_array_foreach(json_object_get(root, "warnings"), i,
                       warning) if (strstr(json_string_value(warning), words)) return true;
    return false;
}

START_TEST(what_is_doubtful_is_said)
{
    struct text t = {0};
    make(&t);
    json_t *root = report_of(t.at);
    ck_assert(warned(root, "made.csv: 1 of 1,414 rows were not understood"));
    ck_assert(warned(root, "No whole season"));
    ck_assert(warned(root, "Odd readings"));
    ck_assert(!warned(root, "typical"));
    json_decref(root);
    free(t.at);
    root = report_of(EPW_HEAD "2003,1,1,2,0,x,-3.3,-10.0,56,98000,0\r\n");
    ck_assert(warned(root, "One typical year is thin evidence"));
    json_decref(root);
}
END_TEST

/* A series of turnheat's own making, read from its file, must not pass for a measured one. Rows
   past a year, since shorter ones are taken as a typical year. */
START_TEST(invented_weather_is_called_so)
{
    static const char *const kinds[] = {"actual weather", "invented weather"};
    const int first_year = _i ? TH_NORMAL_FIRST_YEAR : 2017;
    struct text t = {0};
    text_add(&t, "time,temp_c\n");
    for (long day = th_day_number(first_year, 7, 1); day < th_day_number(first_year + 1, 9, 1);
         day++)
        for (int hour = 0; hour < 24; hour++) {
            const struct th_date d = th_date_of(day);
            text_add(&t, "%d-%02d-%02d %02d:00,%d\n", d.year, d.month, d.day, hour, hour);
        }
    json_t *root = report_of(t.at);
    const json_t *kind = json_object_get(json_object_get(root, "station"), "kind");
    ck_assert_str_eq(json_string_value(kind), kinds[_i]);
    const char *warning = json_string_value(json_array_get(json_object_get(root, "warnings"), 0));
    ck_assert_int_eq(warning && strstr(warning, "Invented") != NULL, _i);
    json_decref(root);
    free(t.at);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("weather_report");
    TCase *tc = tcase_create("weather_report");
    tcase_add_test(tc, the_figures_are_those_of_the_file);
    tcase_add_test(tc, what_is_doubtful_is_said);
    tcase_add_loop_test(tc, invented_weather_is_called_so, 0, 2);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
