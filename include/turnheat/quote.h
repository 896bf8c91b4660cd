/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Which of a builder's options belong into a new barn, ranked one step at a time. */
#ifndef TURNHEAT_QUOTE_H
#define TURNHEAT_QUOTE_H

#include "turnheat/case.h"
#include "turnheat/compare.h"
#include "turnheat/payback.h"
#include "turnheat/sizing.h"
#include "turnheat/spread.h"
#include "turnheat/study.h"

#define TH_QUOTE_OPTIONS_MAX 8

/** What is ranked; all pointers are borrowed. */
struct th_quote_in {
    const struct th_case *base; /**< the barn without options */
    const struct th_purchase *options;
    int n;           /**< ≤ TH_QUOTE_OPTIONS_MAX */
    double out_99_c; /**< outdoors on the design day */
    /** Makes the room with the options whose bits are set; bit i is option i. */
    enum th_code (*build)(void *context, unsigned options, struct th_room *room,
                          struct th_error *err);
    void *context;
};

/** Why an option is in or out. */
enum th_quote_state {
    TH_QUOTE_TAKEN,  /**< pays on top of those before it */
    TH_QUOTE_NO_PAY, /**< does not pay on top of those taken */
    TH_QUOTE_WET,    /**< a surface would drip that was dry before */
    TH_QUOTE_AIR     /**< lowers the air below the minimum rule */
};

/** One option, in the order of its decision. */
struct th_quote_step {
    int option;
    enum th_quote_state state;
    double saved_units;       /**< in a mean season, on top of those before, all copies */
    struct th_return payback; /**< marginal, against those before */
};

/** What `th_quote_run()` finds. Units are those of the fuel: gallons or therms. */
struct th_quote {
    int n;
    struct th_quote_step steps[TH_QUOTE_OPTIONS_MAX];
    unsigned taken;      /**< bits of the options taken */
    double options_usd;  /**< first cost of those, all copies */
    struct th_room room; /**< with them */
    struct th_trial before, after;
    struct th_spread before_units, after_units; /**< of a season, all copies */
    double out_99_c;
    struct th_sizing sizing; /**< of the room with the options taken */
    double installed_w, one_out_w;
};

/**
 * Ranks the options: at each step the one with the highest marginal SIR (better at once first)
 * joins, as long as its marginal net savings are above zero and neither the condensation nor the
 * air rule forbids it. TH_ERR_INPUT without a fuel price or with too many options; errors of
 * `build`, of th_trial_run() and of th_sizing_run().
 */
enum th_code th_quote_run(const struct th_quote_in *in, struct th_quote *quote,
                          struct th_error *err);

#endif
