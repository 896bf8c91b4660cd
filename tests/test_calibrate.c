/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calibrate.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <gsl/gsl_randist.h>
#include <math.h>
#include <string.h>

enum { FILLS_MAX = 40 };

/* A stand-in for the engine: degree-days of each interval times shell and air, less the pigs' heat,
   never below 0. `air_share` tells how much of the air's heat follows the weather differently from
   the shell's; at 0 the two factors cannot be told apart. */
struct barn {
    size_t n_intervals;
    double out_c[FILLS_MAX], pigs_gal[FILLS_MAX], air_share;
};

static enum th_code burn(void *context, const struct th_calibration *trial, double *gal,
                         struct th_error *err)
{
    const struct barn *barn = context;
    (void)err;
    for (size_t i = 0; i < barn->n_intervals; i++) {
        const double lift = 24.0 + trial->set_shift_k - barn->out_c[i];
        const double air = 11.0 * (1.0 + barn->air_share * (double)i / (double)barn->n_intervals);
        const double need = (14.0 * trial->ua_factor + air * trial->air_factor) * lift;
        gal[i] = fmax(0.0, need - barn->pigs_gal[i]);
    }
    return TH_OK;
}

static struct barn sample_barn(size_t n_fills, double air_share)
{
    struct barn barn = {.n_intervals = n_fills - 1, .air_share = air_share};
    for (size_t i = 0; i < barn.n_intervals; i++) {
        barn.out_c[i] = -2.0 + 9.0 * cos(0.55 * (double)i);
        barn.pigs_gal[i] = 60.0 + 9.0 * (double)i;
    }
    return barn;
}

/* Fills of a barn with `truth`: every gauge reading is off by its own error of `gauge_sd`. */
static void make_fills(const struct barn *barn, const struct th_calibration *truth,
                       double capacity_gal, double gauge_sd, gsl_rng *rng,
                       struct th_tank_fill *fills)
{
    double used_gal[FILLS_MAX];
    burn((void *)barn, truth, used_gal, NULL);
    double level_gal = 0.3 * capacity_gal;
    for (size_t i = 0; i <= barn->n_intervals; i++) {
        const double error = rng ? gsl_ran_gaussian(rng, gauge_sd) : 0.0;
        const double read = level_gal / capacity_gal + error;
        fills[i] = (struct th_tank_fill){(long)(17500 + 10 * i), fmin(fmax(read, 0.0), 1.0), 0.0};
        if (i == barn->n_intervals)
            break;
        fills[i].delivered_gal = used_gal[i]; /* topped up by what will be used */
    }
}

static struct th_fit_problem problem_of(struct barn *barn, const struct th_tank_fill *fills,
                                        int n_params, enum th_fit_param first,
                                        enum th_fit_param second)
{
    struct th_fit_problem problem;
    th_fit_defaults(&problem);
    problem.n_fills = barn->n_intervals + 1;
    problem.fills = fills;
    problem.capacity_gal = 4000.0;
    problem.n_params = n_params;
    problem.params[0] = first;
    problem.params[1] = second;
    problem.predict = burn;
    problem.context = barn;
    return problem;
}

static struct th_fit run_fit(const struct th_fit_problem *problem)
{
    struct th_fit fit;
    struct th_error err = {0};
    ck_assert_msg(th_fit_run(problem, &fit, &err) == TH_OK, "%s", err.text);
    return fit;
}

/* H5. ASHRAE Guideline 14 formulas, p = 1. */
START_TEST(errors_of_a_fit)
{
    const double measured[] = {620, 540, 430, 210, 90, 60, 55, 55, 80, 190, 380, 560};
    const double simulated[] = {600, 560, 410, 225, 85, 62, 57, 52, 86, 180, 400, 540};
    double nmbe = 0.0, cv_rmse = 0.0;
    ck_assert_int_eq(th_fit_nmbe(12, measured, simulated, 1, &nmbe, NULL), TH_OK);
    ck_assert_int_eq(th_fit_cv_rmse(12, measured, simulated, 1, &cv_rmse, NULL), TH_OK);
    validate("H5", VALIDATE_CHECK, "ASHRAE Guideline 14 formulas", "NMBE, p = 1", 0.4337,
             100.0 * nmbe, 0.00005, "%");
    validate("H5", VALIDATE_CHECK, "ASHRAE Guideline 14 formulas", "CV(RMSE), p = 1", 5.4239,
             100.0 * cv_rmse, 0.00005, "%");
    ck_assert_int_eq(th_fit_nmbe(1, measured, simulated, 1, &nmbe, NULL), TH_ERR_INPUT);
    const double nothing[3] = {0};
    ck_assert_int_eq(th_fit_cv_rmse(3, nothing, nothing, 1, &cv_rmse, NULL), TH_ERR_INPUT);
}
END_TEST

