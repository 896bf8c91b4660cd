/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn.h"
#include "barn_keys.h"
#include "barn_new.h"

#include "run_suite.h"
#include "sample_room.h"
#include "turnheat/envelope.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

#define TEXT_MAX 131072

static struct th_draft draft;

static const struct th_section_kind *kind_at(int i)
{
    int n = 0;
    return &th_section_kinds(&n)[i];
}

static int kinds_count(void)
{
    int n = 0;
    th_section_kinds(&n);
    return n;
}

START_TEST(names_are_unique)
{
    const struct th_section_kind *const kind = kind_at(_i);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        ck_assert_ptr_eq(th_key_find(kind, key->name), key);
}
END_TEST

static void ck_reads_back(const struct th_parameter *key, struct th_amount amount)
{
    double si = NAN;
    const struct th_amount_text text = th_amount_text(key, amount);
    ck_assert_msg(th_quantity_read(text.text, key->dimension, &si, NULL) == TH_OK, "%s = %s",
                  key->name, text.text);
    /* Four digits are written, so they are read. */
    ck_assert_msg(fabs(si - amount.si) <= 5e-4 * fabs(amount.si) + 1e-12,
                  "%s = %s: %.17g, not %.17g", key->name, text.text, si, amount.si);
}

static bool is_number(const struct th_parameter *key)
{
    return key->store == TH_STORE_NUMBER || key->store == TH_STORE_WHOLE;
}

/* What the table writes must be what the reader understands by it, in the same unit throughout. */
START_TEST(amounts_read_back)
{
    const struct th_section_kind *const kind = kind_at(_i);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        ck_assert_msg(key->low.given == key->high.given, "%s", key->name);
        ck_assert_msg(key->usual_low.given == key->usual_high.given, "%s", key->name);
        if (key->low.given) {
            ck_reads_back(key, key->low);
            ck_reads_back(key, key->high);
            ck_assert_msg(key->low.si < key->high.si, "%s", key->name);
            ck_assert_str_eq(key->low.unit, key->high.unit);
            ck_assert_str_eq(th_parameter_text(key, key->high.si).text,
                             th_amount_text(key, key->high).text);
        }
        if (key->initial.given && is_number(key)) {
            ck_reads_back(key, key->initial);
            ck_assert_msg(th_parameter_fits(key, key->initial.si), "%s", key->name);
            ck_assert_msg(th_parameter_is_usual(key, key->initial.si), "%s", key->name);
        }
    }
}
END_TEST

/* A default is either a value or a sentence, never both and never of a key that must be given. */
START_TEST(defaults_are_clear)
{
    const struct th_section_kind *const kind = kind_at(_i);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        ck_assert_msg(!(key->initial.given && key->otherwise), "%s", key->name);
        ck_assert_msg(!(key->initial.given && key->needed), "%s", key->name);
        ck_assert_msg(key->help && *key->help, "%s", key->name);
        ck_assert_msg((key->store == TH_STORE_WORD) == (key->words != NULL), "%s", key->name);
    }
}
END_TEST

static bool is_blamed(const struct th_room *room, const char *section, const char *key)
{
    static struct th_findings findings;
    th_room_review(room, &findings);
    for (int i = 0; i < findings.n_errors && i < TH_FINDINGS_MAX; i++)
        if (strcmp(findings.errors[i].section, section) == 0 &&
            strcmp(findings.errors[i].key, key) == 0)
            return true;
    return false;
}

static void set_beyond(const struct th_parameter *key, struct th_room *room)
{
    void *const at = (char *)room + key->offset;
    if (key->store == TH_STORE_WHOLE)
        *(int *)at = (int)key->high.si + 1;
    else
        *(double *)at = key->high.si + 1e-3 * (key->high.si - key->low.si);
    if (key->given)
        *(bool *)((char *)room + key->given) = true;
}

/* What a file may not hold, the library's own check refuses too; a quotation's words it never sees.
 */
