/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/spread.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

double th_spread_cvar(size_t n, const double *sorted, double tail)
{
    const double wanted = tail * (double)n;
    if (wanted <= 1.0)
        return sorted[n - 1];
    const size_t whole = wanted >= (double)n ? n : (size_t)wanted;
    const double part = whole < n ? wanted - (double)whole : 0.0;
    double sum = part > 0.0 ? part * sorted[n - whole - 1] : 0.0;
    for (size_t i = n - whole; i < n; i++)
        sum += sorted[i];
    return sum / ((double)whole + part);
}

double th_spread_worst(size_t n, double *values, double tail)
{
    const double wanted = ceil(tail * (double)n);
    const size_t from = wanted < (double)n ? n - (size_t)fmax(wanted, 1.0) : 0;
    gsl_stats_select(values, 1, n, from); /* none after it is lower */
    gsl_sort(values + from, 1, n - from);
    return th_spread_cvar(n, values, tail);
}

static void fill_from_sorted(size_t n, const double *sorted, struct th_spread *spread)
{
    *spread = (struct th_spread){.kind = TH_SPREAD_RANGE,
                                 .n = n,
                                 .lowest = sorted[0],
                                 .middle = gsl_stats_median_from_sorted_data(sorted, 1, n),
                                 .highest = sorted[n - 1],
                                 .mean = gsl_stats_mean(sorted, 1, n)};
    if (n < TH_SPREAD_PERCENTILES_FROM)
        return;
    spread->kind = TH_SPREAD_PERCENTILES;
    spread->p10 = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.10);
    spread->p50 = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.50);
    spread->p90 = gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.90);
    spread->cvar95 = th_spread_cvar(n, sorted, 0.05);
}

enum th_code th_spread_of(size_t n, const double *values, struct th_spread *spread,
                          struct th_error *err)
{
    if (n == 0)
        return th_fail(err, TH_ERR_INPUT, "there is no season to take a spread of");
    for (size_t i = 0; i < n; i++)
        if (!isfinite(values[i]))
            return th_fail(err, TH_ERR_INPUT, "value %zu of %zu is not a number", i + 1, n);
    double *sorted = malloc(n * sizeof *sorted);
    if (!sorted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    memcpy(sorted, values, n * sizeof *sorted);
    gsl_sort(sorted, 1, n);
    fill_from_sorted(n, sorted, spread);
    free(sorted);
    return TH_OK;
}