/* Hand-worked: 500 delivered, gauge 30 % before and 25 % at the next fill of 1,000 gal: 550. */
START_TEST(gallons_between_fills)
{
    const struct th_tank_fill fills[] = {{17500, 0.30, 500}, {17510, 0.25, 400}, {17520, 0.40, 0}};
    const struct th_fit_problem problem = {.n_fills = 3, .fills = fills, .capacity_gal = 1000};
    double gal[2];
    th_fit_used_gal(&problem, gal);
    ck_assert_double_eq_tol(gal[0], 550.0, 1e-9);
    ck_assert_double_eq_tol(gal[1], 250.0, 1e-9);
}
END_TEST

/* With an exact gauge the fills give the truth back whatever was believed. */
START_TEST(exact_fills_give_the_truth)
{
    struct barn barn = sample_barn(14, 1.5);
    const struct th_calibration truth = {.ua_factor = 1.2, .air_factor = 0.9, .set_shift_k = 0.0};
    struct th_tank_fill fills[FILLS_MAX];
    make_fills(&barn, &truth, 4000.0, 0.0, NULL, fills);
    struct th_fit_problem problem = problem_of(&barn, fills, 2, TH_FIT_AIR, TH_FIT_UA);
    problem.gauge_sd = 1e-5;
    const struct th_fit fit = run_fit(&problem);
    ck_assert_double_eq_tol(fit.calibration.ua_factor, 1.2, 1e-3);
    ck_assert_double_eq_tol(fit.calibration.air_factor, 0.9, 1e-3);
    ck_assert_double_eq(fit.calibration.set_shift_k, 0.0);
    ck_assert_int_eq(fit.values[0].param, TH_FIT_AIR);
    ck_assert(fit.values[0].identified && fit.values[1].identified);
    ck_assert_double_lt(fabs(fit.nmbe_after), 1e-3);
    ck_assert_double_gt(fabs(fit.nmbe_before), 0.02);
    ck_assert_double_gt(fit.cv_rmse_before, fit.cv_rmse_after);
}
END_TEST

/* One parameter and a linear model have a closed form: the generalised least-squares mean with its
   prior (Bayes' rule for normal errors), worked here with the covariance inverted by hand: of
   tridiagonal (2, −1) of size 4 the inverse is min(i, j) (5 − max(i, j)) / 5. */
START_TEST(one_parameter_agrees_with_the_closed_form)
{
    struct barn barn = sample_barn(5, 0.0);
    memset(barn.pigs_gal, 0, sizeof barn.pigs_gal);
    const struct th_calibration truth = {.ua_factor = 1.1, .air_factor = 1.0};
    const struct th_calibration none = {.ua_factor = 0.0, .air_factor = 1.0};
    const struct th_calibration one = {.ua_factor = 1.0, .air_factor = 1.0};
    struct th_tank_fill fills[FILLS_MAX];
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    make_fills(&barn, &truth, 4000.0, 0.03, rng, fills);
    gsl_rng_free(rng);
    const struct th_fit_problem problem = problem_of(&barn, fills, 1, TH_FIT_UA, TH_FIT_UA);
    double used[4], rest[4], all[4], information = 1.0 / (0.15 * 0.15), pull = information;
    th_fit_used_gal(&problem, used);
    burn(&barn, &none, rest, NULL);
    burn(&barn, &one, all, NULL);
    for (int i = 1; i <= 4; i++)
        for (int j = 1; j <= 4; j++) {
            const double inverse =
                fmin(i, j) * (5.0 - fmax(i, j)) / 5.0 / (0.03 * 4000.0 * 0.03 * 4000.0);
            information += (all[i - 1] - rest[i - 1]) * inverse * (all[j - 1] - rest[j - 1]);
            pull += (all[i - 1] - rest[i - 1]) * inverse * (used[j - 1] - rest[j - 1]);
        }
    const struct th_fit fit = run_fit(&problem);
    ck_assert(!fit.widened);
    ck_assert_double_eq_tol(fit.values[0].value, pull / information, 1e-5);
    ck_assert_double_eq_tol(fit.values[0].sd, sqrt(1.0 / information), 1e-5);
    ck_assert_double_eq_tol(fit.values[0].high - fit.values[0].low,
                            2.0 * 1.6448536 * fit.values[0].sd, 1e-6);
}
END_TEST

