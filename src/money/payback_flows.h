/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Yearly flows behind the payback measures; shared by payback_compare.c and payback_rate.c. */
#ifndef TURNHEAT_PAYBACK_FLOWS_H
#define TURNHEAT_PAYBACK_FLOWS_H

#include "turnheat/payback.h"

/** Alternative less base, index = year, 0 = start. Without the loan. */
struct th_flows {
    int years;
    double saving_usd[TH_PAYBACK_YEARS_MAX + 1]; /**< after tax */
    double invest_usd[TH_PAYBACK_YEARS_MAX + 1]; /**< write-off and residual taken off */
    double residual_usd; /**< what of the last year is worth, not cash: no payback counts it */
};

/** What year `year` brings in. */
static inline double th_flows_net_usd(const struct th_flows *flows, int year)
{
    return flows->saving_usd[year] - flows->invest_usd[year];
}

/**
 * Internal rate of return: the rate above −99 % at which the flows' present value is 0. None
 * without such a rate or when money comes in before any goes out, not unique with several.
 */
struct th_measure th_flows_rate(const struct th_flows *flows);

#endif
