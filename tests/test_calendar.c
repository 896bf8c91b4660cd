/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"

#include "run_suite.h"
#include <time.h>

/* POSIX: seconds since the epoch count 86,400 a day; timegm's inverse is gmtime_r. */
START_TEST(agrees_with_gmtime)
{
    for (long day = -30000; day < 60000; day += 13) {
        const time_t seconds = (time_t)day * 86400;
        struct tm tm;
        gmtime_r(&seconds, &tm);
        const struct th_date date = th_date_of(day);
        ck_assert_int_eq(date.year, tm.tm_year + 1900);
        ck_assert_int_eq(date.month, tm.tm_mon + 1);
        ck_assert_int_eq(date.day, tm.tm_mday);
        ck_assert_int_eq(th_day_number(date.year, date.month, date.day), day);
    }
}
END_TEST

START_TEST(refuses_days_that_do_not_exist)
{
    ck_assert(th_date_valid(2020, 2, 29));
    ck_assert(!th_date_valid(2019, 2, 29));
    ck_assert(!th_date_valid(2019, 4, 31));
    ck_assert(!th_date_valid(2019, 13, 1));
    ck_assert(!th_date_valid(2019, 0, 1));
}
END_TEST

START_TEST(hours_before_1970_fall_on_the_right_day)
{
    ck_assert_int_eq(th_day_of_hour(-1), -1);
    ck_assert_int_eq(th_hour_of_day(-1), 23);
    ck_assert_int_eq(th_day_of_hour(25), 1);
    ck_assert_int_eq(th_hour_of_day(25), 1);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("calendar");
    TCase *tc = tcase_create("calendar");
    tcase_add_test(tc, agrees_with_gmtime);
    tcase_add_test(tc, refuses_days_that_do_not_exist);
    tcase_add_test(tc, hours_before_1970_fall_on_the_right_day);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