static const struct {
    int n_params;
    enum th_fit_param first, second;
    size_t fills;
    double air_share;
} covers[] = {
    {1, TH_FIT_UA, TH_FIT_UA, 5, 0.0},    {1, TH_FIT_AIR, TH_FIT_AIR, 9, 0.0},
    {1, TH_FIT_SET, TH_FIT_SET, 7, 0.0},  {2, TH_FIT_UA, TH_FIT_AIR, 8, 0.0},
    {2, TH_FIT_AIR, TH_FIT_SET, 20, 1.0}, {2, TH_FIT_UA, TH_FIT_SET, 12, 0.0},
};

/* Truths drawn from the prior lie in the 90 % interval in 90 % of the trials (the definition of a
   credible interval). Of 600 trials the rate is within 3.5 standard errors (4.3 points) of 90 %;
   the few fits widened for bad luck only add to it, so the upper side has a point more. */
START_TEST(intervals_cover_at_their_rate)
{
    enum { TRIALS = 600 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20 + (unsigned long)_i);
    struct barn barn = sample_barn(covers[_i].fills, covers[_i].air_share);
    int inside[2] = {0}, widened = 0;
    for (int trial = 0; trial < TRIALS; trial++) {
        struct th_tank_fill fills[FILLS_MAX];
        struct th_fit_problem problem =
            problem_of(&barn, fills, covers[_i].n_params, covers[_i].first, covers[_i].second);
        double truth[TH_FIT_PARAMS] = {1.0, 1.0, 0.0};
        for (int k = 0; k < problem.n_params; k++) {
            const struct th_fit_prior *prior = &problem.priors[problem.params[k]];
            truth[problem.params[k]] = prior->mean + gsl_ran_gaussian(rng, prior->sd);
        }
        const struct th_calibration drawn = {.ua_factor = truth[TH_FIT_UA],
                                             .air_factor = truth[TH_FIT_AIR],
                                             .set_shift_k = truth[TH_FIT_SET]};
        make_fills(&barn, &drawn, problem.capacity_gal, problem.gauge_sd, rng, fills);
        const struct th_fit fit = run_fit(&problem);
        widened += fit.widened;
        for (int k = 0; k < fit.n_params; k++)
            inside[k] += truth[fit.values[k].param] >= fit.values[k].low &&
                         truth[fit.values[k].param] <= fit.values[k].high;
    }
    gsl_rng_free(rng);
    for (int k = 0; k < covers[_i].n_params; k++) {
        const double rate = inside[k] / (double)TRIALS;
        ck_assert_msg(rate >= 0.857 && rate <= 0.953, "case %d value %d: %.3f", _i, k, rate);
    }
    ck_assert_double_le(widened / (double)TRIALS, 0.08); /* 5 % of good fits look bad by chance */
}
END_TEST

/* Shell and air that follow the weather alike cannot be told apart: strongly opposed, each hardly
   better known than before, though their sum is. */
START_TEST(says_what_cannot_be_told_apart)
{
    struct barn barn = sample_barn(12, 0.0);
    const struct th_calibration truth = {.ua_factor = 1.1, .air_factor = 1.1};
    struct th_tank_fill fills[FILLS_MAX];
    make_fills(&barn, &truth, 4000.0, 0.0, NULL, fills);
    struct th_fit_problem problem = problem_of(&barn, fills, 2, TH_FIT_UA, TH_FIT_AIR);
    problem.gauge_sd = 0.005;
    const struct th_fit both = run_fit(&problem);
    ck_assert_double_lt(both.correlation, -0.95);
    ck_assert_double_gt(both.condition, 5.0);
    ck_assert(!both.values[1].identified);
    problem.n_params = 1;
    ck_assert(run_fit(&problem).values[0].identified);
}
END_TEST

