/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A choice over three farms, small enough to be reckoned by hand (docs/theory.md, choices over the
 * same barns): they save 100, 500 and 900 units at $2, ten years at 0 %, for $6,000. */
#ifndef TURNHEAT_TESTS_THREE_FARMS_H
#define TURNHEAT_TESTS_THREE_FARMS_H

#include "turnheat/joint.h"

#include <check.h>

/** Its net savings; `chance` receives the share of farms and prices at which it pays. */
static inline struct th_net three_farms_net(double *chance)
{
    double now[] = {1000.0, 1000.0, 1000.0}, then[] = {900.0, 500.0, 100.0};
    const struct th_joint joint = {.n = 3, .units = {now, then}};
    const struct th_study study = {
        .years = 10, .price_usd_unit = 2.0, .payer_share = 1.0, .loan_years = 1};
    const struct th_outlay none = {0}, buy = {.first_usd = 6000.0};
    const struct th_joint_pair pair = {&study, &none, &buy, 0, 1};
    struct th_net net = {0};
    struct th_error err;
    ck_assert_int_eq(th_joint_weigh(&joint, &pair, &net, chance, &err), TH_OK);
    return net;
}

#endif
