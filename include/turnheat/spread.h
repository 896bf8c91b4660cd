/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * How results spread over seasons: a range when there are few, percentiles when there are enough.
 * The values' unit is the caller's. Take the spread of the sums; sums of percentiles mean nothing.
 */
#ifndef TURNHEAT_SPREAD_H
#define TURNHEAT_SPREAD_H

#include "turnheat/error.h"
#include <stddef.h>

/** Values needed before a percentile is printed. */
#define TH_SPREAD_PERCENTILES_FROM 10

enum th_spread_kind {
    TH_SPREAD_RANGE,      /**< fewer than 10 values: only lowest, middle and highest hold */
    TH_SPREAD_PERCENTILES /**< 10 or more: all fields hold */
};

struct th_spread {
    enum th_spread_kind kind;
    size_t n;
    double lowest;
    double middle; /**< median; of an even number the mean of the two in the middle */
    double highest;
    double mean;
    double p10, p50, p90; /**< 0 with TH_SPREAD_RANGE */
    double cvar95;        /**< th_spread_cvar() of the upper 5 %; 0 with TH_SPREAD_RANGE */
};

/**
 * Spread of `n` ≥ 1 finite values, in any order. Percentiles by gsl_stats_quantile_from_sorted_data
 * (linear between order statistics). TH_ERR_INPUT without values or with one that is not a number,
 * TH_ERR_MEMORY.
 */
enum th_code th_spread_of(size_t n, const double *values, struct th_spread *spread,
                          struct th_error *err);

/**
 * Mean of the highest `tail` share (0 < tail ≤ 1) of `n` ≥ 1 ascending values: conditional value at
 * risk of an empirical distribution, the value at the edge counted in part (Rockafellar & Uryasev
 * 2002, J. Banking & Finance 26:1443, proposition 8; from memory). The highest when tail·n < 1.
 */
double th_spread_cvar(size_t n, const double *sorted, double tail);

/** The same of `values` in any order, which it changes. */
double th_spread_worst(size_t n, double *values, double tail);

#endif
