/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Options for a new barn ranked one step at a time, and the builder's quotation. */
#ifndef TURNHEAT_QUOTE_REPORT_H
#define TURNHEAT_QUOTE_REPORT_H

#include "turnheat/case.h"
#include "report.h"
#include "turnheat/compare.h"
#include "turnheat/payback.h"
#include "turnheat/sizing.h"

#define TH_QUOTE_OPTIONS_MAX 8

/** What an option is called and costs; what it changes is known to the builder of rooms. */
struct th_quote_option {
    char name[TH_NAME_MAX];
    char note[160];
    double cost_usd;
    double life_years; /**< 0 = the study period or longer */
    double upkeep_usd_year;
    double residual_share;
};

/** Makes the room with the options whose bits are set; bit i is option i. */
struct th_quote_builder {
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
    double gas_units;         /**< mean season with it and all taken before */
    double saved_units;       /**< on top of those before */
    struct th_return payback; /**< marginal, against those before */
};

struct th_quote {
    const struct th_case *base;
    const struct th_quote_option *options;
    int n;
    struct th_quote_step steps[TH_QUOTE_OPTIONS_MAX];
    unsigned taken;      /**< bits of the options taken */
    struct th_room room; /**< with them */
    struct th_trial before, after;
    double out_99_c;
};

/**
 * Ranks `n` ≤ TH_QUOTE_OPTIONS_MAX options: at each step the one with the highest marginal SIR
 * (better at once first) joins, as long as its marginal net savings are above zero and neither the
 * condensation nor the air rule forbids it. Needs a fuel price (TH_ERR_INPUT without); errors as
 * th_trial_run().
 */
enum th_code th_quote_run(struct th_quote *quote, const struct th_case *base,
                          const struct th_quote_option *options, int n,
                          const struct th_quote_builder *builder, double out_99_c,
                          struct th_error *err);

/** Adds the quotation document. Errors as th_sizing_run(). */
enum th_code th_quote_report(struct th_report *report, const struct th_quote *quote,
                             struct th_error *err);

#endif
