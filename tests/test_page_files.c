/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page_files.h"

#include "run_suite.h"

#include <string.h>

static struct th_page_files files;

static size_t add(const char *path)
{
    struct th_error err = {0};
    size_t index = 99;
    ck_assert_int_eq(th_page_files_add(&files, path, &index, &err), TH_OK);
    return index;
}

static void finish(void)
{
    th_page_files_finish(&files);
}

START_TEST(names_start_below_the_common_folder)
{
    add("/farm/samples/north.barn");
    add("/farm/samples/../weather/./omaha.csv");
    add("/farm//samples/north-growth.csv");
    th_page_files_name(&files);
    ck_assert_str_eq(files.list[0].name, "samples/north.barn");
    ck_assert_str_eq(files.list[1].name, "weather/omaha.csv");
    ck_assert_str_eq(files.list[2].name, "samples/north-growth.csv");
}
END_TEST

START_TEST(one_file_has_its_own_name)
{
    add("/farm/north.barn");
    th_page_files_name(&files);
    ck_assert_str_eq(files.list[0].name, "north.barn");
}
END_TEST

START_TEST(names_that_begin_alike_have_no_folder_in_common)
{
    add("/farm/barns/a");
    add("/farm/barn/a");
    th_page_files_name(&files);
    ck_assert_str_eq(files.list[0].name, "barns/a");
    ck_assert_str_eq(files.list[1].name, "barn/a");
}
END_TEST

START_TEST(a_file_is_taken_once)
{
    ck_assert_uint_eq(add("here.barn"), 0);
    ck_assert_uint_eq(add("/above/all.farm"), 1);
    ck_assert_uint_eq(add("./deeper/../here.barn"), 0);
    ck_assert_uint_eq(add("/../above/all.farm"), 1);
    ck_assert_uint_eq(files.n, 2);
    ck_assert_int_eq(files.list[0].path[0], '/');
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("page_files");
    TCase *tc = tcase_create("page_files");
    tcase_add_checked_fixture(tc, NULL, finish);
    tcase_add_test(tc, names_start_below_the_common_folder);
    tcase_add_test(tc, one_file_has_its_own_name);
    tcase_add_test(tc, names_that_begin_alike_have_no_folder_in_common);
    tcase_add_test(tc, a_file_is_taken_once);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
