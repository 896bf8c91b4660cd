/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote_parts.h"

#include "turnheat/costs.h"

#include <math.h>
#include <string.h>

/* How far what is seen at a glance may miss a change of gas: of all the gas, and of the change.
 * About twice the most that was found (tests/test_short_ways.c). */
#define GLANCE_OF_GAS 0.003
#define GLANCE_OF_CHANGE 0.05

double th_quote_shift_k(const struct th_quote_tries *tries, unsigned set)
{
    double sum_k = 0.0;
    for (int i = 0; i < tries->in->n; i++)
        sum_k += set & 1u << i ? tries->shift_k[i] : 0.0;
    return sum_k;
}

enum th_code th_quote_build(const struct th_quote_tries *tries, unsigned set, struct th_room *room,
                            struct th_error *err)
{
    const enum th_code code = tries->in->build(tries->in->context, set, room, err);
    if (code == TH_OK)
        th_room_shift_offsets(room, th_quote_shift_k(tries, set));
    return code;
}

/* Builds the room of a candidate's set and asks for its winters. */
static enum th_code ask(struct th_quote_tries *tries, struct th_candidate *c,
                        struct th_drip_asked *asked, struct th_error *err)
{
    struct th_sizing sizing;
    enum th_code code = th_quote_build(tries, c->set, &c->room, err);
    if (code == TH_OK)
        code = th_sizing_run(&c->room, tries->in->out_99_c, &sizing, err);
    if (code != TH_OK)
        return code;
    c->most_w = sizing.most_w;
    return th_drip_ask(&tries->runs, &c->room, tries->in->base, asked, err);
}

static enum th_code read_winters(const struct th_runs *runs, struct th_candidate *c,
                                 const struct th_drip_asked *asked, struct th_error *err)
{
    struct th_winters winters;
    struct th_drip drip;
    enum th_code code = th_drip_read(runs, asked, &drip, &winters, err);
    if (code == TH_OK)
        code = th_trial_of(&winters, c->room.name, &c->trial, err);
    for (int i = 0; i < c->room.n_surfaces; i++)
        c->drip_h[i] = th_drip_season_h(&drip, i);
    th_winters_finish(&winters);
    if (code != TH_OK)
        return code;
    c->whole = true;
    c->gas_j = th_trial_gas_j(&c->trial);
    c->electricity_j = c->trial.mean.sum[TH_ELECTRICITY];
    return TH_OK;
}

enum th_code th_quote_try(struct th_quote_tries *tries, struct th_candidate **candidates, int n,
                          struct th_error *err)
{
    struct th_drip_asked asked[TH_QUOTE_OPTIONS_MAX] = {{0}};
    enum th_code code = TH_OK;
    for (int i = 0; i < n && code == TH_OK; i++)
        code = ask(tries, candidates[i], &asked[i], err);
    if (code == TH_OK)
        code = th_runs_do(&tries->runs, "the options", err);
    for (int i = 0; i < n && code == TH_OK; i++)
        code = read_winters(&tries->runs, candidates[i], &asked[i], err);
    for (int i = 0; i < n; i++)
        th_drip_drop(&asked[i]);
    return code;
}

static int ask_roughly(struct th_quote_tries *tries, const struct th_room *room)
{
    const struct th_case *const base = tries->in->base;
    struct th_room rough = *room;
    th_room_roughly(&rough);
    return th_runs_add(&tries->runs, &rough, base->climate, base->first_year, base->last_year);
}

/* The least that `whole` may become when the same, run roughly, goes from one sum to the other. */
static double least(double whole, double roughly, double other)
{
    const double change = roughly > 0.0 ? whole * (other / roughly - 1.0) : other - roughly;
    return fmax(whole + change - GLANCE_OF_GAS * whole - GLANCE_OF_CHANGE * fabs(change), 0.0);
}

static enum th_code look_at(struct th_quote_tries *tries, const struct th_candidate *now,
                            const struct th_trial *roughly, int request, struct th_candidate *c,
                            struct th_error *err)
{
    struct th_trial other;
    const enum th_code code = th_runs_trial(&tries->runs, request, &other, err);
    if (code != TH_OK)
        return code;
    c->gas_j = least(now->gas_j, th_trial_gas_j(roughly), th_trial_gas_j(&other));
    c->electricity_j = least(now->electricity_j, roughly->mean.sum[TH_ELECTRICITY],
                             other.mean.sum[TH_ELECTRICITY]);
    return TH_OK;
}

enum th_code th_quote_glance(struct th_quote_tries *tries, const struct th_candidate *now,
                             struct th_candidate **candidates, int n, struct th_error *err)
{
    int requests[TH_QUOTE_OPTIONS_MAX];
    struct th_trial roughly;
    enum th_code code = TH_OK;
    if (now->trial.n <= TH_COST_WHOLE_WINTERS)
        return th_quote_try(tries, candidates, n, err);
    const int as_now = ask_roughly(tries, &now->room);
    for (int i = 0; i < n && code == TH_OK; i++) {
        candidates[i]->whole = false;
        code = th_quote_build(tries, candidates[i]->set, &candidates[i]->room, err);
        if (code == TH_OK)
            requests[i] = ask_roughly(tries, &candidates[i]->room);
    }
    if (code == TH_OK)
        code = th_runs_do(&tries->runs, "the options at a glance", err);
    if (code == TH_OK)
        code = th_runs_trial(&tries->runs, as_now, &roughly, err);
    for (int i = 0; i < n && code == TH_OK; i++)
        code = look_at(tries, now, &roughly, requests[i], candidates[i], err);
    return code;
}