/* Something the gauge cannot explain (a fill that was never written down) widens the interval. */
START_TEST(misfit_is_owned_up_to)
{
    struct barn barn = sample_barn(10, 0.0);
    const struct th_calibration truth = {.ua_factor = 1.0, .air_factor = 1.0};
    struct th_tank_fill fills[FILLS_MAX];
    make_fills(&barn, &truth, 4000.0, 0.0, NULL, fills);
    const struct th_fit_problem problem = problem_of(&barn, fills, 1, TH_FIT_UA, TH_FIT_UA);
    const struct th_fit good = run_fit(&problem);
    fills[4].delivered_gal += 1500.0;
    const struct th_fit bad = run_fit(&problem);
    ck_assert(!good.widened && good.chance > 0.5);
    ck_assert(bad.widened && bad.chance < 0.01);
    ck_assert_double_gt(bad.values[0].sd, 1.3 * good.values[0].sd);
}
END_TEST

static enum th_code refuse(void *context, const struct th_calibration *trial, double *gal,
                           struct th_error *err)
{
    (void)context;
    (void)trial;
    (void)gal;
    return th_fail(err, TH_ERR_COVERAGE, "no weather");
}

static int calls, failing_call;

/* Short of memory once, in the call of that number. */
static enum th_code burn_but_once(void *context, const struct th_calibration *trial, double *gal,
                                  struct th_error *err)
{
    if (++calls == failing_call)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    return burn(context, trial, gal, err);
}

/* GSL goes on after a failed evaluation, so a fit could come out of what was left. */
START_TEST(one_failure_is_never_lost)
{
    struct barn barn = sample_barn(8, 0.0);
    const struct th_calibration truth = {.ua_factor = 1.1, .air_factor = 0.9};
    struct th_tank_fill fills[FILLS_MAX];
    struct th_fit fit;
    struct th_error err;
    make_fills(&barn, &truth, 4000.0, 0.0, NULL, fills);
    struct th_fit_problem problem = problem_of(&barn, fills, 2, TH_FIT_UA, TH_FIT_AIR);
    problem.predict = burn_but_once;
    calls = failing_call = 0;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_OK);
    const int needed = calls;
    ck_assert_int_gt(needed, 8);
    for (failing_call = 1; failing_call <= needed; failing_call++) {
        calls = 0;
        ck_assert_msg(th_fit_run(&problem, &fit, &err) == TH_ERR_MEMORY, "call %d of %d",
                      failing_call, needed);
    }
}
END_TEST

static enum th_code not_a_number(void *context, const struct th_calibration *trial, double *gal,
                                 struct th_error *err)
{
    (void)err;
    burn(context, trial, gal, NULL);
    gal[0] = NAN;
    return TH_OK;
}

START_TEST(refuses_and_passes_errors_on)
{
    struct barn barn = sample_barn(8, 0.0);
    const struct th_calibration truth = {.ua_factor = 1.0, .air_factor = 1.0};
    struct th_tank_fill fills[FILLS_MAX];
    struct th_fit fit;
    struct th_error err;
    make_fills(&barn, &truth, 4000.0, 0.0, NULL, fills);
    struct th_fit_problem problem = problem_of(&barn, fills, 2, TH_FIT_UA, TH_FIT_AIR);
    problem.n_fills = 7;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "at least 8"));
    problem.n_params = 1;
    problem.n_fills = 4;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_INPUT);
    problem.n_fills = 8;
    problem.predict = refuse;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_COVERAGE);
    problem.predict = not_a_number;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_NUMERIC);
    problem.predict = burn;
    problem.gauge_sd = 0.0;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_RANGE);
    problem.gauge_sd = 0.03;
    fills[3].day = fills[2].day;
    ck_assert_int_eq(th_fit_run(&problem, &fit, &err), TH_ERR_INPUT);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("calibrate");
    TCase *tc = tcase_create("calibrate");
    tcase_set_timeout(tc, 30);
    tcase_add_test(tc, errors_of_a_fit);
    tcase_add_test(tc, gallons_between_fills);
    tcase_add_test(tc, exact_fills_give_the_truth);
    tcase_add_test(tc, one_parameter_agrees_with_the_closed_form);
    tcase_add_loop_test(tc, intervals_cover_at_their_rate, 0, 6);
    tcase_add_test(tc, says_what_cannot_be_told_apart);
    tcase_add_test(tc, misfit_is_owned_up_to);
    tcase_add_test(tc, one_failure_is_never_lost);
    tcase_add_test(tc, refuses_and_passes_errors_on);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
