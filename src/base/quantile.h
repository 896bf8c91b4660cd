/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A quantile of many values without sorting them all, and their mean. */
#ifndef TURNHEAT_QUANTILE_H
#define TURNHEAT_QUANTILE_H

#include <stddef.h>

/** What gsl_stats_quantile_from_sorted_data() tells of `n` ≥ 1 values once they are sorted, 0 ≤
 * `share` ≤ 1; they need not be, and are left in another order. */
double th_quantile(double *values, size_t n, double share);

/** The mean of `n` ≥ 1 values. gsl_stats_mean() takes long doubles for it, which a machine without
 * them (WebAssembly) has to imitate, at many times the cost. */
double th_mean(const double *values, size_t n);

#endif
