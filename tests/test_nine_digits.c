/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers of nine digits against printf. */
#include "nine_digits.h"

#include "run_suite.h"
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static void same_as_printf(double number)
{
    char ours[TH_NINE_DIGITS_MAX], theirs[64];
    const size_t length = th_nine_digits(ours, number);
    snprintf(theirs, sizeof theirs, "%.9g", number + 0.0); /* no "-0" */
    if (strcmp(ours, theirs) != 0)
        ck_abort_msg("%a is \"%s\"; printf writes \"%s\"", number, ours, theirs);
    ck_assert_uint_eq(length, strlen(ours));
}

static void around(double number)
{
    same_as_printf(number);
    same_as_printf(nextafter(number, INFINITY));
    same_as_printf(nextafter(number, -INFINITY));
    if (number > 0.0)
        around(-number);
}

START_TEST(bounds_and_powers)
{
    static const double numbers[] = {1e-4,           9.99999999e-5, 9.999999995e-5,
                                     0.000123456789, 999999999.0,   999999999.5,
                                     99999999.95,    99999999.995,  1e9,
                                     1e300,          5e-324,        0.1,
                                     123456789.5,    12345678.25,   2.5,
                                     1048576.015625};
    char text[TH_NINE_DIGITS_MAX];
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        around(numbers[i]);
    for (int e = -12; e < 18; e++)
        for (int m = 1; m < 1000; m++)
            around(m * pow(10.0, e));
    same_as_printf(INFINITY);
    same_as_printf(0.0);
    ck_assert_uint_eq(th_nine_digits(text, -0.0), 1);
    ck_assert_str_eq(text, "0");
}
END_TEST

/* Halves of the ninth digit that a double holds exactly, which printf rounds to even. */
START_TEST(ties)
{
    for (int64_t whole = 1000000001; whole < 1000000400; whole++)
        for (int64_t halves = 1; halves <= 64; halves *= 2)
            around((double)whole / (double)halves / 2.0);
    for (int64_t m = 100000000; m < 999000000; m += 1234567)
        for (int shift = 0; shift < 9; shift++)
            around(((double)m + 0.5) / pow(10.0, shift));
}
END_TEST

/* All magnitudes, by a linear congruence. */
START_TEST(many_numbers)
{
    uint64_t state = 42;
    for (int i = 0; i < 60000; i++) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        const double part = (double)(state >> 11) / 9007199254740992.0;
        same_as_printf(pow(10.0, (double)(i % 19) - 7.0) * part);
        same_as_printf(round(part * 1e6) / 1e4);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("nine_digits");
    TCase *tc = tcase_create("nine_digits");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, bounds_and_powers);
    tcase_add_test(tc, ties);
    tcase_add_test(tc, many_numbers);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
