/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/quote.h"

#include "turnheat/harm.h"

#include <stdlib.h>
#include <string.h>

/* Hours a season by which dripping may rise unseen. */
#define DRIP_MORE_H 2.0

/* The barn with some of the options. */
struct candidate {
    unsigned set;
    struct th_room room;
    struct th_trial trial;
    double drip_h[TH_SURFACES_MAX];                   /* of a season */
    double most_w;                                    /* what heaters must hold on the design day */
    struct th_hardship winters[TH_TRIAL_SEASONS_MAX]; /* of the trial's seasons */
};

/* The ranking in progress. */
struct ranking {
    const struct th_quote_in *in;
    struct th_quote *quote;
    struct candidate now; /* with the options taken so far */
    struct candidate bare;
    struct candidate tried[TH_QUOTE_OPTIONS_MAX]; /* from `now` on, by option */
    int n_steps;
    unsigned decided;
};

/* Builds the room of a candidate's set and asks for its winters. */
static enum th_code ask(const struct th_quote_in *in, struct th_runs *runs, struct candidate *c,
                        struct th_drip_asked *asked, struct th_error *err)
{
    struct th_sizing sizing;
    enum th_code code = in->build(in->context, c->set, &c->room, err);
    if (code == TH_OK)
        code = th_sizing_run(&c->room, in->out_99_c, &sizing, err);
    if (code != TH_OK)
        return code;
    c->most_w = sizing.most_w;
    return th_drip_ask(runs, &c->room, in->base, asked, err);
}

static enum th_code read_winters(const struct th_runs *runs, struct candidate *c,
                                 const struct th_drip_asked *asked, struct th_error *err)
{
    struct th_winters winters;
    struct th_drip drip;
    enum th_code code = th_drip_read(runs, asked, &drip, &winters, err);
    if (code == TH_OK)
        code = th_trial_of(&winters, c->room.name, &c->trial, err);
    for (int i = 0, n = 0; i < winters.n && code == TH_OK; i++)
        if (winters.seasons[i].counted)
            c->winters[n++] = th_hardship_of(&winters.seasons[i]);
    for (int i = 0; i < c->room.n_surfaces; i++)
        c->drip_h[i] = th_drip_season_h(&drip, i);
    th_winters_finish(&winters);
    return code;
}

/* Runs `n` candidates, of which `set` tells the options, in one list. */
static enum th_code try_sets(const struct th_quote_in *in, struct candidate **candidates, int n,
                             struct th_error *err)
{
    struct th_runs runs;
    struct th_drip_asked asked[TH_QUOTE_OPTIONS_MAX] = {{0}};
    enum th_code code = TH_OK;
    th_runs_init(&runs, in->runs->jobs, &in->runs->onlooker);
    for (int i = 0; i < n && code == TH_OK; i++)
        code = ask(in, &runs, candidates[i], &asked[i], err);
    if (code == TH_OK)
        code = th_runs_do(&runs, "the options", err);
    for (int i = 0; i < n && code == TH_OK; i++)
        code = read_winters(&runs, candidates[i], &asked[i], err);
    for (int i = 0; i < n; i++)
        th_drip_drop(&asked[i]);
    th_runs_finish(&runs);
    return code;
}

/* What a candidate costs to buy and to run. */
static struct th_outlay outlay_of(const struct th_quote_in *in, const struct candidate *c)
{
    const struct th_room *room = &c->room;
    struct th_outlay outlay = {
        .fuel_units_year = room->copies * th_trial_gas_j(&c->trial) / room->fuel.hhv_j,
        .electricity_usd_year =
            room->copies * c->trial.mean.sum[TH_ELECTRICITY] * room->money.electricity_j};
    for (int i = 0; i < in->n; i++)
        if (c->set & 1u << i)
            th_outlay_buy(&outlay, room->copies, &in->options[i], room->money.years);
    return outlay;
}

static enum th_code weigh(const struct th_quote_in *in, const struct candidate *before,
                          const struct candidate *after, struct th_quote_step *step,
                          struct th_error *err)
{
    const struct th_outlay old = outlay_of(in, before), new = outlay_of(in, after);
    const struct th_study study = th_study_of(in->base->room);
    step->saved_units = old.fuel_units_year - new.fuel_units_year;
    return th_payback_compare(&old, &new, &study, &step->payback, err);
}

static bool wetter(const struct candidate *before, const struct candidate *after)
{
    for (int i = 0; i < after->room.n_surfaces; i++)
        if (after->drip_h[i] >
            DRIP_MORE_H + (i < before->room.n_surfaces ? before->drip_h[i] : 0.0))
            return true;
    return false;
}

