/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Two barns side by side over the same winters: what each burns, needs and costs, and whether the
 * one that burns less returns what it costs more to build. Both share what is not known of pigs,
 * air and set points, so the difference is surer than either.
 */
#ifndef TURNHEAT_SIDE_BY_SIDE_H
#define TURNHEAT_SIDE_BY_SIDE_H

#include "turnheat/outlook.h"
#include "turnheat/payback.h"
#include "turnheat/runs.h"
#include "turnheat/size.h"
#include "turnheat/study.h"

/** One of the two, all copies of its room unless a room is named. */
struct th_side {
    const struct th_case *one;
    struct th_trial trial; /**< one room over its winters */
    struct th_size size;
    double units, lowest_units, highest_units; /**< of fuel: mean winter, and of single ones */
    double fuel_usd;                           /**< of a mean winter; 0 without a price */
    double first_usd;                          /**< to build; 0: not given */
    double life_usd; /**< life-cycle cost over the study; 0 without a price */
    int wettest;     /**< the surface that drips longest, -1 when none does */
    double drip_h;   /**< of it, in a season */
};

/** What is found. */
struct th_side_by_side {
    struct th_side sides[2];
    int n_winters;            /**< counted for both */
    int saver;                /**< the side with the lower fuel bill, gallons without a price */
    enum th_harm harm;        /**< what the saver does to the pigs beside the other */
    struct th_hardship added; /**< by how much */
    bool same_gas;            /**< both burn propane, or both natural gas */
    /* The saver against the other: gas of a mean winter, in its units where both burn the same. */
    double saved_units, saved_low_units,
        saved_high_units; /**< low, high: 10 to 90 % of all draws */
    /* With a price for both: */
    bool has_money;
    double saved_usd; /**< fuel and blowers, a mean winter */
    double worth_usd; /**< PV of it over the study: the most the saver may cost more to build */
    double worth_low_usd, worth_high_usd; /**< over those draws */
    /* With a first cost of both: */
    bool has_first;
    double extra_usd; /**< the saver costs more to build */
    struct th_return payback;
    double net_low_usd, net_high_usd;
    double chance; /**< share of the draws in which it pays */
};

/**
 * Compares `cases[0]` with `cases[1]` on the money of the first. TH_ERR_COVERAGE without a winter
 * that counts for both; errors as th_size_run(), th_outlook_init(), th_payback_compare().
 */
enum th_code th_side_by_side_run(struct th_side_by_side *both, struct th_runs *runs,
                                 const struct th_case *cases, struct th_error *err);

#endif
