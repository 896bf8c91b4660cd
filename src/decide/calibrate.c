/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calibrate.h"

#include <math.h>

void th_fill_used_gal(size_t n_fills, const struct th_tank_fill *fills, double capacity_gal,
                      double *gal)
{
    for (size_t i = 0; i + 1 < n_fills; i++)
        gal[i] = fills[i].delivered_gal +
                 (fills[i].level_share - fills[i + 1].level_share) * capacity_gal;
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