/* What speaks against going from one to the other, the money apart; TH_QUOTE_TAKEN: nothing. */
static enum th_quote_state harm(const struct candidate *before, const struct candidate *after)
{
    static const enum th_quote_state states[] = {[TH_HARM_NONE] = TH_QUOTE_TAKEN,
                                                 [TH_HARM_HEAT] = TH_QUOTE_HEAT,
                                                 [TH_HARM_AIR] = TH_QUOTE_SHORT_OF_AIR,
                                                 [TH_HARM_COLD] = TH_QUOTE_COLD};
    const int n = before->trial.n < after->trial.n ? before->trial.n : after->trial.n;
    if (th_heaters_fall_short(&before->room, before->most_w, &after->room, after->most_w))
        return TH_QUOTE_HEAT;
    const struct th_hardship added = th_hardship_added(before->winters, after->winters, n);
    const enum th_quote_state state = states[th_harm_of(&added)];
    return state == TH_QUOTE_TAKEN && wetter(before, after) ? TH_QUOTE_WET : state;
}

/* Bits of the options that cannot be had together with `option`. */
static unsigned rivals(const struct th_quote_in *in, int option)
{
    const char *const group = in->options[option].group;
    unsigned bits = 0;
    for (int i = 0; i < in->n; i++)
        if (i != option && group[0] && strcmp(in->options[i].group, group) == 0)
            bits |= 1u << i;
    return bits;
}

/* Runs the barn with each of the options `wanted`, each in place of its rivals, or, with
 * `without`, with each of them gone. */
static enum th_code try_each(struct ranking *r, unsigned wanted, bool without, struct th_error *err)
{
    struct candidate *candidates[TH_QUOTE_OPTIONS_MAX];
    int n = 0;
    for (int option = 0; option < r->in->n; option++) {
        const unsigned bit = 1u << option;
        if (!(wanted & bit))
            continue;
        candidates[n++] = &r->tried[option];
        r->tried[option].set =
            without ? r->quote->taken & ~bit : (r->quote->taken & ~rivals(r->in, option)) | bit;
    }
    return try_sets(r->in, candidates, n, err);
}

/* What an option that was tried comes to. */
static enum th_code judge(const struct ranking *r, int option, struct th_quote_step *step,
                          struct th_error *err)
{
    const struct candidate *const tried = &r->tried[option];
    *step = (struct th_quote_step){.option = option};
    const enum th_code code = weigh(r->in, &r->now, tried, step, err);
    if (code != TH_OK)
        return code;
    step->refused = th_change_refused(&r->now.room, &tried->room);
    step->state = step->refused ? TH_QUOTE_REFUSED : harm(&r->now, tried);
    if (step->state == TH_QUOTE_TAKEN && !(step->payback.net_usd > 0.0))
        step->state = TH_QUOTE_NO_PAY;
    return TH_OK;
}

/* Higher is better: what pays at once, then by SIR, then by net savings. */
static bool better(const struct th_quote_step *a, const struct th_quote_step *b)
{
    if ((a->state == TH_QUOTE_TAKEN) != (b->state == TH_QUOTE_TAKEN))
        return a->state == TH_QUOTE_TAKEN;
    const bool a_once = a->payback.sir.state == TH_MEASURE_BETTER_AT_ONCE;
    const bool b_once = b->payback.sir.state == TH_MEASURE_BETTER_AT_ONCE;
    if (a_once != b_once)
        return a_once;
    if (a->payback.sir.value != b->payback.sir.value)
        return a->payback.sir.value > b->payback.sir.value;
    return a->payback.net_usd > b->payback.net_usd;
}

static void mark(struct ranking *r, unsigned set, enum th_quote_state state)
{
    for (int i = 0; i < r->n_steps; i++)
        if (set & 1u << r->quote->steps[i].option)
            r->quote->steps[i].state = state;
}

/* Decides one option: the best of those left. */
static enum th_code decide_next(struct ranking *r, struct th_error *err)
{
    struct th_quote_step best = {0};
    bool any = false;
    enum th_code code = try_each(r, ~r->decided, false, err);
    for (int option = 0; option < r->in->n && code == TH_OK; option++) {
        struct th_quote_step step;
        if (r->decided & 1u << option)
            continue;
        code = judge(r, option, &step, err);
        if (code != TH_OK || (any && !better(&step, &best)))
            continue;
        any = true;
        best = step;
    }
    if (code != TH_OK)
        return code;
    r->decided |= 1u << best.option;
    if (best.state == TH_QUOTE_TAKEN) {
        mark(r, r->quote->taken & rivals(r->in, best.option), TH_QUOTE_REPLACED);
        r->now = r->tried[best.option];
        r->quote->taken = r->now.set;
    }
    r->quote->steps[r->n_steps++] = best;
    return TH_OK;
}

