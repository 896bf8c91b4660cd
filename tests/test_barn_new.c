/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of keys against the room's own defaults, and the files that `turnheat new` writes. */
#include "barn.h"
#include "barn_doc.h"
#include "barn_keys.h"
#include "barn_new.h"
#include "barn_values.h"

#include "run_suite.h"
#include "scratch.h"
#include <math.h>
#include <string.h>

static int n_kinds;

static bool same_value(const struct th_parameter *key, const char *a, const char *b)
{
    switch (key->store) {
    case TH_STORE_NUMBER: {
        double x, y;
        memcpy(&x, a + key->offset, sizeof x);
        memcpy(&y, b + key->offset, sizeof y);
        return fabs(x - y) <= 1e-3 * fabs(y);
    }
    case TH_STORE_YES_NO:
        return a[key->offset] == b[key->offset];
    case TH_STORE_WHOLE:
    case TH_STORE_WORD:
        return memcmp(a + key->offset, b + key->offset, sizeof(int)) == 0;
    case TH_STORE_MONTH_DAY:
        return memcmp(a + key->offset, b + key->offset, 2 * sizeof(int)) == 0;
    default:
        return strcmp(a + key->offset, b + key->offset) == 0;
    }
}

/* A key that is given sets what it would be without. Rounded texts may differ by 0.1 %. */
START_TEST(a_default_text_is_the_default_value)
{
    const struct th_section_kind *const kind = &th_section_kinds(&n_kinds)[_i];
    struct th_draft *const draft = malloc(sizeof *draft);
    const size_t size = kind->named ? kind->stride : sizeof *draft;
    char *const without = calloc(1, size);
    char *const with = calloc(1, size);
    ck_assert(draft && without && with);
    th_draft_start(draft);
    if (kind->named)
        kind->start(without);
    else
        memcpy(without, draft, size);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        struct th_error err = {0};
        double number = 0.0;
        if (!key->initial.given)
            continue;
        memcpy(with, without, size);
        const struct th_amount_text text = th_amount_text(key, key->initial);
        const enum th_code code = th_value_set(
            key, text.text, "x.barn", th_key_struct(kind, key, with), draft, &number, &err);
        ck_assert_msg(code == TH_OK, "[%s] %s: %s", kind->word, key->name, err.text);
        ck_assert_msg(!key->has_place || same_value(key, th_key_struct(kind, key, with),
                                                    th_key_struct(kind, key, without)),
                      "[%s] %s = %s is not the default", kind->word, key->name, text.text);
    }
    free(draft);
    free(without);
    free(with);
}
END_TEST

/* The file written and read again has no error; the sizes are those of the text in it. */
START_TEST(a_new_file_reads_without_error)
{
    static struct th_barn barn;
    struct th_issues issues = {0};
    struct scratch barn_file = scratch_text("new.barn", "");
    FILE *const file = fopen(barn_file.path, "wb");
    ck_assert(file && th_barn_new_write(th_barn_new_kinds[_i], file));
    ck_assert_int_eq(fclose(file), 0);
    const enum th_code code = th_barn_read(NULL, barn_file.path, NULL, NULL, 0, &barn, &issues);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no error");
    ck_assert_int_eq(barn.room.n_turns, 2);
    ck_assert_double_eq_tol(barn.room.turns[0].preheat_h, 48.0, 1e-9);
    ck_assert_int_eq(barn.room.turns[0].month, 11);
    ck_assert_int_eq(barn.room.n_heaters, 1);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    scratch_remove(&barn_file);
}
END_TEST

/* At most 45 lines, and no error. */
START_TEST(a_short_file_is_short_and_reads_without_error)
{
    static struct th_barn barn;
    struct th_issues issues = {0};
    char *text = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&text, &size);
    ck_assert(memory && th_barn_new_write_short(th_barn_new_kinds[_i], NULL, memory));
    fclose(memory);
    int lines = 0;
    for (const char *at = text; (at = strchr(at, '\n')); at++)
        lines++;
    ck_assert_int_le(lines, 45);
    struct scratch barn_file = scratch_text("short.barn", text);
    const enum th_code code = th_barn_read(NULL, barn_file.path, NULL, NULL, 0, &barn, &issues);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no error");
    ck_assert_int_eq(barn.room.n_turns, 2);
    ck_assert_int_eq(barn.room.n_heaters, 1);
    ck_assert(barn.room.site.has_latitude && barn.room.site.has_elevation);
    free(text);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    scratch_remove(&barn_file);
}
END_TEST

START_TEST(an_unknown_kind_writes_nothing)
{
    char text[16] = "";
    FILE *const memory = fmemopen(text, sizeof text, "w");
    ck_assert(!th_barn_new_write("hoop", memory));
    ck_assert(!th_barn_new_write_short("hoop", NULL, memory));
    fclose(memory);
    ck_assert_str_eq(text, "");
}
END_TEST

/* docs/barn-file.md ends with what the table of keys says. */
START_TEST(the_lists_in_the_docs_are_those_of_the_table)
{
    char *lists = NULL, page[262144];
    size_t size = 0;
    FILE *memory = open_memstream(&lists, &size);
    ck_assert_ptr_nonnull(memory);
    th_barn_doc_write(memory);
    fclose(memory);
    FILE *file = fopen("docs/barn-file.md", "r");
    ck_assert_ptr_nonnull(file);
    const size_t n = fread(page, 1, sizeof page - 1, file);
    fclose(file);
    page[n] = '\0';
    const char *const mark = strstr(page, TH_BARN_DOC_MARK);
    ck_assert_ptr_nonnull(mark);
    ck_assert_str_eq(mark + strlen(TH_BARN_DOC_MARK) + 2, lists);
    free(lists);
}
END_TEST

int main(void)
{
    Suite *const suite = suite_create("barn_new");
    TCase *const tc = tcase_create("barn_new");
    th_section_kinds(&n_kinds);
    tcase_add_loop_test(tc, a_default_text_is_the_default_value, 0, n_kinds);
    tcase_add_loop_test(tc, a_new_file_reads_without_error, 0, 3);
    tcase_add_loop_test(tc, a_short_file_is_short_and_reads_without_error, 0, 3);
    tcase_add_test(tc, an_unknown_kind_writes_nothing);
    tcase_add_test(tc, the_lists_in_the_docs_are_those_of_the_table);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
