/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a report that lack a cell, or have another than the first row, are found. */
#include "render.h"
#include "run_suite.h"
#include <string.h>

/* What a report with the cells of `build` says when it is written. */
static void internal_error(void (*build)(struct th_report *), const char *what)
{
    struct th_report *report = th_report_new("budget");
    struct th_error err = {0};
    build(report);
    ck_assert_int_eq(th_report_write(report, TH_AS_TEXT, stderr, &err), TH_ERR_INTERNAL);
    ck_assert_msg(strstr(err.text, what) != NULL, "%s, not %s", err.text, what);
    th_report_free(report);
}

static void number_cells(struct th_report *r, const char *keys)
{
    for (; *keys; keys++) {
        const char key[] = {*keys, '\0'};
        th_report_cell(r, key, key, "", TH_PLAIN, th_number(1));
    }
}

static void row_outside(struct th_report *r)
{
    th_report_row(r);
}

static void cell_outside(struct th_report *r)
{
    th_report_table(r, "t", "Table");
    number_cells(r, "a");
}

static void cell_after_a_fact(struct th_report *r)
{
    th_report_table(r, "t", "Table");
    th_report_row(r);
    th_report_fact(r, "f", "Fact", "", TH_PLAIN, th_number(1));
    number_cells(r, "a");
}

static void two_rows(struct th_report *r, const char *first, const char *second)
{
    th_report_table(r, "t", "Table");
    th_report_row(r);
    number_cells(r, first);
    th_report_row(r);
    number_cells(r, second);
}

static void short_row(struct th_report *r)
{
    two_rows(r, "abc", "ab");
    th_report_row(r);
    number_cells(r, "abc");
}

static void short_last_row(struct th_report *r)
{
    two_rows(r, "abc", "");
}

static void long_row(struct th_report *r)
{
    two_rows(r, "ab", "abc");
}

static void other_row(struct th_report *r)
{
    two_rows(r, "abc", "acb");
}

static void short_total(struct th_report *r)
{
    two_rows(r, "ab", "ab");
    th_report_total(r);
    number_cells(r, "a");
    th_report_section(r, NULL, "Next");
}

static void too_wide(struct th_report *r)
{
    th_report_table(r, "t", "Table");
    th_report_row(r);
    number_cells(r, "abcdefghijklmnopqrstuvwxyzABCDEFG");
}

START_TEST(cells_out_of_place_are_internal_errors)
{
    internal_error(row_outside, "a row outside a table");
    internal_error(cell_outside, "a cell outside a row \"a\"");
    internal_error(cell_after_a_fact, "a cell outside a row \"a\"");
    internal_error(short_row, "a row without its cell \"c\"");
    internal_error(short_last_row, "the last row is without its cell \"a\"");
    internal_error(long_row, "a row with a cell too many \"c\"");
    internal_error(other_row, "a row with another cell in place of \"b\"");
    internal_error(short_total, "a row without its cell \"b\"");
    internal_error(too_wide, "a row with a cell too many \"G\"");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("report_rows");
    TCase *c = tcase_create("report_rows");
    tcase_add_test(c, cells_out_of_place_are_internal_errors);
    suite_add_tcase(suite, c);
    return run_suite(suite);
}
