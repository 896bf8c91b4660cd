/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_text.h"
#include "utf8.h"

#include "run_suite.h"
#include "scratch.h"
#include <stdio.h>
#include <string.h>

static struct th_barn_text text;
static struct th_issues issues;

static void start(void)
{
    text = (struct th_barn_text){0};
    issues = (struct th_issues){0};
}

static void stop(void)
{
    th_barn_text_finish(&text);
    th_issues_finish(&issues);
}

static enum th_code read_bytes(const char *bytes, size_t n)
{
    struct scratch file = scratch_bytes("test.barn", bytes, n);
    const enum th_code code = th_barn_text_read(&text, file.path, NULL, &issues);
    scratch_remove(&file);
    return code;
}

static enum th_code read_string(const char *string)
{
    return read_bytes(string, strlen(string));
}

START_TEST(keeps_sections_keys_values_and_places)
{
    ck_assert_int_eq(read_string("# a barn\n\n[room]\nlength = 200 ft  # outside\n"
                                 "[surface   south  wall ]\nR=12 # whole wall\nname = Barn #4\n"),
                     TH_OK);
    ck_assert_uint_eq(text.n, 5);
    ck_assert_ptr_null(text.entries[0].key);
    ck_assert_str_eq(text.entries[0].section, "room");
    ck_assert_str_eq(text.entries[1].key, "length");
    ck_assert_str_eq(text.entries[1].value, "200 ft");
    ck_assert_int_eq(text.entries[1].line, 4);
    ck_assert_int_eq(text.entries[1].value_column, 10);
    ck_assert_str_eq(text.entries[1].source, "length = 200 ft  # outside");
    ck_assert_str_eq(text.entries[2].section, "surface south wall");
    ck_assert_str_eq(text.entries[3].value, "12");
    ck_assert_int_eq(text.entries[3].value_column, 3);
    ck_assert_str_eq(text.entries[4].value, "Barn #4");
}
END_TEST

START_TEST(line_ends_and_byte_order_mark_do_not_matter)
{
    ck_assert_int_eq(read_string("\xEF\xBB\xBF[room]\r\nlength = 200 ft\r\nwidth = 40 ft"), TH_OK);
    ck_assert_uint_eq(text.n, 3);
    ck_assert_str_eq(text.entries[1].value, "200 ft");
    ck_assert_str_eq(text.entries[2].value, "40 ft");
    ck_assert_int_eq(text.entries[2].line, 3);
}
END_TEST

static const struct {
    const char *text;
    const char *place; /* after the file name */
    const char *says;
    int others; /* further errors */
} wrong[] = {
    {"[room\nlength = 200 ft\n", ":1:1: ", "not closed", 0},
    {"[]\n", ":1:1: ", "no name", 0},
    {"[ \t ]\n", ":1:1: ", "no name", 0},
    {"[room] x\n", ":1:1: ", "behind the section header", 0},
    {"[surface a name that is far too long for any wall of a barn]\n", ":1:1: ", "too long", 0},
    {"[room]\n[site]\n[room]\n", ":3:1: ", "twice; first in line 1", 0},
    {"[surface a b]\n[surface  a  b]\n", ":2:1: ", "twice; first in line 1", 0},
    {"[room]\n  length = 1 ft\n", ":2:3: ", "indented", 0},
    {"[room]\nlength 1 ft\n", ":2:1: ", "no =", 0},
    {"[room]\nlength: 1 = ft\n", ":2:7: ", ": before the =", 0},
    {"[room]\n= 1 ft\n", ":2:1: ", "key is missing", 0},
    {"[room]\nlength =\n", ":2:9: ", "value is missing", 0},
    {"[room]\nlength = # later\n", ":2:10: ", "value is missing", 0},
    {"length = 1 ft\n", ":1:1: ", "before the first section", 0},
    {"[room]\nname = \xFF\xFE\n", ":2:8: ", "UTF-8", 0},
    {"[room]\nname = a\x1b[31m\n", ":2:9: ", "not plain text", 0},
    {"[use dryer]\nweeks = 400 gal ; 1,300 gal\n", ":2:17: ", "; has no meaning", 0},
    {"[room]\nname = a;b # c\n", ":2:9: ", "; has no meaning", 0},
    {"[room]\n; length = 1 ft\n", ":2:1: ", "; has no meaning", 0},
    {"[room] ; x\n", ":1:1: ", "behind the section header", 0},
    {"[room]\na = 1\rb = 2\n", ":2:6: ", "not plain text", 0},
    {"[room]\nlength\nwidth\n", ":2:1: ", "no =", 1},
};

