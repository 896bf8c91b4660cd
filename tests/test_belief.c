/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is believed of a farm's deviates: by closed forms, and carried along by barn files. */
#include "turnheat/learn.h"
#include "turnheat/outlook.h"
#include "turnheat/record.h"

#include "run_suite.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct th_belief nothing;

/* Two readings of sums of two deviates: 0.5 z0 + z1 and z0 − 0.3 z1, errors 0.2 and 0.5. */
static const double slopes[2][2] = {{0.5, 1.0}, {1.0, -0.3}};
static const double errors[2] = {0.2, 0.5};
static const double readings[2] = {0.9, -0.4};

static void rows(void *context, const double *z, double *row)
{
    const int *places = context;
    for (int r = 0; r < 2; r++)
        row[r] =
            (readings[r] - slopes[r][0] * z[places[0]] - slopes[r][1] * z[places[1]]) / errors[r];
}

static struct th_evidence evidence_at(int *places, int n_z, const struct th_belief *before)
{
    return (struct th_evidence){
        .before = before, .n_z = n_z, .n_rows = 2, .rows = rows, .context = places};
}

/* Bayes' rule for normal errors: C = (I + J'J)^-1, z = C J'y, two by two inverted by hand. */
START_TEST(two_readings_agree_with_the_closed_form)
{
    int places[2] = {0, 1};
    const struct th_evidence evidence = evidence_at(places, 2, &nothing);
    struct th_belief after;
    struct th_draws draws = {.n = 4096};
    struct th_error err;
    double a = 1.0, b = 0.0, d = 1.0, pull[2] = {0};
    for (int r = 0; r < 2; r++) {
        const double j0 = slopes[r][0] / errors[r], j1 = slopes[r][1] / errors[r];
        a += j0 * j0;
        b += j0 * j1;
        d += j1 * j1;
        pull[0] += j0 * readings[r] / errors[r];
        pull[1] += j1 * readings[r] / errors[r];
    }
    const double det = a * d - b * b;
    draws.z = calloc(2 * draws.n, sizeof *draws.z);
    ck_assert_msg(th_learn_from(&evidence, &after, &draws, &err) == TH_OK, "%s", err.text);
    ck_assert_double_eq_tol(after.z[0], (d * pull[0] - b * pull[1]) / det, 1e-5);
    ck_assert_double_eq_tol(after.z[1], (a * pull[1] - b * pull[0]) / det, 1e-5);
    ck_assert_double_eq_tol(th_belief_sd(&after, 0), sqrt(d / det), 1e-5);
    ck_assert_double_eq_tol(th_belief_sd(&after, 1), sqrt(a / det), 1e-5);
    double sum = 0.0;
    for (size_t i = 0; i < draws.n; i++)
        sum += draws.z[2 * i] / (double)draws.n;
    ck_assert_double_eq_tol(sum, after.z[0], 0.05 * th_belief_sd(&after, 0));
    /* Of draws spread by c in n dimensions (2/c − 1/c²)^(n/2) count: of 1.5 in two, 8/9. */
    ck_assert_double_eq_tol(draws.effective, 8.0 / 9.0 * (double)draws.n, 0.05 * (double)draws.n);
    free(draws.z);
}
END_TEST

/* What was learnt first and then more is what is learnt at once. */
START_TEST(learning_twice_is_learning_at_once)
{
    int places[2] = {0, 2}, others[2] = {2, 1};
    struct th_belief first, both, other;
    struct th_draws none = {0};
    struct th_error err;
    struct th_evidence evidence = evidence_at(places, 3, &nothing);
    ck_assert_int_eq(th_learn_from(&evidence, &first, &none, &err), TH_OK);
    evidence = evidence_at(others, 3, &first);
    ck_assert_int_eq(th_learn_from(&evidence, &both, &none, &err), TH_OK);
    evidence = evidence_at(others, 3, &nothing);
    ck_assert_int_eq(th_learn_from(&evidence, &first, &none, &err), TH_OK);
    evidence = evidence_at(places, 3, &first);
    ck_assert_int_eq(th_learn_from(&evidence, &other, &none, &err), TH_OK);
    for (int i = 0; i < 3; i++) {
        ck_assert_double_eq_tol(both.z[i], other.z[i], 1e-4);
        ck_assert_double_eq_tol(th_belief_sd(&both, i), th_belief_sd(&other, i), 1e-4);
    }
    ck_assert_double_eq_tol(th_belief_distance2(&both, 3, both.z), 0.0, 1e-12);
}
END_TEST

