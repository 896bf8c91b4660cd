/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict.h"

#include "as_warm.h"
#include "turnheat/joint.h"
#include <math.h>
#include <string.h>

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

/* Over the response cases; what it is compared with changes with the response as well. */
static enum th_code find_cases(const struct th_comparison *c, const struct th_joint_pair *pair,
                               struct th_net *net, struct th_error *err)
{
    const double *saved_j = c->results[pair->choice_at].saved_j;
    const double *other_j = c->results[pair->against_at].saved_j;
    const double to_units = c->base->room->copies / c->base->room->fuel.hhv_j;
    const double saved = pair->against->fuel_units_year - pair->choice->fuel_units_year;
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        const double more_j = (saved_j[r] - other_j[r]) - (saved_j[0] - other_j[0]);
        double usd;
        const enum th_code code = th_joint_net_usd(pair, saved + to_units * more_j, &usd, err);
        if (code != TH_OK)
            return code;
        *net = r == 0 ? th_net_of_one(usd) : *net;
        net->low_usd = net->case_low_usd = fmin(net->case_low_usd, usd);
        net->high_usd = net->case_high_usd = fmax(net->case_high_usd, usd);
    }
    return TH_OK;
}

/* What was learnt moves the saving, and with it every measure: the middle of the farms that fit
   stands for the barn as its file has it. Net savings are linear in what is saved. */
static enum th_code follow_learnt(const struct th_study *study, struct outlays *o,
                                  struct th_choice_return *result, struct th_error *err)
{
    struct th_return more = {0};
    const struct outlays was = *o;
    o->against.fuel_units_year += 1.0;
    enum th_code code = th_payback_compare(&o->against, &o->choice, study, &more, err);
    const double usd_unit = more.net_usd - result->payback.net_usd;
    *o = was;
    result->net.usd = result->net.middle_usd;
    if (code != TH_OK || !(usd_unit > 0.0))
        return code;
    const double saved_units = (result->net.usd - result->payback.net_usd) / usd_unit;
    o->against.fuel_units_year += fmax(saved_units, 0.0);
    o->choice.fuel_units_year += fmax(-saved_units, 0.0);
    return th_payback_compare(&o->against, &o->choice, study, &result->payback, err);
}

static enum th_code return_of(const struct th_comparison *c, const struct th_joint *joint, int i,
                              const struct th_choice_result *against,
                              struct th_choice_return *result, struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    struct outlays o = outlays_of(c, i, th_judged(against));
    const struct th_joint_pair pair = {&study, &o.against, &o.choice, (int)(against - c->results),
                                       i + 1};
    enum th_code code = th_payback_compare(&o.against, &o.choice, &study, &result->payback, err);
    if (code == TH_OK)
        code = find_cases(c, &pair, &result->net, err);
    if (code == TH_OK)
        code = th_joint_weigh(joint, &pair, &result->net, &result->chance, err);
    if (code == TH_OK && result->net.drawn && c->farms->learnt)
        code = follow_learnt(&study, &o, result, err);
    struct th_outlay scrapped = o.choice;
    struct th_return without = {0};
    scrapped.residual_usd = 0.0;
    if (code == TH_OK)
        code = th_payback_compare(&o.against, &scrapped, &study, &without, err);
    result->scrapped_usd = result->net.usd + without.net_usd - result->payback.net_usd;
    return code;
}

/* Eight farms of ten and every response case lie between. */
static double least_usd(const struct th_net *net)
{
    return fmin(net->low_usd, net->case_low_usd);
}

static double most_usd(const struct th_net *net)
{
    return fmax(net->high_usd, net->case_high_usd);
}

/* Whether the sign rests on what is not known, or on what is left of its worth after the study. */
static bool flips(const struct th_choice_return *r)
{
    return (least_usd(&r->net) > 0.0) != (most_usd(&r->net) > 0.0) ||
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
    if (most_usd(today) <= 0.0)
        return TH_VERDICT_NO; /* whatever it is worth beside other settings */
    if (c->free.found && most_usd(settings) <= 0.0)
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
    return a->today.net.usd > b->today.net.usd;
}

static enum th_code weigh_all(struct th_comparison *c, const struct th_joint *joint,
                              struct th_error *err)
{
    for (int i = 0; i < c->n; i++) {
        struct th_choice_money *m = &c->money[i];
        enum th_code code = TH_OK;
        if (!c->results[i + 1].refused[0])
            code = return_of(c, joint, i, &c->results[0], &m->today, err);
        if (code == TH_OK && !c->results[i + 1].refused[0])
            code = return_of(c, joint, i, c->free_result, &m->settings, err);
        if (code != TH_OK)
            return code;
        m->verdict = verdict_of(c, i);
        if (better(m, &c->money[c->best]))
            c->best = i;
    }
    return TH_OK;
}

enum th_code th_comparison_money(struct th_comparison *c, struct th_runs *runs,
                                 struct th_error *err)
{
    const int n = c->free.found ? c->n + 2 : c->n + 1;
    struct th_beside_room rooms[TH_COMPARED_MAX] = {{0}};
    struct th_joint joint;
    for (int i = 0; i < n; i++) {
        if (c->results[i].refused[0])
            continue;
        rooms[i] =
            (struct th_beside_room){.room = &c->rooms[i], .trial = th_judged(&c->results[i])};
        memcpy(rooms[i].shift_k, c->results[i].shift_k, sizeof rooms[i].shift_k);
    }
    enum th_code code = th_joint_run(&joint, runs, c->farms, c->base->room, rooms, n, err);
    c->has_money = true;
    c->joint_error = joint.error;
    if (code == TH_OK)
        code = weigh_all(c, &joint, err);
    th_joint_finish(&joint);
    return code;
}

/* The barn and the best choice with other leakage, on the winters of the block, each scaled to all
 * as it is itself without: rows then differ by the leakage alone. As they are, what is known of all
 * winters. */
struct leak_trials {
    struct th_trial base, choice;
    double base_scale, choice_scale;
};

static double block_scale(const struct th_comparison *c, const struct th_trial *all)
{
    const double block_j = th_trial_block_gas_j(all, &c->block);
    return block_j > 0.0 ? th_trial_gas_j(all) / block_j : 1.0;
}

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
        trials[k] = (struct leak_trials){c->results[0].trial, *th_judged(result), 1.0, 1.0};
        if (leak_factors[k] == 1.0)
            continue;
        trials[k].base_scale = block_scale(c, &trials[k].base);
        trials[k].choice_scale = block_scale(c, &trials[k].choice);
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
    const struct th_outlay base = running(c, &trials->base, trials->base_scale);
    const struct th_outlay choice = running(c, &trials->choice, trials->choice_scale);
    o.choice.fuel_units_year =
        trials->choice_scale * th_comparison_choice_units(c, c->best, &trials->choice);
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
        c->flips.price_usd[k] = th_price_factor(k) * c->base->room->fuel.price;
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
