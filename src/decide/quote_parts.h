/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Barns with some of the options, and what options come to over the farms. */
#ifndef TURNHEAT_QUOTE_PARTS_H
#define TURNHEAT_QUOTE_PARTS_H

#include "turnheat/quote.h"

/** The barn with some of the options. */
struct th_candidate {
    unsigned set;
    struct th_room room;
    /* Of one that is whole: */
    struct th_trial trial;
    double drip_h[TH_SURFACES_MAX]; /**< of a season */
    double most_w;                  /**< what heaters must hold on the design day */
    bool whole;                     /**< run over all winters */
    /* Of a mean season; of one that is not whole the least it may be. */
    double gas_j, electricity_j;
};

/** Barns with some of the options are tried one after the other. */
struct th_quote_tries {
    const struct th_quote_in *in;
    struct th_runs runs; /**< of all that is tried and weighed */
    /** What each option needs added to ON and OFF for the room to be as warm as without it, as it
     * was weighed last. */
    double shift_k[TH_QUOTE_OPTIONS_MAX];
};

/** What a set of options needs added to ON and OFF. */
double th_quote_shift_k(const struct th_quote_tries *tries, unsigned set);

/** The room of a set of options, as warm as without them as far as is known. Errors of `build`. */
enum th_code th_quote_build(const struct th_quote_tries *tries, unsigned set, struct th_room *room,
                            struct th_error *err);

/** Runs `n` candidates, of which `set` tells the options, over all winters. Errors of `build`,
 * th_sizing_run(), th_drip_read() and th_trial_of(). */
enum th_code th_quote_try(struct th_quote_tries *tries, struct th_candidate **candidates, int n,
                          struct th_error *err);

/**
 * Looks at candidates beside `now`, which is whole: by a fifth of the hours of all winters, which
 * show a change of gas to 0.3 % of all the gas and 5 % of the change. What is found is the least
 * that each may burn. With no more than TH_COST_WHOLE_WINTERS as th_quote_try(). Errors likewise.
 */
enum th_code th_quote_glance(struct th_quote_tries *tries, const struct th_candidate *now,
                             struct th_candidate **candidates, int n, struct th_error *err);

/** What it costs to buy and to run. */
struct th_outlay th_quote_outlay(const struct th_quote_in *in, const struct th_candidate *c);

/** The barn as quoted: what it burns and costs, its design day, and what it must be provided with.
 * Errors of th_sizing_run() and th_spread_of(). */
enum th_code th_quote_describe(struct th_quote *quote, const struct th_quote_in *in,
                               const struct th_candidate *bare, const struct th_candidate *quoted,
                               struct th_error *err);

/** The barn without options, after each one that was taken, and as quoted. */
struct th_quote_chain {
    bool out_of_memory;
    int n;
    int step[TH_QUOTE_OPTIONS_MAX + 2]; /**< that led there; -1 at both ends */
    struct th_candidate *links[TH_QUOTE_OPTIONS_MAX + 2];
};

/** Keeps a copy; what is short of memory is told by th_quote_ranges(). */
void th_quote_chain_add(struct th_quote_chain *chain, const struct th_candidate *link, int step);

/** One of the chain that is the same room, byte by byte, as `c`; NULL: none. */
const struct th_candidate *th_quote_chain_find(const struct th_quote_chain *chain,
                                               const struct th_candidate *c);

void th_quote_chain_finish(struct th_quote_chain *chain);

/**
 * Net savings over the farms of every step that was taken and not weighed, beside what was taken
 * before it, and of all together. Nothing without `farms`. Errors as th_beside_init(),
 * th_payback_compare().
 */
enum th_code th_quote_ranges(const struct th_quote_in *in, struct th_runs *runs,
                             const struct th_farms *farms, const struct th_quote_chain *chain,
                             struct th_quote *quote, struct th_error *err);

#endif
