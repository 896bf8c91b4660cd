/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict.h"

#include "as_warm.h"
#include <math.h>

static const double price_factors[TH_FLIP_PRICES] = {0.6, 0.8, 1.0, 1.3, 1.7};
static const double leak_factors[TH_FLIP_LEAKS] = {0.25, 0.5, 1.0, 2.0};

#define NO_DIFFERENCE_SHARE 0.01
#define NO_DIFFERENCE_USD 50.0

/* The price curve runs from half of today's price in steps of this. */
#define CURVE_STEP 0.1875

static double electricity_usd(const struct th_comparison *c, const struct th_trial *trial)
{
    const struct th_room *room = c->base->room;
    return room->copies * trial->mean.sum[TH_ELECTRICITY] * room->money.electricity_j;
}

static struct th_outlay running(const struct th_comparison *c, const struct th_trial *trial,
                                double scale)
{
    return (struct th_outlay){.fuel_units_year = scale * th_comparison_units(c, trial),
                              .electricity_usd_year = scale * electricity_usd(c, trial)};
}

/* What is spent against a choice, and with it; all copies. */
struct outlays {
    struct th_outlay against, choice;
};

/* Of choice `i` with its gas as judged, against `against`, which costs nothing now. */
static struct outlays outlays_of(const struct th_comparison *c, int i,
                                 const struct th_trial *against)
{
    const struct th_room *room = c->base->room;
    const struct th_trial *judged = th_judged(&c->results[i + 1]);
    struct outlays o = {running(c, against, 1.0), running(c, judged, 1.0)};
    o.choice.fuel_units_year = th_comparison_choice_units(c, i, judged);
    th_outlay_buy(&o.choice, room->copies, &c->choices[i].buy, room->money.years);
    return o;
}

static enum th_code chance_of(const struct th_comparison *c, int i, const struct th_trial *against,
                              const struct outlays *o, double *chance, struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    const struct th_trial *judged = th_judged(&c->results[i + 1]);
    const double to_units = c->base->room->copies / c->base->room->fuel.hhv_j;
    double base_units[TH_TRIAL_SEASONS_MAX], choice_units[TH_TRIAL_SEASONS_MAX];
    double prices[TH_FLIP_PRICES];
    const double mean_j = th_trial_gas_j(judged);
    const double each_j =
        mean_j > 0.0 ? th_comparison_choice_units(c, i, judged) / mean_j : to_units;
    for (int k = 0; k < judged->n; k++) {
        base_units[k] = to_units * against->gas_j[k];
        choice_units[k] = each_j * judged->gas_j[k];
    }
    for (int k = 0; k < TH_FLIP_PRICES; k++)
        prices[k] = price_factors[k] * study.price_usd_unit;
    return th_payback_chance(&o->against, &o->choice, &study, (size_t)judged->n, base_units,
                             choice_units, TH_FLIP_PRICES, prices, chance, err);
}

/* Over the response cases; what it is compared with changes with the response as well. */
static enum th_code net_of(const struct th_comparison *c, int i,
                           const struct th_choice_result *against, const struct outlays *o,
                           struct th_net *net, struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    const double *saved_j = c->results[i + 1].saved_j, *other_j = against->saved_j;
    const double to_units = c->base->room->copies / c->base->room->fuel.hhv_j;
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        const double more_j = (saved_j[r] - other_j[r]) - (saved_j[0] - other_j[0]);
        struct th_outlay choice = o->choice;
        struct th_return result;
        choice.fuel_units_year = fmax(choice.fuel_units_year - to_units * more_j, 0.0);
        const enum th_code code = th_payback_compare(&o->against, &choice, &study, &result, err);
        if (code != TH_OK)
            return code;
        net->usd = r == 0 ? result.net_usd : net->usd;
        net->low_usd = r == 0 ? result.net_usd : fmin(net->low_usd, result.net_usd);
        net->high_usd = r == 0 ? result.net_usd : fmax(net->high_usd, result.net_usd);
    }
    return TH_OK;
}

static enum th_code return_of(const struct th_comparison *c, int i,
                              const struct th_choice_result *against,
                              struct th_choice_return *result, struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    const struct outlays o = outlays_of(c, i, th_judged(against));
    enum th_code code = th_payback_compare(&o.against, &o.choice, &study, &result->payback, err);
    if (code == TH_OK)
        code = chance_of(c, i, th_judged(against), &o, &result->chance, err);
    if (code == TH_OK)
        code = net_of(c, i, against, &o, &result->net, err);
    struct th_outlay scrapped = o.choice;
    struct th_return without = {0};
    scrapped.residual_usd = 0.0;
    if (code == TH_OK)
        code = th_payback_compare(&o.against, &scrapped, &study, &without, err);
    result->scrapped_usd = without.net_usd;
    return code;
}

