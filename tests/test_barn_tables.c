/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_tables.h"

#include "run_suite.h"
#include "scratch.h"
#include "turnheat/units.h"
#include <stdio.h>
#include <string.h>

static const struct th_table_column x_columns[] = {
    {"curve_day", TH_DIM_DAYS, 1}, {"weight", TH_DIM_MASS, 2}, {0}};
static const struct th_table_column y_column = {"set", TH_DIM_TEMPERATURE, 0};

static struct th_table table;
static struct th_error err;
static int meaning;

static enum th_code read_text(const char *text)
{
    struct scratch file = scratch_text("table.csv", text);
    const enum th_code code =
        th_table_read(NULL, file.path, x_columns, &y_column, &table, &meaning, &err);
    scratch_remove(&file);
    return code;
}

static const struct {
    const char *text;
    int meaning;
    double x1; /* of the second row */
} good[] = {
    {"curve_day,set_f\n0,84\n28,75\n", 1, 28.0},
    {"\xEF\xBB\xBF Curve_Day , SET (F)\r\n0,84\r\n28,75\r\n", 1, 28.0},
    {"# ours\n\nset_F,curve_day\n84,0\n\n75,28", 1, 28.0},
    {"\"curve_day\",\"set (°F)\"\n\"0\",84\n28,75\n", 1, 28.0},
    {"weight_lb,set_f\n10,84\n20,75\n", 2, 20 * TH_KG_PER_LB},
    {"weight (kg),set_c\n10,28.888888888889\n20,23.888888888889\n", 2, 20.0},
    {"weight_lb,set_f\n10,84\n\"1,000\",75\n", 2, 1000 * TH_KG_PER_LB},
};

START_TEST(columns_are_found_by_name_and_unit)
{
    ck_assert_msg(read_text(good[_i].text) == TH_OK, "%s", err.text);
    ck_assert_int_eq(table.n, 2);
    ck_assert_int_eq(meaning, good[_i].meaning);
    ck_assert_double_eq_tol(table.x[1], good[_i].x1, 1e-9);
    ck_assert_double_eq_tol(th_f_from_c(table.y[0]), 84.0, 1e-6);
    ck_assert_double_eq_tol(th_f_from_c(table.y[1]), 75.0, 1e-6);
}
END_TEST

static const struct {
    const char *text;
    long line;
    const char *says;
} bad[] = {
    {"", 0, "ends before its line of column names"},
    {"curve_day,set_f\n", 1, "no rows"},
    {"day,set_f\n0,84\n", 1, "header does not fit; expected curve_day or weight_UNIT, set_UNIT"},
    {"curve_day,set\n0,84\n", 1, "header does not fit"},
    {"curve_day,set_lb\n0,84\n", 2, "does not fit a temperature"},
    {"curve_day,set_f,more\n0,84,1\n", 1, "header does not fit"},
    {"curve_day\n0\n", 1, "header does not fit"},
    {"0,84\n28,75\n", 1, "header does not fit"},
    {"curve_day,set_f\n0,84\n28\n", 3, "two fields"},
    {"curve_day,set_f\n0,84\n28,75,1\n", 3, "two fields"},
    {"curve_day,set_f\n0,84\n28,warm\n", 3, "not a number"},
    {"curve_day,set_f\n0,84\n28,nan\n", 3, "not a number"},
    {"curve_day,set_f\n0,84\n28,\n", 3, "not a number"},
    {"curve_day,set_f\n0,84\n0,75\n", 3, "out of order"},
    {"# ours\ncurve_day,set_f\n10,84\n5,75\n", 4, "out of order"},
    {"curve_day,set_f\n0,\"84\n", 2, "a quote opened in this record is not closed"},
    {"curve_day,set_f\n0,84\x01\n", 2, "not plain text"},
};

START_TEST(mistakes_name_the_line)
{
    ck_assert_int_ne(read_text(bad[_i].text), TH_OK);
    ck_assert_msg(strstr(err.text, bad[_i].says) != NULL, "%s", err.text);
    ck_assert_int_eq(err.line, bad[_i].line);
    ck_assert_msg(err.line == 0 || strstr(err.file, "turnheat-test-") != NULL, "%s", err.file);
}
END_TEST

START_TEST(long_tables_are_refused)
{
    char text[4096] = "curve_day,set_f\n";
    for (int i = 0; i <= TH_TABLE_MAX; i++) {
        const size_t n = strlen(text);
        snprintf(text + n, sizeof text - n, "%d,70\n", i);
    }
    ck_assert_int_eq(read_text(text), TH_ERR_INPUT);
    ck_assert_int_eq(err.line, TH_TABLE_MAX + 2);
}
END_TEST

START_TEST(missing_files_are_named)
{
    ck_assert_int_eq(
        th_table_read(NULL, "no such table.csv", x_columns, &y_column, &table, NULL, &err),
        TH_ERR_READ);
    ck_assert_str_eq(err.file, "no such table.csv");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("barn_tables");
    TCase *tc = tcase_create("barn_tables");
    tcase_add_loop_test(tc, columns_are_found_by_name_and_unit, 0, sizeof good / sizeof *good);
    tcase_add_loop_test(tc, mistakes_name_the_line, 0, sizeof bad / sizeof *bad);
    tcase_add_test(tc, long_tables_are_refused);
    tcase_add_test(tc, missing_files_are_named);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
