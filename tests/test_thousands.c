/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/thousands.h"

#include "run_suite.h"

static const struct {
    double number;
    const char *text;
} wholes[] = {
    {0.0, "0"},
    {-0.2, "0"},
    {999.4, "999"},
    {999.6, "1,000"},
    {6945.2, "6,945"},
    {-6945.2, "-6,945"},
    {-123.0, "-123"},
    {750000.0, "750,000"},
    {1234567.0, "1,234,567"},
    {999999999999999.0, "999,999,999,999,999"},
    {1e15, "1e+15"},
    {-1e300, "-1e+300"},
};

START_TEST(whole_numbers_have_commas)
{
    ck_assert_str_eq(th_whole(wholes[_i].number).text, wholes[_i].text);
}
END_TEST

START_TEST(decimals_have_none)
{
    char text[48];
    th_thousands(text, "1234.5678");
    ck_assert_str_eq(text, "1,234.5678");
    th_thousands(text, "-0.00");
    ck_assert_str_eq(text, "0.00");
    th_thousands(text, "-100000.5");
    ck_assert_str_eq(text, "-100,000.5");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("thousands");
    TCase *tc = tcase_create("thousands");
    tcase_add_loop_test(tc, whole_numbers_have_commas, 0, sizeof wholes / sizeof *wholes);
    tcase_add_test(tc, decimals_have_none);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