/* Drops the option whose going gains most, as long as it leaves the barn no worse than without
 * options; `*dropped` false: none gains. */
static enum th_code drop_one(struct ranking *r, bool *dropped, struct th_error *err)
{
    double most_usd = 0.0;
    int which = -1;
    enum th_code code = try_each(r, r->quote->taken, true, err);
    for (int i = 0; i < r->n_steps && code == TH_OK; i++) {
        struct th_quote_step gain;
        const int option = r->quote->steps[i].option;
        if (!(r->quote->taken & 1u << option))
            continue;
        code = weigh(r->in, &r->now, &r->tried[option], &gain, err);
        if (code != TH_OK || gain.payback.net_usd <= most_usd ||
            th_change_refused(&r->bare.room, &r->tried[option].room) ||
            harm(&r->bare, &r->tried[option]) != TH_QUOTE_TAKEN)
            continue;
        most_usd = gain.payback.net_usd;
        which = i;
    }
    *dropped = which >= 0;
    if (which < 0 || code != TH_OK)
        return code;
    struct th_quote_step *const step = &r->quote->steps[which];
    const struct candidate *const rest = &r->tried[step->option];
    code = weigh(r->in, rest, &r->now, step, err);
    step->state = TH_QUOTE_DROPPED;
    r->now = *rest;
    r->quote->taken = r->now.set;
    return code;
}

static enum th_code spread_of(const struct th_room *room, const struct th_trial *trial,
                              struct th_spread *spread, struct th_error *err)
{
    double units[TH_TRIAL_SEASONS_MAX];
    for (int i = 0; i < trial->n; i++)
        units[i] = room->copies * trial->gas_j[i] / room->fuel.hhv_j;
    return th_spread_of((size_t)trial->n, units, spread, err);
}

/* The barn as quoted: what it burns and costs, and its design day. */
static enum th_code describe(struct th_quote *quote, const struct th_quote_in *in,
                             struct th_error *err)
{
    const struct th_room *room = &quote->room;
    for (int i = 0; i < in->n; i++)
        if (quote->taken & 1u << i)
            quote->options_usd += room->copies * in->options[i].cost_usd;
    quote->installed_w = th_sizing_installed_w(room, NULL);
    quote->one_out_w = th_sizing_one_out_w(room);
    enum th_code code = th_sizing_run(room, in->out_99_c, &quote->sizing, err);
    if (code == TH_OK)
        code = spread_of(in->base->room, &quote->before, &quote->before_units, err);
    if (code == TH_OK)
        code = spread_of(in->base->room, &quote->after, &quote->after_units, err);
    return code;
}

static enum th_code check(const struct th_quote_in *in, struct th_error *err)
{
    if (!in->base->room->fuel.has_price)
        return th_fail(err, TH_ERR_INPUT,
                       "a quotation needs a fuel price: add `price = $…/gal` to [fuel] (natural "
                       "gas: `price_per_therm = $…/therm`)");
    if (in->n > TH_QUOTE_OPTIONS_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d options given; at most %d can be ranked", in->n,
                       TH_QUOTE_OPTIONS_MAX);
    return TH_OK;
}

enum th_code th_quote_run(const struct th_quote_in *in, struct th_quote *quote,
                          struct th_error *err)
{
    *quote = (struct th_quote){.n = in->n, .out_99_c = in->out_99_c};
    struct ranking *r = malloc(sizeof *r);
    bool dropped = true;
    if (!r)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = check(in, err);
    if (code == TH_OK) {
        *r = (struct ranking){.in = in, .quote = quote};
        struct candidate *const bare = &r->bare;
        code = try_sets(in, &(struct candidate *){bare}, 1, err);
        r->now = r->bare;
    }
    while (code == TH_OK && r->n_steps < in->n)
        code = decide_next(r, err);
    while (code == TH_OK && dropped)
        code = drop_one(r, &dropped, err);
    if (code == TH_OK) {
        quote->before = r->bare.trial;
        quote->room = r->now.room;
        quote->after = r->now.trial;
        code = describe(quote, in, err);
    }
    free(r);
    return code;
}
