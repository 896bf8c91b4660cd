/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real station files, read from the folder TURNHEAT_WEATHER names. Expected figures: the notes that
   come with those files, computed by another program; ± 0.2 °F·day and ± 0.05 °F. */
#include "turnheat/calendar.h"
#include "turnheat/degree_days.h"
#include "turnheat/units.h"
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
    ck_assert_msg(th_weather_read(paths, n, &none, weather, &err) == TH_OK, "%s", err.text);
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

int main(void)
{
    Suite *suite = suite_create("weather_real");
    TCase *tc = tcase_create("weather_real");
    tcase_add_loop_test(tc, utc_years_have_the_known_degree_days, 0,
                        (int)(sizeof years / sizeof years[0]));
    tcase_add_loop_test(tc, local_seasons_have_the_known_degree_days, 0,
                        (int)(sizeof seasons / sizeof seasons[0]));
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
