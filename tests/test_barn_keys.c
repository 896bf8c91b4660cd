/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn.h"
#include "barn_keys.h"
#include "barn_new.h"

#include "run_suite.h"
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
    for (int i = 0; i < *kind->n_keys; i++)
        ck_assert_ptr_eq(th_key_find(kind, kind->keys[i].name), &kind->keys[i]);
}
END_TEST

/* The texts of the table must be readable as values, and each bound inside the other. */
START_TEST(bounds_are_readable)
{
    const struct th_section_kind *const kind = kind_at(_i);
    for (int i = 0; i < *kind->n_keys; i++) {
        const struct th_key *const key = &kind->keys[i];
        ck_assert_msg(!key->low == !key->high, "%s", key->name);
        if (!key->low)
            continue;
        double low = NAN;
        double high = NAN;
        ck_assert_int_eq(th_quantity_read(key->low, key->dimension, &low, NULL), TH_OK);
        ck_assert_int_eq(th_quantity_read(key->high, key->dimension, &high, NULL), TH_OK);
        ck_assert_msg(low < high, "%s", key->name);
    }
}
END_TEST

START_TEST(the_default_slab_edge_is_the_named_one)
{
    const struct th_key *const key = th_key_find(kind_at(0), "slab_edge");
    th_draft_start(&draft);
    ck_assert_double_eq_tol(draft.room.shell.edge_f_w_mk, th_slab_edge_find(key->initial)->f_w_mk,
                            1e-12);
}
END_TEST

/* Every default says where it comes from, unless it is no more than "not used". */
START_TEST(every_number_has_a_source)
{
    const struct th_section_kind *const kind = kind_at(_i);
    for (int i = 0; i < *kind->n_keys; i++) {
        const struct th_key *const key = &kind->keys[i];
        if (key->store != TH_STORE_NUMBER || !key->initial || key->source)
            continue;
        const bool neutral = key->initial[0] == '0' || strncmp(key->initial, "$0", 2) == 0 ||
                             strcmp(key->initial, "1") == 0 || strcmp(key->initial, "100 %") == 0;
        ck_assert_msg(neutral, "[%s] %s = %s", kind->word, key->name, key->initial);
    }
}
END_TEST

static void read_without_errors(const char *path, const char *farm)
{
    static struct th_barn barn;
    static struct th_issues issues;
    const enum th_code code = th_barn_read(path, farm, NULL, 0, &barn, &issues);
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
    for (int k = 0; k < kinds_count(); k++)
        for (int i = 0; i < *kind_at(k)->n_keys; i++) {
            char wanted[TH_NAME_MAX + 8];
            snprintf(wanted, sizeof wanted, "\n# %s: ", kind_at(k)->keys[i].name);
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
    tcase_add_loop_test(tc, bounds_are_readable, 0, kinds_count());
    tcase_add_test(tc, the_default_slab_edge_is_the_named_one);
    tcase_add_loop_test(tc, every_number_has_a_source, 0, kinds_count());
    tcase_add_loop_test(tc, a_new_barn_shows_every_key, 0, 3);
    tcase_add_loop_test(tc, samples_have_no_errors, 0, 3);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
