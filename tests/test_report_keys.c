/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a report people are told, and what machines. */
#include "air_text.h"
#include "rendered.h"
#include "run_suite.h"
#include "spread_text.h"
#include <jansson.h>
#include <string.h>

/* What has no key is for people, what has no label or caption for machines; words stand in for a
 * number to people only; what is sold by the therm has a null beside it. */
START_TEST(people_and_machines_are_told_apart)
{
    struct th_report *report = th_report_new("budget");
    th_report_section(report, "a", "A");
    th_report_fact(report, "gas_lowest_gal", NULL, "gal", TH_SIG3, th_number(17));
    th_report_fact(report, NULL, "For people", "", TH_PLAIN, th_text("read"));
    th_report_fact(report, "payback_years", "Payback", "yr", TH_TENTHS, th_no_number("never"));
    th_report_fact(report, "gas_gal", "Gas", "therm", TH_SIG3, th_number(31));
    th_report_table(report, "list", NULL);
    th_report_row(report);
    th_report_cell(report, "price_usd_gal", "Quiet", "$/therm", TH_HUNDREDTHS, th_number(0.5));
    th_report_table(report, NULL, "Shown");
    th_report_row(report);
    th_report_cell(report, "aloud", "Aloud", "", TH_PLAIN, th_text("said"));
    char *text = rendered(report, TH_AS_TEXT), *page = rendered(report, TH_AS_HTML);
    char *csv = rendered(report, TH_AS_CSV), *json = rendered(report, TH_AS_JSON);
    ck_assert_ptr_nonnull(strstr(text, "\n  For people   read\n"
                                       "  Payback      never\n"
                                       "  Gas          31.0 therm\n\nShown\n\n  Aloud\n"));
    ck_assert(!strstr(text, "17") && !strstr(text, "Quiet"));
    ck_assert(strstr(page, "never") && strstr(page, "said"));
    ck_assert(!strstr(page, "17.0") && !strstr(page, "Quiet"));
    json_t *root = json_loads(json, JSON_REJECT_DUPLICATES, NULL);
    ck_assert_ptr_nonnull(root);
    int lowest, therms;
    double price;
    ck_assert_int_eq(0,
                     json_unpack(root, "{s:{s:i s:n s:n s:i s:[{s:n s:F!}!]!}}", "a",
                                 "gas_lowest_gal", &lowest, "payback_years", "gas_gal", "gas_therm",
                                 &therms, "list", "price_usd_gal", "price_usd_therm", &price));
    ck_assert(lowest == 17 && therms == 31 && price == 0.5);
    ck_assert_ptr_nonnull(strstr(csv, "\"gas_lowest_gal\",\"payback_years\",\"gas_gal\","
                                      "\"gas_therm\"\n\"a\",17,,,31\n"));
    ck_assert_ptr_nonnull(strstr(csv, "\"a.list\",,0.5\n"));
    ck_assert(!strstr(csv, "people") && !strstr(csv, "said"));
    json_decref(root);
    free(text);
    free(page);
    free(csv);
    free(json);
    th_report_free(report);
}
END_TEST

/* A line of the answer on top is first in every form, wherever the report has got to. */
START_TEST(the_answer_comes_first)
{
    struct th_report *report = th_report_new("size"), *bare = th_report_new("size");
    th_report_title(report, "Title");
    th_report_warning(report, "Beware.");
    for (int room = 0; room < 2; room++) {
        th_report_part(report, "rooms", room == 0 ? "East" : "West");
        th_report_top_line(report, "%s: enough.", room == 0 ? "East" : "West");
        th_report_section(report, "need", "Need");
        th_report_fact(report, "most_w", "Most", "W", TH_WHOLE, th_number(room));
        th_report_part_end(report);
    }
    char *text = rendered(report, TH_AS_TEXT), *page = rendered(report, TH_AS_HTML);
    char *csv = rendered(report, TH_AS_CSV), *json = rendered(report, TH_AS_JSON);
    ck_assert_ptr_nonnull(
        strstr(text, "\nEast: enough.\n\nWest: enough.\n\nWARNINGS\n  ! Beware.\n\nEast\n"));
    ck_assert_ptr_nonnull(strstr(page, "<p class=\"answer\">East: enough.</p>\n"
                                       "<p>West: enough.</p>\n<section class=\"warnings\""));
    ck_assert_ptr_nonnull(
        strstr(csv, "\"answer.lines\",\"East: enough.\"\n\"answer.lines\",\"West: enough.\"\n"));
    json_t *root = json_loads(json, JSON_REJECT_DUPLICATES, NULL);
    const char *east = NULL, *west = NULL;
    double first, second;
    ck_assert_int_eq(0, json_unpack(root, "{s:{s:[s,s]!}, s:[{s:{s:F}},{s:{s:F}}]}", "answer",
                                    "lines", &east, &west, "rooms", "need", "most_w", &first,
                                    "need", "most_w", &second));
    ck_assert_str_eq(east, "East: enough.");
    ck_assert_str_eq(west, "West: enough.");
    json_decref(root);
    th_report_top_line(bare, "Nothing else.");
    th_report_line(bare, "But this.");
    char *alone = rendered(bare, TH_AS_TEXT);
    ck_assert_ptr_nonnull(strstr(alone, "Nothing else.\n\nBut this.\n"));
    th_report_top_line(NULL, "Nowhere.");
    free(text);
    free(page);
    free(csv);
    free(json);
    free(alone);
    th_report_free(report);
    th_report_free(bare);
}
END_TEST

/* Ten generated winters are no ground for a percentile. */
START_TEST(percentiles_are_of_measured_winters)
{
    const double gal[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
    struct th_spread spread;
    ck_assert_int_eq(th_spread_of(10, gal, &spread, NULL), TH_OK);
    for (int generated = 0; generated <= 1; generated++) {
        struct th_report *report = th_report_new("budget");
        th_report_section(report, "a", "A");
        th_report_spread(report, "gas", "gal", "Gas", "gal", TH_TENTHS, &spread, generated);
        th_report_spread_note(report, &spread, generated);
        char *text = rendered(report, TH_AS_TEXT);
        ck_assert((strstr(text, "Gas, P90 ") != NULL) == !generated);
        ck_assert((strstr(text, "P10") || strstr(text, "P50")) == !generated);
        ck_assert((strstr(text, "Gas, generated high ") != NULL) == generated);
        ck_assert((strstr(text, "One generated winter in ten") != NULL) == generated);
        free(text);
        th_report_free(report);
    }
}
END_TEST

START_TEST(one_hour_is_no_hours)
{
    char text[TH_MORE_HOURS_MAX];
    ck_assert_str_eq(th_more_hours(text, 1.2), "1 more hour");
    ck_assert_str_eq(th_more_hours(text, 0.0), "0 more hours");
    ck_assert_str_eq(th_more_hours(text, 1234.0), "1,234 more hours");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("report_keys");
    TCase *c = tcase_create("report_keys");
    tcase_add_test(c, people_and_machines_are_told_apart);
    tcase_add_test(c, the_answer_comes_first);
    tcase_add_test(c, percentiles_are_of_measured_winters);
    tcase_add_test(c, one_hour_is_no_hours);
    suite_add_tcase(suite, c);
    return run_suite(suite);
}
