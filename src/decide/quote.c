/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/quote.h"

/* Which surfaces drip on the design day; bit i is surface i. */
static enum th_code wet_surfaces(const struct th_room *room, double out_c, unsigned long *wet,
                                 struct th_error *err)
{
    struct th_inside_face faces[TH_SURFACES_MAX];
    struct th_sizing s;
    double dew_c;
    enum th_code code = th_sizing_run(room, out_c, &s, err);
    if (code == TH_OK)
        code = th_sizing_faces(room, &s, &dew_c, faces, err);
    *wet = 0;
    for (int i = 0; i < room->n_surfaces && code == TH_OK; i++)
        if (!faces[i].dry)
            *wet |= 1ul << i;
    return code;
}

/* What a room costs to run, with `option` newly bought (NULL: nothing bought). */
static struct th_outlay outlay_of(const struct th_room *room, const struct th_trial *trial,
                                  const struct th_purchase *option)
{
    struct th_outlay outlay = {
        .fuel_units_year = room->copies * th_trial_gas_j(trial) / room->fuel.hhv_j,
        .electricity_usd_year =
            room->copies * trial->mean.sum[TH_ELECTRICITY] * room->money.electricity_j};
    if (option)
        th_outlay_buy(&outlay, room->copies, option, room->money.years);
    return outlay;
}

/* The ranking in progress. */
struct ranking {
    const struct th_quote_in *in;
    struct th_quote *quote;
    struct th_trial now; /* with the options taken so far */
    struct th_room now_room;
    unsigned long now_wet;
    int n_steps;
    unsigned decided;
};

static enum th_code try_option(struct ranking *r, int option, struct th_quote_step *step,
                               struct th_room *room, struct th_trial *trial, struct th_error *err)
{
    const struct th_case *base = r->in->base;
    unsigned long wet;
    *step = (struct th_quote_step){.option = option};
    enum th_code code = r->in->build(r->in->context, r->quote->taken | 1u << option, room, err);
    if (code == TH_OK)
        code = th_trial_run(trial, room, base->climate, base->first_year, base->last_year, err);
    if (code == TH_OK)
        code = wet_surfaces(room, r->quote->out_99_c, &wet, err);
    if (code != TH_OK)
        return code;
    const struct th_outlay before = outlay_of(&r->now_room, &r->now, NULL);
    const struct th_outlay after = outlay_of(room, trial, &r->in->options[option]);
    const struct th_study study = th_study_of(base->room);
    step->saved_units = before.fuel_units_year - after.fuel_units_year;
    code = th_payback_compare(&before, &after, &study, &step->payback, err);
    step->state = step->payback.net_usd > 0.0 ? TH_QUOTE_TAKEN : TH_QUOTE_NO_PAY;
    if (wet & ~r->now_wet)
        step->state = TH_QUOTE_WET;
    if (room->air.minimum_share < r->now_room.air.minimum_share)
        step->state = TH_QUOTE_AIR;
    return code;
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

/* Decides one option: the best of those left. */
static enum th_code decide_next(struct ranking *r, struct th_error *err)
{
    struct th_quote_step best = {0};
    struct th_room best_room = {0};
    struct th_trial best_trial = {0};
    bool any = false;
    for (int option = 0; option < r->quote->n; option++) {
        struct th_quote_step step;
        struct th_room room;
        struct th_trial trial;
        if (r->decided & 1u << option)
            continue;
        const enum th_code code = try_option(r, option, &step, &room, &trial, err);
        if (code != TH_OK)
            return code;
        if (any && !better(&step, &best))
            continue;
        any = true;
        best = step;
        best_room = room;
        best_trial = trial;
    }
    r->quote->steps[r->n_steps++] = best;
    r->decided |= 1u << best.option;
    if (best.state != TH_QUOTE_TAKEN)
        return TH_OK;
    r->quote->taken |= 1u << best.option;
    r->now_room = best_room;
    r->now = best_trial;
    return wet_surfaces(&r->now_room, r->quote->out_99_c, &r->now_wet, err);
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
    const struct th_case *base = in->base;
    *quote = (struct th_quote){.n = in->n, .out_99_c = in->out_99_c};
    struct ranking r = {.in = in, .quote = quote, .now_room = *base->room};
    enum th_code code = check(in, err);
    if (code == TH_OK)
        code =
            th_trial_run(&r.now, base->room, base->climate, base->first_year, base->last_year, err);
    quote->before = r.now;
    if (code == TH_OK)
        code = wet_surfaces(base->room, in->out_99_c, &r.now_wet, err);
    while (code == TH_OK && r.n_steps < in->n)
        code = decide_next(&r, err);
    if (code != TH_OK)
        return code;
    quote->room = r.now_room;
    quote->after = r.now;
    return describe(quote, in, err);
}
