/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/quote.h"

#include "quote_parts.h"
#include "turnheat/harm.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Hours a season by which dripping may rise unseen. */
#define DRIP_MORE_H 2.0

/* The ranking in progress. */
struct ranking {
    const struct th_quote_in *in;
    struct th_quote *quote;
    struct th_quote_tries tries;
    struct th_candidate now; /* with the options taken so far */
    struct th_candidate bare;
    struct th_candidate tried[TH_QUOTE_OPTIONS_MAX]; /* from `now` on, by option */
    struct th_quote_step judged[TH_QUOTE_OPTIONS_MAX];
    const struct th_farms *farms; /* NULL: not made yet, or none are wanted */
    int n_steps;
    unsigned decided;
    struct th_quote_chain chain;
};

/* The farms that the barn may be, made when they are first asked for. */
static enum th_code make_farms(struct ranking *r, struct th_error *err)
{
    const struct th_quote_in *const in = r->in;
    if (r->farms || !in->farms)
        return TH_OK;
    r->farms = in->farms;
    return th_farms_init(in->farms, &r->tries.runs, in->base, 1, 0, in->n_records, in->records,
                         err);
}

static enum th_code weigh(const struct th_quote_in *in, const struct th_candidate *before,
                          const struct th_candidate *after, struct th_quote_step *step,
                          struct th_error *err)
{
    const struct th_outlay old = th_quote_outlay(in, before);
    const struct th_study study = th_study_of(in->base->room);
    struct th_outlay new = th_quote_outlay(in, after);
    struct th_return scrapped = {0};
    step->saved_units = old.fuel_units_year - new.fuel_units_year;
    enum th_code code = th_payback_compare(&old, &new, &study, &step->payback, err);
    new.residual_usd = old.residual_usd;
    if (code == TH_OK)
        code = th_payback_compare(&old, &new, &study, &scrapped, err);
    step->scrapped_usd = scrapped.net_usd;
    return code;
}

static bool wetter(const struct th_candidate *before, const struct th_candidate *after)
{
    for (int i = 0; i < after->room.n_surfaces; i++)
        if (after->drip_h[i] >
            DRIP_MORE_H + (i < before->room.n_surfaces ? before->drip_h[i] : 0.0))
            return true;
    return false;
}

static const enum th_quote_state harms[] = {[TH_HARM_NONE] = TH_QUOTE_TAKEN,
                                            [TH_HARM_HEAT] = TH_QUOTE_HEAT,
                                            [TH_HARM_AIR] = TH_QUOTE_SHORT_OF_AIR,
                                            [TH_HARM_COLD] = TH_QUOTE_COLD};