START_TEST(every_error_says_line_and_column)
{
    ck_assert_int_eq(read_string(wrong[_i].text), TH_ERR_INPUT);
    ck_assert_int_eq(issues.n_errors, 1 + wrong[_i].others);
    const char *const said = issues.errors[0].text;
    ck_assert_msg(strstr(said, wrong[_i].says) != NULL, "%s", said);
    ck_assert_msg(strstr(said, wrong[_i].place) != NULL, "%s", said);
}
END_TEST

START_TEST(the_line_is_shown_with_a_caret)
{
    ck_assert_int_eq(read_string("[room]\nnäme: 4 = 5\n"), TH_ERR_INPUT);
    /* The caret stands under the sixth byte, which is the fifth character. */
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "\n    näme: 4 = 5\n        ^"));
}
END_TEST

/* What is no barn file at all is one error, without all that is then missing in it. */
static const struct {
    const char *bytes;
    size_t n;
    const char *says;
} no_text[] = {
    {"", 0, ": the file is empty; expected a barn or farm file"},
    {"# nothing here\n", 15, ": the file is empty"},
    {"[room]\n\0\0\xFF\xFF garbage \n\n", 22, ":2:1: there is a NUL byte; expected a plain"},
    {"\xFF\xFE[\0r\0", 6, ": this is UTF-16 text; save it as UTF-8"},
    {"\0", 1, ":1:1: there is a NUL byte"},
};

START_TEST(what_is_no_text_is_one_error)
{
    ck_assert_int_eq(read_bytes(no_text[_i].bytes, no_text[_i].n), TH_ERR_READ);
    ck_assert_int_eq(issues.n_errors, 1);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, no_text[_i].says));
}
END_TEST

START_TEST(lines_of_64_kib_fit_and_longer_ones_do_not)
{
    static char line[TH_TEXT_LINE_MAX + 100];
    const size_t head = strlen("[room]\n");
    memset(line, 'x', sizeof line);
    memcpy(line, "[room]\nname = ", head + strlen("name = "));
    line[head + TH_TEXT_LINE_MAX] = '\0';
    ck_assert_int_eq(read_string(line), TH_OK);
    ck_assert_uint_eq(strlen(text.entries[1].value), TH_TEXT_LINE_MAX - strlen("name = "));
    line[head + TH_TEXT_LINE_MAX] = 'x';
    line[head + TH_TEXT_LINE_MAX + 1] = '\0';
    ck_assert_int_eq(read_string(line), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "too long"));
}
END_TEST

/* Of a long line, what is around the fault is shown, with the caret under it. */
START_TEST(a_long_line_is_shown_in_part)
{
    static char line[3000] = "[room]\nname = ";
    memset(line + strlen(line), 'x', 2000);
    strcat(line, ";yz\n");
    ck_assert_int_eq(read_string(line), TH_ERR_INPUT);
    const char *const said = issues.errors[0].text;
    const char *const shown = strstr(said, "\n    ...");
    ck_assert_msg(shown && strlen(said) < 600, "%s", said);
    const char *const semicolon = strchr(shown, ';');
    const char *const caret = strchr(shown + 1, '^');
    ck_assert(semicolon && caret);
    ck_assert_int_eq(semicolon - (shown + 1), caret - (strchr(shown + 1, '\n') + 1));
}
END_TEST

/* What stands in files and names must not steer the terminal. */
START_TEST(messages_hold_no_control_characters)
{
    const struct th_place place = {"bad\x1b[31mname.barn", 3, 2, "a\x1b]0;title\x07"};
    th_issues_error(&issues, &place, "cannot be %s", "b\x1b[2J");
    th_issues_warning(&issues, &place, "it is %s",
                      "b\x9b"
                      "2J");
    ck_assert_ptr_null(strpbrk(issues.errors[0].text, "\x1b\x07\x9b"));
    ck_assert_ptr_null(strpbrk(issues.warnings[0].text, "\x1b\x07\x9b"));
}
END_TEST

START_TEST(files_in_memory_are_found_by_name)
{
    static const struct th_file file[] = {{"a.barn", "[room]\nlength = 9 ft\n", 21},
                                          {"b.farm", "[fuel]\n", 7}};
    struct th_files files = {.n_held = 2, .held = file};
    ck_assert_int_eq(th_barn_text_read(&text, "a.barn", &files, &issues), TH_OK);
    ck_assert_int_eq(th_barn_text_read(&text, "b.farm", &files, &issues), TH_OK);
    ck_assert_uint_eq(text.n, 3);
    ck_assert_int_eq(th_barn_text_read(&text, "c.barn", &files, &issues), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "c.barn: cannot be opened"));
}
END_TEST

