/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_rows.h"

#include "turnheat/units.h"

#include <math.h>

void th_fit_defaults(struct th_fit_problem *problem)
{
    *problem = (struct th_fit_problem){.gauge_sd = 0.03,
                                       .n_params = 1,
                                       .params = {TH_FIT_UA, TH_FIT_AIR},
                                       .priors = {[TH_FIT_UA] = {1.0, 0.15},
                                                  [TH_FIT_AIR] = {1.0, 0.15},
                                                  [TH_FIT_SET] = {0.0, 2.0 * TH_K_PER_F}}};
}

void th_fit_used_gal(const struct th_fit_problem *problem, double *gal)
{
    for (size_t i = 0; i + 1 < problem->n_fills; i++) {
        const struct th_tank_fill *fill = &problem->fills[i];
        gal[i] = fill->delivered_gal +
                 (fill[0].level_share - fill[1].level_share) * problem->capacity_gal;
    }
}

static enum th_code check_fills(const struct th_fit_problem *problem, struct th_error *err)
{
    const size_t needed = problem->n_params == 1 ? TH_FIT_FILLS_ONE : TH_FIT_FILLS_TWO;
    if (problem->n_fills < needed)
        return th_fail(err, TH_ERR_INPUT, "%zu fills; fitting %s takes at least %zu",
                       problem->n_fills, problem->n_params == 1 ? "one number" : "two numbers",
                       needed);
    for (size_t i = 0; i < problem->n_fills; i++) {
        const struct th_tank_fill *fill = &problem->fills[i];
        if (!th_in_range(fill->level_share, 0.0, 1.0) ||
            !th_in_range(fill->delivered_gal, 0.0, 1e7))
            return th_fail(err, TH_ERR_RANGE,
                           "fill %zu: the gauge must be 0 to 100 %% and the gallons 0 or more",
                           i + 1);
        if (i > 0 && fill->day <= fill[-1].day)
            return th_fail(err, TH_ERR_INPUT, "fill %zu is not later than the one before", i + 1);
    }
    return TH_OK;
}

static enum th_code check_params(const struct th_fit_problem *problem, struct th_error *err)
{
    if (problem->n_params < 1 || problem->n_params > TH_FIT_AT_ONCE)
        return th_fail(err, TH_ERR_INPUT, "one or two numbers can be fitted at once, not %d",
                       problem->n_params);
    if (problem->n_params == 2 && problem->params[0] == problem->params[1])
        return th_fail(err, TH_ERR_INPUT, "the two numbers to fit must differ");
    for (int i = 0; i < problem->n_params; i++)
        if (problem->params[i] < 0 || problem->params[i] >= TH_FIT_PARAMS)
            return th_fail(err, TH_ERR_INPUT, "number %d to fit is not known", i + 1);
    for (int i = 0; i < TH_FIT_PARAMS; i++)
        if (!isfinite(problem->priors[i].mean) || !th_in_range(problem->priors[i].sd, 1e-9, 1e3))
            return th_fail(err, TH_ERR_RANGE, "prior %d must have a standard deviation above 0",
                           i + 1);
    return TH_OK;
}

enum th_code th_fit_check(const struct th_fit_problem *problem, struct th_error *err)
{
    enum th_code code = check_params(problem, err);
    if (!code)
        code = check_fills(problem, err);
    if (code)
        return code;
    if (!th_in_range(problem->capacity_gal, 1.0, 1e7))
        return th_fail(err, TH_ERR_RANGE, "the tanks' capacity must be above 0");
    if (!th_in_range(problem->gauge_sd, 1e-6, 1.0))
        return th_fail(err, TH_ERR_RANGE, "the gauge's error must be above 0 and at most 100 %%");
    return TH_OK;
}

static enum th_code mean_measured(size_t n, const double *measured, int p, double *mean,
                                  struct th_error *err)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += measured[i];
    if (p < 0 || n <= (size_t)p || !(sum > 0.0) || !isfinite(sum))
        return th_fail(err, TH_ERR_INPUT,
                       "the fit's error needs more readings than %d and a mean above 0", p);
    *mean = sum / (double)n;
    return TH_OK;
}

enum th_code th_fit_nmbe(size_t n, const double *measured, const double *simulated, int p,
                         double *nmbe, struct th_error *err)
{
    double mean = 0.0, sum = 0.0;
    const enum th_code code = mean_measured(n, measured, p, &mean, err);
    if (code)
        return code;
    for (size_t i = 0; i < n; i++)
        sum += measured[i] - simulated[i];
    *nmbe = sum / ((double)(n - (size_t)p) * mean);
    return TH_OK;
}

enum th_code th_fit_cv_rmse(size_t n, const double *measured, const double *simulated, int p,
                            double *cv_rmse, struct th_error *err)
{
    double mean = 0.0, sum = 0.0;
    const enum th_code code = mean_measured(n, measured, p, &mean, err);
    if (code)
        return code;
    for (size_t i = 0; i < n; i++)
        sum += (measured[i] - simulated[i]) * (measured[i] - simulated[i]);
    *cv_rmse = sqrt(sum / (double)(n - (size_t)p)) / mean;
    return TH_OK;
}
