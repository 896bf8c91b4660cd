/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Secants find what Brent's method finds, or say that they do not. */
#include "root.h"

#include "run_suite.h"
#include <math.h>

#define TOLERANCE 1e-10

static int calls;

static double smooth(double x, void *context)
{
    (void)context;
    calls++;
    return x * x * x + 2.0 * x - 40.0;
}

static double kinked(double x, void *context)
{
    (void)context;
    calls++;
    return x < 1.0 ? (x - 1.0) - 0.1 : 3.0 * (x - 1.0) - 0.1;
}

static double flat_then_steep(double x, void *context)
{
    (void)context;
    calls++;
    return atan(50.0 * (x - 4.3));
}

static double jump(double x, void *context)
{
    (void)context;
    calls++;
    return x < 0.7 ? -1.0 : 2.0;
}

static const struct {
    double (*function)(double, void *);
    double low, high;
    bool secants;
} cases[] = {
    {smooth, 3.0, 4.0, true}, {smooth, -10.0, 100.0, false},
    {kinked, 0.0, 3.0, true}, {flat_then_steep, -5.0, 9.0, false},
    {jump, 0.0, 1.0, false},
};

/* Brent's root, and how many calls it took. */
static double enclosed(gsl_function *f, double low, double high, int *took)
{
    double root = NAN;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    calls = 0;
    ck_assert_int_eq(th_root(solver, f, low, high, TOLERANCE, &root), TH_OK);
    gsl_root_fsolver_free(solver);
    *took = calls;
    return root;
}

START_TEST(secants_find_the_same_root_or_say_so)
{
    double root = NAN;
    int brent;
    gsl_function f = {.function = cases[_i].function};
    const double low = cases[_i].low, high = cases[_i].high;
    const double expected = enclosed(&f, low, high, &brent);
    const struct th_point a = {low, GSL_FN_EVAL(&f, low)}, b = {high, GSL_FN_EVAL(&f, high)};
    calls = 0;
    ck_assert_int_eq(th_secants(&f, a, b, low, high, TOLERANCE, &root), cases[_i].secants);
    ck_assert_int_le(calls, 12);
    if (!cases[_i].secants)
        return;
    ck_assert_double_eq_tol(root, expected, 2.0 * TOLERANCE);
    ck_assert_int_le(calls, brent);
}
END_TEST

START_TEST(a_root_at_an_end_needs_no_call)
{
    double root = NAN;
    gsl_function f = {.function = smooth};
    calls = 0;
    ck_assert(th_secants(&f, (struct th_point){1.0, -2.0}, (struct th_point){2.0, 0.0}, 1.0, 2.0,
                         TOLERANCE, &root));
    ck_assert_double_eq(root, 2.0);
    ck_assert_int_eq(calls, 0);
}
END_TEST

START_TEST(a_level_line_has_none)
{
    double root = NAN;
    gsl_function f = {.function = smooth};
    ck_assert(!th_secants(&f, (struct th_point){1.0, 3.0}, (struct th_point){2.0, 3.0}, 1.0, 2.0,
                          TOLERANCE, &root));
    ck_assert(!th_secants(&f, (struct th_point){1.0, NAN}, (struct th_point){2.0, 3.0}, 1.0, 2.0,
                          TOLERANCE, &root));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("root");
    TCase *tc = tcase_create("root");
    tcase_add_loop_test(tc, secants_find_the_same_root_or_say_so, 0, sizeof cases / sizeof *cases);
    tcase_add_test(tc, a_root_at_an_end_needs_no_call);
    tcase_add_test(tc, a_level_line_has_none);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