/* Whether the sign rests on the response, or on what is left of its worth after the study. */
static bool flips(const struct th_choice_return *r)
{
    return (r->net.low_usd > 0.0) != (r->net.high_usd > 0.0) ||
           (r->net.usd > 0.0) != (r->scrapped_usd > 0.0);
}

const char *th_verdict_word(enum th_verdict verdict)
{
    static const char *const words[] = {[TH_VERDICT_NOT_COMPARABLE] = "not_comparable",
                                        [TH_VERDICT_SHORT_OF_HEAT] = "short_of_heat",
                                        [TH_VERDICT_SHORT_OF_AIR] = "short_of_air",
                                        [TH_VERDICT_COLDER] = "colder",
                                        [TH_VERDICT_NO_DIFFERENCE] = "no_difference",
                                        [TH_VERDICT_SETTINGS_FIRST] = "settings_first",
                                        [TH_VERDICT_DEPENDS] = "depends",
                                        [TH_VERDICT_YES] = "yes",
                                        [TH_VERDICT_NO] = "no"};
    return words[verdict];
}

bool th_verdict_harmless(enum th_verdict verdict)
{
    return verdict > TH_VERDICT_COLDER;
}

bool th_no_difference(double now_units, double saved_units, double net_usd)
{
    return fabs(saved_units) < NO_DIFFERENCE_SHARE * now_units || fabs(net_usd) < NO_DIFFERENCE_USD;
}

static bool no_difference(const struct th_comparison *c, int i, const struct th_net *today)
{
    const double now = th_comparison_units(c, &c->results[0].trial);
    const double then = th_comparison_choice_units(c, i, th_judged(&c->results[i + 1]));
    return th_no_difference(now, now - then, today->usd);
}

enum th_verdict th_verdict_on_pigs(const struct th_choice_result *result)
{
    static const enum th_verdict harms[] = {[TH_HARM_NONE] = TH_VERDICT_DEPENDS,
                                            [TH_HARM_HEAT] = TH_VERDICT_SHORT_OF_HEAT,
                                            [TH_HARM_AIR] = TH_VERDICT_SHORT_OF_AIR,
                                            [TH_HARM_COLD] = TH_VERDICT_COLDER};
    return result->refused[0] ? TH_VERDICT_NOT_COMPARABLE : harms[result->harm];
}

static enum th_verdict verdict_of(const struct th_comparison *c, int i)
{
    const struct th_choice_money *m = &c->money[i];
    const struct th_net *today = &m->today.net, *settings = &m->settings.net;
    if (!th_verdict_harmless(th_verdict_on_pigs(&c->results[i + 1])))
        return th_verdict_on_pigs(&c->results[i + 1]);
    if (no_difference(c, i, today))
        return TH_VERDICT_NO_DIFFERENCE;
    if (today->high_usd <= 0.0)
        return TH_VERDICT_NO; /* whatever it is worth beside other settings */
    if (c->free.found && settings->high_usd <= 0.0)
        return TH_VERDICT_SETTINGS_FIRST;
    if (flips(&m->today) || (c->free.found && flips(&m->settings)))
        return TH_VERDICT_DEPENDS;
    return today->usd > 0.0 ? TH_VERDICT_YES : TH_VERDICT_NO;
}

/* Choices that leave pigs no worse off come first, then dollars; last what cannot be compared. */
static bool better(const struct th_choice_money *a, const struct th_choice_money *b)
{
    if ((a->verdict == TH_VERDICT_NOT_COMPARABLE) != (b->verdict == TH_VERDICT_NOT_COMPARABLE))
        return b->verdict == TH_VERDICT_NOT_COMPARABLE;
    const bool a_harmless = th_verdict_harmless(a->verdict);
    const bool b_harmless = th_verdict_harmless(b->verdict);
    if (a_harmless != b_harmless)
        return a_harmless;
    return a->today.payback.net_usd > b->today.payback.net_usd;
}

enum th_code th_comparison_money(struct th_comparison *c, struct th_error *err)
{
    c->has_money = true;
    for (int i = 0; i < c->n; i++) {
        struct th_choice_money *m = &c->money[i];
        enum th_code code = TH_OK;
        if (!c->results[i + 1].refused[0])
            code = return_of(c, i, &c->results[0], &m->today, err);
        if (code == TH_OK && !c->results[i + 1].refused[0])
            code = return_of(c, i, c->free_result, &m->settings, err);
        if (code != TH_OK)
            return code;
        m->verdict = verdict_of(c, i);
        if (better(m, &c->money[c->best]))
            c->best = i;
    }
    return TH_OK;
}