START_TEST(the_library_refuses_what_a_file_may_not_hold)
{
    const struct th_section_kind *const kind = kind_at(_i);
    const struct th_parameter *key;
    for (int i = 0; !kind->named && i < kind->lists[0]->n; i++) {
        struct th_room room = sample_room(TH_ON_OFF);
        room.zone.on = true;
        key = &kind->lists[0]->rows[i];
        if (kind->lists[0] == &th_parameters_quotation || !key->has_place || !key->low.given)
            continue;
        ck_assert_msg(!is_blamed(&room, kind->word, key->name), "[%s] %s", kind->word, key->name);
        set_beyond(key, &room);
        ck_assert_msg(is_blamed(&room, kind->word, key->name), "[%s] %s", kind->word, key->name);
    }
}
END_TEST

START_TEST(the_default_slab_edge_is_the_named_one)
{
    const struct th_parameter *const key = th_key_find(kind_at(0), "slab_edge");
    th_draft_start(&draft);
    ck_assert_double_eq_tol(draft.room.shell.edge_f_w_mk,
                            th_slab_edge_find(th_amount_text(key, key->initial).text)->f_w_mk,
                            1e-12);
}
END_TEST

/* Every default says where it comes from, unless it is no more than "not used". */
START_TEST(every_number_has_a_source)
{
    const struct th_section_kind *const kind = kind_at(_i);
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        if (key->store == TH_STORE_NUMBER && key->initial.given && !key->source)
            ck_assert_msg(key->initial.number == 0.0 || key->initial.si == 1.0, "[%s] %s",
                          kind->word, key->name);
}
END_TEST

static void read_without_errors(const char *path, const char *farm)
{
    static struct th_barn barn;
    static struct th_issues issues;
    const enum th_code code = th_barn_read(NULL, path, farm, NULL, 0, &barn, &issues);
    ck_assert_msg(code == TH_OK, "%s",
                  issues.n_errors ? issues.errors[0].text : th_code_text(code));
    th_barn_finish(&barn);
    th_issues_finish(&issues);
}

static void make_new(const char *kind, char text[TEXT_MAX])
{
    FILE *const out = fmemopen(text, TEXT_MAX, "w");
    ck_assert_ptr_nonnull(out);
    ck_assert(th_barn_new_write(kind, out));
    fclose(out);
}

START_TEST(a_new_barn_shows_every_key)
{
    static char text[TEXT_MAX];
    make_new(th_barn_new_kinds[_i], text);
    const struct th_parameter *key;
    for (int k = 0; k < kinds_count(); k++)
        for (int i = 0; (key = th_section_key(kind_at(k), i)); i++) {
            char wanted[TH_NAME_MAX + 8];
            snprintf(wanted, sizeof wanted, "\n# %s: ", key->name);
            ck_assert_msg(strstr(text, wanted) != NULL, "%s", wanted);
        }
}
END_TEST

static const char *const samples[] = {"samples/curtain.barn", "samples/solid.barn",
                                      "samples/nursery.barn"};

START_TEST(samples_have_no_errors)
{
    read_without_errors(samples[_i], NULL);
    read_without_errors(samples[_i], "samples/thistle-hollow.farm");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("barn_keys");
    TCase *tc = tcase_create("barn_keys");
    tcase_add_loop_test(tc, names_are_unique, 0, kinds_count());
    tcase_add_loop_test(tc, amounts_read_back, 0, kinds_count());
    tcase_add_loop_test(tc, defaults_are_clear, 0, kinds_count());
    tcase_add_loop_test(tc, the_library_refuses_what_a_file_may_not_hold, 0, kinds_count());
    tcase_add_test(tc, the_default_slab_edge_is_the_named_one);
    tcase_add_loop_test(tc, every_number_has_a_source, 0, kinds_count());
    tcase_add_loop_test(tc, a_new_barn_shows_every_key, 0, 3);
    tcase_add_loop_test(tc, samples_have_no_errors, 0, 3);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
