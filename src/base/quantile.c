/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quantile.h"

#include <gsl/gsl_statistics_double.h>

double th_quantile(double *values, size_t n, double share)
{
    const double place = share * (double)(n - 1);
    const size_t below = (size_t)place;
    const double part = place - (double)below;
    const double low = gsl_stats_select(values, 1, n, below);
    if (below + 1 >= n)
        return low;
    const double next = gsl_stats_min(values + below + 1, 1, n - below - 1); /* none is lower */
    return (1.0 - part) * low + part * next;
}

double th_mean(const double *values, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += values[i];
    return sum / (double)n;
}