/* The barn and the best choice with other leakage, on the winters of the block; as they are, what
 * is known of all winters. */
struct leak_trials {
    struct th_trial base, choice;
    double scale;
};

static enum th_code run_leaks(const struct th_comparison *c, struct th_runs *runs,
                              struct leak_trials trials[TH_FLIP_LEAKS], struct th_error *err)
{
    const struct th_choice_result *result = &c->results[c->best + 1];
    int requests[TH_FLIP_LEAKS][2];
    for (int k = 0; k < TH_FLIP_LEAKS; k++) {
        struct th_room rooms[] = {c->rooms[0], c->rooms[c->best + 1]};
        th_room_shift_offsets(&rooms[1], th_judged_shift_k(result));
        for (int room = 0; room < 2 && leak_factors[k] != 1.0; room++) {
            th_room_leak(&rooms[room], leak_factors[k]);
            requests[k][room] = th_runs_add(runs, &rooms[room], c->base->climate,
                                            c->block.first_year, c->block.last_year);
        }
    }
    enum th_code code = th_runs_do(runs, "how tight the barn is", err);
    for (int k = 0; k < TH_FLIP_LEAKS && code == TH_OK; k++) {
        trials[k] = (struct leak_trials){c->results[0].trial, *th_judged(result), 1.0};
        if (leak_factors[k] == 1.0)
            continue;
        trials[k].scale = c->block.scale;
        code = th_runs_trial(runs, requests[k][0], &trials[k].base, err);
        if (code == TH_OK)
            code = th_runs_trial(runs, requests[k][1], &trials[k].choice, err);
    }
    return code;
}

/* Net savings at the prices of the table. */
static enum th_code flip_row(const struct th_comparison *c, const struct leak_trials *trials,
                             double net_usd[TH_FLIP_PRICES], struct th_error *err)
{
    struct th_study study = th_study_of(c->base->room);
    struct outlays o = outlays_of(c, c->best, &trials->base);
    const struct th_outlay base = running(c, &trials->base, trials->scale);
    const struct th_outlay choice = running(c, &trials->choice, trials->scale);
    o.choice.fuel_units_year =
        trials->scale * th_comparison_choice_units(c, c->best, &trials->choice);
    o.choice.electricity_usd_year = choice.electricity_usd_year;
    for (int k = 0; k < TH_FLIP_PRICES; k++) {
        struct th_return result;
        study.price_usd_unit = c->flips.price_usd[k];
        const enum th_code code = th_payback_compare(&base, &o.choice, &study, &result, err);
        if (code != TH_OK)
            return code;
        net_usd[k] = result.net_usd;
    }
    return TH_OK;
}

static enum th_code find_flips(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    struct leak_trials trials[TH_FLIP_LEAKS];
    for (int k = 0; k < TH_FLIP_PRICES; k++)
        c->flips.price_usd[k] = price_factors[k] * c->base->room->fuel.price;
    enum th_code code = run_leaks(c, runs, trials, err);
    for (int k = 0; k < TH_FLIP_LEAKS && code == TH_OK; k++) {
        c->flips.leak[k] = leak_factors[k];
        code = flip_row(c, &trials[k], c->flips.net_usd[k], err);
    }
    return code;
}

static enum th_code draw_curve(struct th_comparison *c, struct th_error *err)
{
    struct th_study study = th_study_of(c->base->room);
    const double today_usd = study.price_usd_unit;
    for (int k = 0; k < TH_CURVE_PRICES; k++) {
        study.price_usd_unit = c->curve.price_usd[k] = today_usd * (0.5 + CURVE_STEP * k);
        for (int i = 0; i < c->n; i++) {
            if (c->results[i + 1].refused[0])
                continue;
            const struct outlays o = outlays_of(c, i, &c->results[0].trial);
            struct th_return result;
            const enum th_code code =
                th_payback_compare(&o.against, &o.choice, &study, &result, err);
            if (code != TH_OK)
                return code;
            c->curve.net_usd[k][i] = result.net_usd;
        }
    }
    return TH_OK;
}

enum th_code th_comparison_flips(struct th_comparison *c, struct th_runs *runs,
                                 struct th_error *err)
{
    if (c->results[c->best + 1].refused[0])
        return TH_OK;
    const enum th_code code = find_flips(c, runs, err);
    return code == TH_OK ? draw_curve(c, err) : code;
}