START_TEST(names_are_found_again)
{
    static char names[3000][8];
    struct th_name_index index = {0};
    size_t value = 0;
    for (size_t i = 0; i < 3000; i++) {
        snprintf(names[i], sizeof names[i], "n%zu", i);
        ck_assert(th_name_index_put(&index, "s", names[i], i));
        ck_assert(th_name_index_put(&index, names[i], NULL, 2 * i));
    }
    ck_assert(th_name_index_put(&index, "s", "n7", 70));
    for (size_t i = 0; i < 3000; i++) {
        ck_assert(th_name_index_get(&index, "s", names[i], &value));
        ck_assert_uint_eq(value, i == 7 ? 70 : i);
        ck_assert(th_name_index_get(&index, names[i], NULL, &value));
        ck_assert_uint_eq(value, 2 * i);
    }
    ck_assert(!th_name_index_get(&index, "s", NULL, &value));
    ck_assert(!th_name_index_get(&index, "sn", "1", &value));
    th_name_index_finish(&index);
}
END_TEST

START_TEST(a_huge_file_is_refused)
{
    const size_t n = 1024 * 1024 + 1;
    char *const bytes = malloc(n);
    ck_assert_ptr_nonnull(bytes);
    memset(bytes, '\n', n);
    ck_assert_int_eq(read_bytes(bytes, n), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "1 MiB"));
    free(bytes);
}
END_TEST

START_TEST(only_fifty_errors_are_listed)
{
    char many[2048] = "[room]\n";
    for (int i = 0; i < 73; i++)
        strcat(many, "nonsense\n");
    ck_assert_int_eq(read_string(many), TH_ERR_INPUT);
    ck_assert_int_eq(issues.n_errors, 73);
    char printed[16384] = "";
    FILE *const out = fmemopen(printed, sizeof printed, "w");
    th_issues_print_errors(&issues, 1, out);
    fclose(out);
    ck_assert_ptr_nonnull(strstr(printed, ":51:1: "));
    ck_assert_ptr_null(strstr(printed, ":52:1: "));
    ck_assert_ptr_nonnull(strstr(printed, "and 23 more errors\n"));
}
END_TEST

START_TEST(files_that_cannot_be_read_are_named)
{
    ck_assert_int_eq(th_barn_text_read(&text, "no such file.barn", NULL, &issues), TH_ERR_READ);
    ck_assert_ptr_nonnull(strstr(issues.errors[0].text, "no such file.barn: "));
    ck_assert_int_eq(th_barn_text_read(&text, ".", NULL, &issues), TH_ERR_READ);
    ck_assert_int_eq(issues.n_errors, 2);
}
END_TEST

START_TEST(whatever_is_right_in_a_bad_file_is_kept)
{
    ck_assert_int_eq(read_string("[room]\nnonsense\nlength = 200 ft\n"), TH_ERR_INPUT);
    ck_assert_uint_eq(text.n, 2);
}
END_TEST

/* RFC 3629: overlong forms, surrogates and code points past U+10FFFF are not UTF-8. */
START_TEST(utf8_is_told_from_other_bytes)
{
    static const struct {
        const char *bytes;
        size_t good;
    } cases[] = {{"plain\ttext", 10},
                 {"ä€𝄞", 9},
                 {"\xC0\xAF", 0},
                 {"a\xED\xA0\x80", 1},
                 {"\xF4\x90\x80\x80", 0},
                 {"ab\xC3", 2},
                 {"\xE2\x82", 0},
                 {"\xC2\x85", 0},
                 {"\x7F", 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        ck_assert_uint_eq(th_utf8_good_text(cases[i].bytes, strlen(cases[i].bytes)), cases[i].good);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("barn_text");
    TCase *tc = tcase_create("barn_text");
    tcase_add_checked_fixture(tc, start, stop);
    tcase_add_test(tc, keeps_sections_keys_values_and_places);
    tcase_add_test(tc, line_ends_and_byte_order_mark_do_not_matter);
    tcase_add_loop_test(tc, every_error_says_line_and_column, 0, sizeof wrong / sizeof *wrong);
    tcase_add_test(tc, the_line_is_shown_with_a_caret);
    tcase_add_loop_test(tc, what_is_no_text_is_one_error, 0,
                        (int)(sizeof no_text / sizeof *no_text));
    tcase_add_test(tc, lines_of_64_kib_fit_and_longer_ones_do_not);
    tcase_add_test(tc, a_long_line_is_shown_in_part);
    tcase_add_test(tc, messages_hold_no_control_characters);
    tcase_add_test(tc, files_in_memory_are_found_by_name);
    tcase_add_test(tc, names_are_found_again);
    tcase_add_test(tc, a_huge_file_is_refused);
    tcase_add_test(tc, only_fifty_errors_are_listed);
    tcase_add_test(tc, files_that_cannot_be_read_are_named);
    tcase_add_test(tc, whatever_is_right_in_a_bad_file_is_kept);
    tcase_add_test(tc, utf8_is_told_from_other_bytes);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