static struct th_room barns[2];
static const struct th_room *const farm[2] = {&barns[0], &barns[1]};

/* Two barns of one fit. */
static struct th_belief fit_two(int *places, const char *name)
{
    const struct th_evidence evidence = evidence_at(places, th_outlook_deviates(2), &nothing);
    struct th_belief after;
    struct th_draws none = {0};
    struct th_fitted fitted[2] = {{0}};
    struct th_error err;
    ck_assert_int_eq(th_learn_from(&evidence, &after, &none, &err), TH_OK);
    ck_assert_int_eq(th_belief_to_rooms(&after, 2, fitted, &err), TH_OK);
    for (int b = 0; b < 2; b++) {
        fitted[b].given = true;
        snprintf(fitted[b].fit, TH_NAME_MAX, "%s", name);
        barns[b].fitted = fitted[b];
    }
    return after;
}

START_TEST(rooms_bring_along_what_was_learnt)
{
    int places[2] = {th_outlook_place(0, TH_UNKNOWN_AIR), th_outlook_place(1, TH_UNKNOWN_LEAKAGE)};
    const struct th_belief after = fit_two(places, "a");
    struct th_belief read;
    struct th_error err;
    ck_assert_msg(th_belief_of_rooms(farm, 2, &read, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(read.n_z, th_outlook_deviates(2));
    for (int i = 0; i < read.n_z; i++) {
        ck_assert_double_eq_tol(read.z[i], after.z[i], 1e-9);
        for (int j = 0; j <= i; j++)
            ck_assert_double_eq_tol(read.spread[i][j], after.spread[i][j], 1e-9);
    }
    /* One of them alone knows what it knew. */
    ck_assert_int_eq(th_belief_of_rooms(farm + 1, 1, &read, &err), TH_OK);
    const int leak = th_outlook_place(0, TH_UNKNOWN_LEAKAGE);
    ck_assert_double_eq_tol(read.z[leak], after.z[places[1]], 1e-9);
    ck_assert_double_eq_tol(th_belief_sd(&read, leak), th_belief_sd(&after, places[1]), 1e-9);
}
END_TEST

/* Two meters, two fits: each barn brings along its own, and they are weighed together. */
START_TEST(fits_of_two_meters_add_up)
{
    int first[2] = {TH_UNKNOWN_AIR, th_outlook_place(0, TH_UNKNOWN_LEAKAGE)};
    int second[2] = {TH_UNKNOWN_AIR, th_outlook_place(1, TH_UNKNOWN_LEAKAGE)};
    struct th_belief before = fit_two(first, "a"), read, once;
    struct th_draws none = {0};
    struct th_error err;
    const struct th_fitted kept = barns[0].fitted;
    fit_two(second, "b");
    barns[0].fitted = kept;
    ck_assert_msg(th_belief_of_rooms(farm, 2, &read, &err) == TH_OK, "%s", err.text);
    const struct th_evidence evidence = evidence_at(second, th_outlook_deviates(2), &before);
    ck_assert_int_eq(th_learn_from(&evidence, &once, &none, &err), TH_OK);
    for (int i = 0; i < read.n_z; i++) {
        ck_assert_double_eq_tol(read.z[i], once.z[i], 1e-3);
        ck_assert_double_eq_tol(th_belief_sd(&read, i), th_belief_sd(&once, i), 1e-3);
    }
}
END_TEST

START_TEST(what_is_no_fit_is_refused)
{
    int places[2] = {TH_UNKNOWN_AIR, th_outlook_place(1, TH_UNKNOWN_LEAKAGE)};
    struct th_belief read;
    struct th_error err;
    fit_two(places, "a");
    barns[1].fitted.z[TH_UNKNOWN_AIR] += 0.1;
    ck_assert_int_eq(th_belief_of_rooms(farm, 2, &read, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "share"));
    fit_two(places, "a");
    barns[0].fitted.way[0][0] = 2.0;
    ck_assert_int_eq(th_belief_of_rooms(farm, 1, &read, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "printed"));
    barns[0].fitted = (struct th_fitted){0};
    ck_assert_int_eq(th_belief_of_rooms(farm, 1, &read, &err), TH_OK);
    ck_assert_int_eq(read.n_z, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("belief");
    TCase *tc = tcase_create("belief");
    tcase_add_test(tc, two_readings_agree_with_the_closed_form);
    tcase_add_test(tc, learning_twice_is_learning_at_once);
    tcase_add_test(tc, rooms_bring_along_what_was_learnt);
    tcase_add_test(tc, fits_of_two_meters_add_up);
    tcase_add_test(tc, what_is_no_fit_is_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
