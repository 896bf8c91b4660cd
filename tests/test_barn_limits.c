/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What reading refuses, how long it takes, and files that lie in memory. */
#include "run_suite.h"
#include "sound_barn.h"

#include <stdlib.h>
#include <time.h>

/* What a command would refuse is refused by reading, at its place. */
static const struct {
    const char *text;
    const char *place;
    const char *says;
} refused[] = {
    {"[contract c]\nfrom = 02-29\n", "test.barn:26:8: ", "from is no day of every year"},
    {"[contract c]\nkind = booked\n", "test.barn:25:1: ", "price is missing"},
    {"[use u]\nfrom = 02-29\nweeks = 5 gal\n", "test.barn:26:8: ", "from is no day"},
    {"[tank a]\nreserve = 90 %\n", "test.barn:26:11: ", "reserve = 90 % is above"},
    {"[tank a]\nmin_drop = 3,000 gal\n", "test.barn:26:12: ", "min_drop = 3000 gal is more"},
    {"[fuel]\nprice = $0.80/gal\n", "test.barn:26:9: ", "above the dealer's margin"},
    {"[money]\nloan_share = 50 %\nloan_years = 12\n", "test.barn:27:14: ", "beyond the years"},
    {"[heater b]\ncontrol = lead_lag\nunits = 20\ninput = 50,000 Btu/h\n",
     "test.barn:27:9: ", "more than 16 heater stages"},
    {"[option x]\nheater main.input = 30,000 Btu/h\nroom.overshoot = 19 F\n",
     "test.barn:27:18: ", "overshoot of 19.0"},
    {"[option x]\nroom.overshoot = 0 F\n", "test.barn:26:18: ", "lies outside its range"},
};

START_TEST(what_a_command_would_refuse_is_refused_at_its_place)
{
    char text[2000];
    snprintf(text, sizeof text, "%s%s", SOUND, refused[_i].text);
    must_fail(read_barn(text), refused[_i].says);
    ck_assert_msg(strstr(issues.errors[0].text, refused[_i].place) != NULL, "%s",
                  issues.errors[0].text);
}
END_TEST

/* CPU time of reading grows with the file, not with its square: each took 8 to 20 s once. */
static void ck_is_quick(const char *head, const char *line, int n)
{
    const size_t room = strlen(head) + (size_t)n * (strlen(line) + 8) + 1;
    char *const text = malloc(room);
    ck_assert_ptr_nonnull(text);
    size_t at = (size_t)snprintf(text, room, "%s", head);
    for (int i = 0; i < n; i++)
        at += (size_t)snprintf(text + at, room - at, line, i);
    const clock_t start = clock();
    ck_assert_int_eq(read_barn(text), TH_ERR_INPUT);
    ck_assert_double_lt((double)(clock() - start) / CLOCKS_PER_SEC, 2.0);
    free(text);
    stop();
}

START_TEST(long_files_are_read_in_time)
{
    ck_is_quick("[surface a]\n", "R=1\n", 200000);
    ck_is_quick("", "[turn %d]\n", 50000);
    ck_is_quick("", "[x%d]\n", 50000);
}
END_TEST

/* inih cut it at " ;" without a word: 400 gal were counted. */
START_TEST(a_semicolon_is_no_comment)
{
    must_fail(read_barn(SOUND "[use dryer]\nfrom = 10-01\nweeks = 400 gal ; 1,300 gal\n"),
              "; has no meaning");
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "weeks = 400 gal ; 1,300 gal\n"));
    stop();
    must_fail(read_barn(SOUND "[surface x]\narea = 9 ft2\nlayers = plywood 0.5 in ; r-19 batt\n"),
              "; has no meaning");
}
END_TEST

/* A line of weather files may be longer than 190 bytes. */
START_TEST(many_weather_paths_fit_on_a_line)
{
    must_read(
        ROOM
        "[site]\nelevation = 950 ft\nweather = "
        "../../records/airport/hourly/ames/2017-07-01-to-2018-06-30.csv, "
        "../../records/airport/hourly/ames/2018-07-01-to-2019-06-30.csv, "
        "../../records/airport/hourly/ames/2019-07-01-to-2020-06-30.csv, "
        "../../records/airport/hourly/ames/2020-07-01-to-2021-06-30.csv\n" CEILING AIR HEATER TURN);
    ck_assert_int_eq(barn.n_weather, 4);
}
END_TEST

/* A page in a browser has no disk: barn, farm and tables come from memory. */
START_TEST(a_barn_in_memory_finds_its_tables)
{
    static const char set_points[] = "turn_day, set_f\n0, 80\n100, 60\n";
    static const char text[] = SOUND "[setpoints]\ntable = set.csv\n";
    static const char farm[] = "[fuel]\nprice = $2.10/gal\n";
    const struct th_file list[] = {{"a.barn", text, sizeof text - 1},
                                   {"set.csv", set_points, sizeof set_points - 1},
                                   {"b.farm", farm, sizeof farm - 1}};
    struct th_files files = {.n_held = 3, .held = list};
    const enum th_code code = th_barn_read(&files, "a.barn", "b.farm", NULL, 0, &barn, &issues);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no error");
    ck_assert_int_eq(barn.room.setpoints.set_c.n, 2);
    ck_assert_double_eq_tol(barn.room.fuel.price, 2.10, 1e-12);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("barn_limits");
    TCase *tc = tcase_create("barn_limits");
    tcase_add_checked_fixture(tc, NULL, stop);
    tcase_add_loop_test(tc, what_a_command_would_refuse_is_refused_at_its_place, 0,
                        (int)(sizeof refused / sizeof *refused));
    tcase_add_test(tc, long_files_are_read_in_time);
    tcase_add_test(tc, a_semicolon_is_no_comment);
    tcase_add_test(tc, many_weather_paths_fit_on_a_line);
    tcase_add_test(tc, a_barn_in_memory_finds_its_tables);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
