/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ranking options by marginal savings-to-investment ratio. */
#include "quote_report.h"

#include "turnheat/study.h"
#include "turnheat/envelope.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"

#include <math.h>

/* Which surfaces drip on the design day; bit i is surface i. */
static enum th_code wet_surfaces(const struct th_room *room, double out_c, unsigned long *wet,
                                 struct th_error *err)
{
    struct th_sizing s;
    double dew_c;
    enum th_code code = th_sizing_run(room, out_c, &s, err);
    if (code == TH_OK)
        code =
            th_psy_dew_point(s.room_w_kg_kg, th_psy_pressure(room->site.elevation_m), &dew_c, err);
    *wet = 0;
    for (int i = 0; i < room->n_surfaces && code == TH_OK; i++) {
        const struct th_surface *surface = &room->surfaces[i];
        const double film =
            surface->kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
        if (th_envelope_inside_surface_c(s.room_c, out_c, surface->r_m2k_w, film) <= dew_c)
            *wet |= 1ul << i;
    }
    return code;
}

/* What a room costs to run, with `option` newly bought (NULL: nothing bought). */
static struct th_outlay outlay_of(const struct th_room *room, const struct th_trial *trial,
                                  const struct th_quote_option *option)
{
    struct th_outlay outlay = {
        .fuel_units_year = room->copies * th_trial_gas_j(trial) / room->fuel.hhv_j,
        .electricity_usd_year =
            room->copies * trial->mean.sum[TH_ELECTRICITY] * room->money.electricity_j};
    if (option)
        th_outlay_buy(&outlay, room->copies, option->cost_usd, option->life_years,
                      option->upkeep_usd_year, option->residual_share, room->money.years);
    return outlay;
}

/* The ranking in progress. */
struct ranking {
    struct th_quote *quote;
    const struct th_quote_builder *builder;
    struct th_trial now; /* with the options taken so far */
    struct th_room now_room;
    unsigned long now_wet;
    int n_steps;
    unsigned decided;
};

static enum th_code try_option(struct ranking *r, int option, struct th_quote_step *step,
                               struct th_room *room, struct th_trial *trial, struct th_error *err)
{
    const struct th_case *base = r->quote->base;
    const struct th_quote_option *o = &r->quote->options[option];
    unsigned long wet;
    *step = (struct th_quote_step){.option = option};
    enum th_code code =
        r->builder->build(r->builder->context, r->quote->taken | 1u << option, room, err);
    if (code == TH_OK)
        code = th_trial_run(trial, room, base->climate, base->first_year, base->last_year, err);
    if (code == TH_OK)
        code = wet_surfaces(room, r->quote->out_99_c, &wet, err);
    if (code != TH_OK)
        return code;
    const struct th_outlay before = outlay_of(&r->now_room, &r->now, NULL);
    const struct th_outlay after = outlay_of(room, trial, o);
    const struct th_study study = th_study_of(base->room);
    step->gas_units = after.fuel_units_year;
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

enum th_code th_quote_run(struct th_quote *quote, const struct th_case *base,
                          const struct th_quote_option *options, int n,
                          const struct th_quote_builder *builder, double out_99_c,
                          struct th_error *err)
{
    *quote = (struct th_quote){.base = base, .options = options, .n = n, .out_99_c = out_99_c};
    if (!base->room->fuel.has_price)
        return th_fail(err, TH_ERR_INPUT,
                       "a quotation needs a fuel price: add `price = $…/gal` to [fuel] (natural "
                       "gas: `price_per_therm = $…/therm`)");
    if (n > TH_QUOTE_OPTIONS_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d options given; at most %d can be ranked", n,
                       TH_QUOTE_OPTIONS_MAX);
    struct ranking r = {.quote = quote, .builder = builder, .now_room = *base->room};
    enum th_code code =
        th_trial_run(&r.now, base->room, base->climate, base->first_year, base->last_year, err);
    quote->before = r.now;
    if (code == TH_OK)
        code = wet_surfaces(base->room, out_99_c, &r.now_wet, err);
    while (code == TH_OK && r.n_steps < n)
        code = decide_next(&r, err);
    quote->room = r.now_room;
    quote->after = r.now;
    return code;
}