/* What speaks against going from one to the other, the money apart; TH_QUOTE_TAKEN: nothing. */
static enum th_quote_state harm(const struct th_candidate *before, const struct th_candidate *after,
                                struct th_quote_step *step)
{
    const int n = before->trial.n < after->trial.n ? before->trial.n : after->trial.n;
    step->falls_short =
        th_heaters_fall_short(&before->room, before->most_w, &after->room, after->most_w);
    const enum th_quote_state state =
        harms[th_harm_between(before->trial.hardship, after->trial.hardship, n, &step->added)];
    if (step->falls_short)
        return TH_QUOTE_HEAT;
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

/* Looks at the barn with each of the options `wanted`, each in place of its rivals, or, with
 * `without`, with each of them gone. */
static enum th_code try_each(struct ranking *r, unsigned wanted, bool without, struct th_error *err)
{
    struct th_candidate *candidates[TH_QUOTE_OPTIONS_MAX];
    int n = 0;
    for (int option = 0; option < r->in->n; option++) {
        const unsigned bit = 1u << option;
        if (!(wanted & bit))
            continue;
        candidates[n++] = &r->tried[option];
        r->tried[option].set =
            without ? r->quote->taken & ~bit : (r->quote->taken & ~rivals(r->in, option)) | bit;
    }
    return th_quote_glance(&r->tries, &r->now, candidates, n, err);
}

/* What an option that was tried comes to, as it is set; seen at a glance, what it may come to. */
static enum th_code judge(const struct ranking *r, int option, struct th_quote_step *step,
                          struct th_error *err)
{
    const struct th_candidate *const tried = &r->tried[option];
    const char *const refused = th_change_refused(&r->now.room, &tried->room);
    *step = (struct th_quote_step){.option = option};
    snprintf(step->refused, sizeof step->refused, "%s", refused ? refused : "");
    step->other_fuel = tried->room.fuel.gas != r->now.room.fuel.gas ||
                       tried->room.fuel.price != r->now.room.fuel.price;
    step->state = refused        ? TH_QUOTE_REFUSED
                  : tried->whole ? harm(&r->now, tried, step)
                                 : TH_QUOTE_TAKEN;
    const enum th_code code = weigh(r->in, &r->now, tried, step, err);
    const double now_units = th_quote_outlay(r->in, &r->now).fuel_units_year;
    if (step->state != TH_QUOTE_TAKEN)
        return code;
    if ((tried->whole || step->saved_units >= 0.0) &&
        th_no_difference(now_units, step->saved_units, step->payback.net_usd))
        step->state = TH_QUOTE_NO_DIFFERENCE;
    else if (!(step->payback.net_usd > 0.0))
        step->state = TH_QUOTE_NO_PAY;
    return code;
}

/* The verdict of a comparison with the barn that lacks the option, and what it rests on. */
static void conclude(const struct th_comparison *c, struct th_quote_step *step)
{
    static const enum th_quote_state states[] = {
        [TH_VERDICT_NOT_COMPARABLE] = TH_QUOTE_REFUSED,
        [TH_VERDICT_SHORT_OF_HEAT] = TH_QUOTE_HEAT,
        [TH_VERDICT_SHORT_OF_AIR] = TH_QUOTE_SHORT_OF_AIR,
        [TH_VERDICT_COLDER] = TH_QUOTE_COLD,
        [TH_VERDICT_NO_DIFFERENCE] = TH_QUOTE_NO_DIFFERENCE,
        [TH_VERDICT_SETTINGS_FIRST] = TH_QUOTE_SETTINGS_FIRST,
        [TH_VERDICT_DEPENDS] = TH_QUOTE_DEPENDS,
        [TH_VERDICT_YES] = TH_QUOTE_TAKEN,
        [TH_VERDICT_NO] = TH_QUOTE_NO_PAY};
    const struct th_choice_result *const result = &c->results[1];
    const struct th_choice_money *const money = &c->money[0];
    step->state = states[money->verdict];
    if (step->state == TH_QUOTE_DEPENDS && money->today.net.low_usd > 0.0 &&
        (!c->free.found || money->settings.net.low_usd > 0.0))
        step->state = TH_QUOTE_TAKEN;
    memcpy(step->refused, result->refused, sizeof step->refused);
    step->weighed = !result->refused[0];
    step->added = result->added;
    step->falls_short = result->falls_short;
    step->judged_by = result->judged_by;
    step->shift_k = th_judged_shift_k(result);
    step->today = money->today.net;
    step->chance = money->today.chance;
    step->has_settings = c->free.found;
    step->settings = money->settings.net;
}

/* Compares the barn with an option against the same barn without it and its rivals. */
static enum th_code compare(struct ranking *r, int option, struct th_quote_step *step,
                            struct th_error *err)
{
    const unsigned set = r->tried[option].set;
    struct {
        struct th_room without;
        struct th_choice choice;
        struct th_comparison comparison;
    } *const w = malloc(sizeof *w);
    if (!w)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    struct th_case base = *r->in->base;
    base.room = &w->without;
    w->choice.buy = r->in->options[option];
    r->tries.shift_k[option] = 0.0;
    enum th_code code = make_farms(r, err);
    if (code == TH_OK)
        code = th_quote_build(&r->tries, set & ~(1u << option), &w->without, err);
    if (code == TH_OK)
        code = th_quote_build(&r->tries, set, &w->choice.room, err);
    if (code == TH_OK)
        code = th_comparison_weigh(&w->comparison, &r->tries.runs, &base, &w->choice, 1,
                                   r->in->out_99_c, r->farms, err);
    if (code == TH_OK)
        conclude(&w->comparison, step);
    free(w);
    return code;
}

/* What an option that changes the heating comes to with the room as warm as without it. */
static enum th_code weigh_heating(struct ranking *r, int option, struct th_error *err)
{
    struct th_candidate *const tried = &r->tried[option];
    struct th_quote_step *const step = &r->judged[option];
    enum th_code code = compare(r, option, step, err);
    if (code != TH_OK || step->state == TH_QUOTE_REFUSED)
        return code;
    r->tries.shift_k[option] = step->shift_k;
    code = th_quote_try(&r->tries, &(struct th_candidate *){tried}, 1, err);
    if (code == TH_OK)
        code = weigh(r->in, &r->now, tried, step, err);
    if (step->state != TH_QUOTE_TAKEN)
        return code;
    if (wetter(&r->now, tried))
        step->state = TH_QUOTE_WET;
    else if (!(step->payback.net_usd > 0.0))
        step->state = TH_QUOTE_NO_PAY; /* its rival does better */
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

static void mark(struct ranking *r, unsigned set, enum th_quote_state state)
{
    for (int i = 0; i < r->n_steps; i++)
        if (set & 1u << r->quote->steps[i].option)
            r->quote->steps[i].state = state;
}

/* Whether an option is still to be weighed at the same warmth. */
static bool unweighed(const struct ranking *r, int option)
{
    const struct th_quote_step *const step = &r->judged[option];
    return !(r->decided & 1u << option) && !step->weighed && step->state != TH_QUOTE_REFUSED &&
           th_change_of_heating(&r->now.room, &r->tried[option].room);
}

/* The best of those left; before none is taken, all that change the heating must be weighed. */
static int best_left(const struct ranking *r)
{
    int best = 0;
    while (r->decided & 1u << best)
        best++;
    for (int i = best + 1; i < r->in->n; i++)
        if (!(r->decided & 1u << i) && better(&r->judged[i], &r->judged[best]))
            best = i;
    for (int i = 0; i < r->in->n && r->judged[best].state != TH_QUOTE_TAKEN; i++)
        if (unweighed(r, i))
            return i;
    return best;
}

/* Tries all that are left on top of those taken. */
static enum th_code judge_all(struct ranking *r, struct th_error *err)
{
    enum th_code code = try_each(r, ~r->decided, false, err);
    for (int i = 0; i < r->in->n && code == TH_OK; i++)
        if (!(r->decided & 1u << i))
            code = judge(r, i, &r->judged[i], err);
    return code;
}

/* Whether nothing but money speaks against it. */
static bool is_of_money(enum th_quote_state state)
{
    return state == TH_QUOTE_NO_PAY || state == TH_QUOTE_NO_DIFFERENCE ||
           state == TH_QUOTE_SETTINGS_FIRST || state == TH_QUOTE_DEPENDS;
}

/* Whether an option that was seen at a glance only must be run over all winters before it is
 * decided: it may join, or its figures are told. */
static bool unsure(const struct ranking *r, int option)
{
    const enum th_quote_state state = r->judged[option].state;
    return !(r->decided & 1u << option) && !r->tried[option].whole &&
           (r->in->builder || state == TH_QUOTE_TAKEN || (r->in->as_offered && is_of_money(state)));
}

/* Makes sure of an option that may join, or, where none may, of all that are left. */
static enum th_code make_sure(struct ranking *r, int best, struct th_error *err)
{
    const bool all = r->judged[best].state != TH_QUOTE_TAKEN;
    struct th_candidate *candidates[TH_QUOTE_OPTIONS_MAX];
    int options[TH_QUOTE_OPTIONS_MAX], n = 0;
    for (int i = 0; i < r->in->n; i++)
        if (i == best || (all && unsure(r, i))) {
            candidates[n] = &r->tried[i];
            options[n++] = i;
        }
    enum th_code code = th_quote_try(&r->tries, candidates, n, err);
    for (int i = 0; i < n && code == TH_OK; i++)
        code = judge(r, options[i], &r->judged[options[i]], err);
    return code;
}

/* What is told of an option that is decided. */
static struct th_quote_step decided(const struct ranking *r, int option)
{
    const struct th_quote_step *const step = &r->judged[option];
    struct th_quote_step told = {.option = option, .state = step->state};
    memcpy(told.refused, step->refused, sizeof told.refused);
    return r->tried[option].whole ? *step : told;
}

/* Decides one option. */
static enum th_code decide_next(struct ranking *r, struct th_error *err)
{
    enum th_code code = TH_OK;
    int best = best_left(r);
    for (; code == TH_OK && (unsure(r, best) || unweighed(r, best)); best = best_left(r))
        code = unsure(r, best) ? make_sure(r, best, err) : weigh_heating(r, best, err);
    if (code != TH_OK)
        return code;
    if (r->in->as_offered && is_of_money(r->judged[best].state))
        r->judged[best].state = TH_QUOTE_TAKEN;
    r->decided |= 1u << best;
    r->quote->steps[r->n_steps++] = decided(r, best);
    if (r->judged[best].state != TH_QUOTE_TAKEN)
        return TH_OK;
    mark(r, r->quote->taken & rivals(r->in, best), TH_QUOTE_REPLACED);
    r->now = r->tried[best];
    th_quote_chain_add(&r->chain, &r->now, r->n_steps - 1);
    r->quote->taken = r->now.set;
    return judge_all(r, err);
}

/* What is saved as option `option` goes; what may be saved, unless it is more than `most_usd`. */
static enum th_code weigh_going(struct ranking *r, int option, double most_usd,
                                struct th_quote_step *gain, struct th_error *err)
{
    struct th_candidate *const rest = &r->tried[option];
    enum th_code code = weigh(r->in, &r->now, rest, gain, err);
    if (code != TH_OK || rest->whole || gain->payback.net_usd <= most_usd)
        return code;
    const struct th_candidate *const known = th_quote_chain_find(&r->chain, rest);
    if (known)
        *rest = *known;
    else
        code = th_quote_try(&r->tries, &(struct th_candidate *){rest}, 1, err);
    return code == TH_OK ? weigh(r->in, &r->now, rest, gain, err) : code;
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
        code = weigh_going(r, option, most_usd, &gain, err);
        if (code != TH_OK || gain.payback.net_usd <= most_usd ||
            th_change_refused(&r->bare.room, &r->tried[option].room) ||
            harm(&r->bare, &r->tried[option], &gain) != TH_QUOTE_TAKEN)
            continue;
        most_usd = gain.payback.net_usd;
        which = i;
    }
    *dropped = which >= 0;
    if (which < 0 || code != TH_OK)
        return code;
    struct th_quote_step *const step = &r->quote->steps[which];
    const struct th_candidate *const rest = &r->tried[step->option];
    code = weigh(r->in, rest, &r->now, step, err);
    step->state = TH_QUOTE_DROPPED;
    r->now = *rest;
    r->quote->taken = r->now.set;
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

/* Ranks and drops. */
static enum th_code rank(struct ranking *r, struct th_error *err)
{
    bool dropped = !r->in->as_offered;
    enum th_code code = th_quote_try(&r->tries, &(struct th_candidate *){&r->bare}, 1, err);
    r->now = r->bare;
    th_quote_chain_add(&r->chain, &r->bare, -1);
    if (code == TH_OK && (r->in->builder || r->in->n_records > 0 || r->bare.room.fitted.given))
        code = make_farms(r, err);
    if (code == TH_OK)
        code = judge_all(r, err);
    while (code == TH_OK && r->n_steps < r->in->n)
        code = decide_next(r, err);
    while (code == TH_OK && dropped)
        code = drop_one(r, &dropped, err);
    th_quote_chain_add(&r->chain, &r->now, -1);
    return code == TH_OK ? th_quote_ranges(r->in, &r->tries.runs, r->in->builder ? r->farms : NULL,
                                           &r->chain, r->quote, err)
                         : code;
}

enum th_code th_quote_run(const struct th_quote_in *in, struct th_quote *quote,
                          struct th_error *err)
{
    *quote = (struct th_quote){.n = in->n, .out_99_c = in->out_99_c};
    struct ranking *r = calloc(1, sizeof *r);
    if (!r)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    r->in = in;
    r->quote = quote;
    r->tries.in = in;
    th_runs_init(&r->tries.runs, in->runs->jobs, &in->runs->onlooker);
    enum th_code code = check(in, err);
    if (code == TH_OK)
        code = rank(r, err);
    if (code == TH_OK) {
        quote->shift_k = th_quote_shift_k(&r->tries, quote->taken);
        code = th_quote_describe(quote, in, &r->bare, &r->now, err);
    }
    th_runs_finish(&r->tries.runs);
    th_quote_chain_finish(&r->chain);
    free(r);
    return code;
}
