/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Barns with some of the options, and what options come to over the farms. */
#ifndef TURNHEAT_QUOTE_PARTS_H
#define TURNHEAT_QUOTE_PARTS_H

#include "turnheat/quote.h"

/** The barn with some of the options. */
struct th_candidate {
    unsigned set;
    struct th_room room;
    struct th_trial trial;
    double drip_h[TH_SURFACES_MAX]; /**< of a season */
    double most_w;                  /**< what heaters must hold on the design day */
};

/** What it costs to buy and to run. */
struct th_outlay th_quote_outlay(const struct th_quote_in *in, const struct th_candidate *c);

/** The barn without options, after each one that was taken, and as quoted. */
struct th_quote_chain {
    bool out_of_memory;
    int n;
    int step[TH_QUOTE_OPTIONS_MAX + 2]; /**< that led there; -1 at both ends */
    struct th_candidate *links[TH_QUOTE_OPTIONS_MAX + 2];
};

/** Keeps a copy; what is short of memory is told by th_quote_ranges(). */
void th_quote_chain_add(struct th_quote_chain *chain, const struct th_candidate *link, int step);
void th_quote_chain_finish(struct th_quote_chain *chain);

/**
 * Net savings over the farms of every step that was taken and not weighed, beside what was taken
 * before it, and of all together. Nothing without `in->farms`. Errors as th_beside_init(),
 * th_payback_compare().
 */
enum th_code th_quote_ranges(const struct th_quote_in *in, struct th_runs *runs,
                             const struct th_quote_chain *chain, struct th_quote *quote,
                             struct th_error *err);

#endif
