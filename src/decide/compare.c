/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "as_warm.h"
#include "turnheat/sizing.h"
#include "turnheat/units.h"
#include "verdict.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Steps of warmth too short to tell what a K costs. */
#define SHORT_STEP_K (0.05 * TH_K_PER_F)

/* What the comparison works with: the base, and in every response case the base run roughly. */
struct comparing {
    struct th_winters_seen at;
    int first_year, last_year;
    struct th_firing firing, roughly[TH_RESPONSE_CASES];
    struct th_error *err;
};

/* A choice that cannot be run is refused, and the others stand. */
static enum th_code refuse(struct th_choice_result *result, enum th_code code, struct th_error *err)
{
    if (code != TH_ERR_MODEL && code != TH_ERR_NUMERIC && code != TH_ERR_RANGE &&
        code != TH_ERR_COVERAGE)
        return code;
    snprintf(result->refused, sizeof result->refused, "it cannot be run: %.200s",
             err ? err->text : th_code_text(code));
    return TH_OK;
}

static enum th_code see_base(struct comparing *c, const struct th_room *room,
                             struct th_firing *firing, int *request)
{
    const enum th_code code = th_firing_init(firing, &c->at, c->err);
    if (code == TH_OK)
        *request = th_firing_ask(firing, &c->at, room);
    return code;
}

static enum th_code look_at_base(struct comparing *c, const struct th_room *room,
                                 struct th_choice_result *result)
{
    int request, requests[TH_RESPONSE_CASES];
    enum th_code code = see_base(c, room, &c->firing, &request);
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++) {
        struct th_room changed = *room;
        changed.solve_every_h = TH_BLOCK_EVERY_H;
        th_response_apply(&changed, (enum th_response_case)r);
        code = see_base(c, &changed, &c->roughly[r], &requests[r]);
        result->saved_j[r] = 0.0;
    }
    if (code == TH_OK)
        code = th_runs_do(c->at.runs, "the barn as it is", c->err);
    if (code == TH_OK)
        code = th_firing_read(&c->firing, &c->at, request, c->err);
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++)
        code = th_firing_read(&c->roughly[r], &c->at, requests[r], c->err);
    result->judged_by = TH_AS_SET;
    for (int by = 0; by < TH_WARMTHS; by++)
        result->as_warm[by] = (struct th_as_warm){.trial = result->trial};
    return code;
}

static enum th_warmth mean_or_as_set(const struct th_choice_result *result)
{
    return result->as_warm[TH_BY_MEAN].why_not ? TH_AS_SET : TH_BY_MEAN;
}

static void choose_warmth(struct th_choice_result *result)
{
    const struct th_as_warm *const trough = &result->as_warm[TH_BY_TROUGH];
    result->judged_by = mean_or_as_set(result);
    if (!trough->why_not && th_trial_gas_j(&trough->trial) > th_trial_gas_j(th_judged(result)))
        result->judged_by = TH_BY_TROUGH;
}

/* A choice over all winters at the shifts found. */
static void ask_as_warm(struct comparing *c, const struct th_room *room,
                        const struct th_choice_result *result, int requests[TH_WARMTHS])
{
    for (int by = 0; by < TH_WARMTHS; by++) {
        struct th_room shifted = *room;
        if (result->refused[0] || result->as_warm[by].why_not)
            continue;
        th_room_shift_offsets(&shifted, result->as_warm[by].shift_k);
        requests[by] =
            th_runs_add(c->at.runs, &shifted, c->at.climate, c->first_year, c->last_year);
    }
}

static enum th_code read_as_warm(struct comparing *c, const int requests[TH_WARMTHS],
                                 const struct th_trial *base, struct th_choice_result *result)
{
    enum th_code code = TH_OK;
    for (int by = 0; by < TH_WARMTHS && code == TH_OK; by++)
        if (!result->as_warm[by].why_not)
            code = th_runs_trial(c->at.runs, requests[by], &result->as_warm[by].trial, c->err);
    choose_warmth(result);
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        result->shift_k[r] += th_judged_shift_k(result);
        result->saved_j[r] += th_trial_gas_j(base) - th_trial_gas_j(th_judged(result));
    }
    return code;
}

/* Every choice over all winters, at the same settings and at the shifts found. What was looked at
 * on the way is not run again. */
static enum th_code run_trials(struct comparing *c, const struct th_room *rooms, int n,
                               struct th_choice_result *results)
{
    int given[TH_COMPARED_MAX] = {0}, as_warm[TH_COMPARED_MAX][TH_WARMTHS] = {{0}};
    for (int i = 1; i < n; i++)
        if (!results[i].refused[0]) {
            given[i] =
                th_runs_add(c->at.runs, &rooms[i], c->at.climate, c->first_year, c->last_year);
            ask_as_warm(c, &rooms[i], &results[i], as_warm[i]);
        }
    enum th_code code = th_runs_do(c->at.runs, "the choices", c->err);
    for (int i = 1; i < n && code == TH_OK; i++) {
        struct th_choice_result *const result = &results[i];
        if (result->refused[0])
            continue;
        code = th_runs_trial(c->at.runs, given[i], &result->trial, c->err);
        if (code == TH_OK)
            code = read_as_warm(c, as_warm[i], &results[0].trial, result);
        code = refuse(result, code, c->err);
    }
    return code;
}

/* One choice in one response case. */
struct response_run {
    struct th_room room;
    double shift_k;
    struct th_sight sight, before; /* the last, and the one before */
    double wanting_k;              /* the one before */
    struct th_look look;
};

/* Runs a choice in every response case, each at its shift. */
static enum th_code run_responses(struct comparing *c, struct response_run runs[TH_RESPONSE_CASES])
{
    enum th_code code = TH_OK;
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++) {
        struct th_room shifted = runs[r].room;
        th_room_shift_offsets(&shifted, runs[r].shift_k);
        code = th_look_ask(&runs[r].look, &c->roughly[r], &c->at, &shifted, c->err);
    }
    if (code == TH_OK)
        code = th_runs_do(c->at.runs, "how far the room overshoots", c->err);
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        const enum th_code read =
            th_look_read(&runs[r].look, &c->at, code == TH_OK ? &runs[r].sight : NULL, c->err);
        code = code == TH_OK ? read : code;
    }
    return code;
}

/* By how much ON and OFF must rise until a room is nowhere colder than the base: of what can be had
 * alike, mean and low, the one that asks for more, which burns more. Without the mean the settings
 * stand in for it. */
static double wanting_k(const struct th_alike alike[TH_WARMTHS], const struct response_run *run)
{
    const double *const warmer_k = run->sight.warmer_k;
    const double first_k = alike[TH_BY_MEAN].why_not ? -run->shift_k : -warmer_k[TH_BY_MEAN];
    return alike[TH_BY_TROUGH].why_not ? first_k : fmax(first_k, -warmer_k[TH_BY_TROUGH]);
}

/* Every response case once more, at the shift each is found to need. */
static enum th_code run_moved(struct comparing *c, const struct th_alike alike[TH_WARMTHS],
                              struct response_run runs[TH_RESPONSE_CASES])
{
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        struct response_run *const run = &runs[r];
        run->before = run->sight;
        run->wanting_k = wanting_k(alike, run);
        run->shift_k = fmin(run->shift_k + run->wanting_k, th_room_highest_shift_k(&run->room));
    }
    return run_responses(c, runs);
}

/* Gas of a run at the same warmth: what is still wanting costs as much a K as the last step did,
 * or, where that was short, as in the room as given. */
static double gas_alike_j(const struct response_run *run, const struct th_alike alike[TH_WARMTHS])
{
    const double wanting = wanting_k(alike, run), gained_k = run->wanting_k - wanting;
    const double given_j_k = alike[alike[TH_BY_MEAN].why_not ? TH_BY_TROUGH : TH_BY_MEAN].gas_j_k;
    const double gas_j_k = fabs(gained_k) > SHORT_STEP_K
                               ? (run->sight.gas_j - run->before.gas_j) / gained_k
                               : given_j_k;
    return run->sight.gas_j + gas_j_k * wanting;
}

/* What a choice saves in each response case more than as given, and how much more shift it needs,
 * the worse deciding here as well; all of them run roughly. A K of shift moves the room by about a
 * K: run once at the shift of the room as given, once at the shift then needed. */
static enum th_code range_of_savings(struct comparing *c, const struct th_room *room,
                                     const struct th_alike alike[TH_WARMTHS],
                                     struct th_choice_result *result)
{
    struct response_run runs[TH_RESPONSE_CASES] = {0};
    const struct th_alike *const mean = &alike[TH_BY_MEAN], *const trough = &alike[TH_BY_TROUGH];
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        runs[r].room = *room;
        runs[r].shift_k = trough->why_not ? mean->shift_k : fmax(mean->shift_k, trough->shift_k);
        runs[r].room.solve_every_h = TH_BLOCK_EVERY_H;
        th_response_apply(&runs[r].room, (enum th_response_case)r);
    }
    enum th_code code = run_responses(c, runs);
    if (code == TH_OK && !(mean->why_not && trough->why_not))
        code = run_moved(c, alike, runs);
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        result->saved_j[r] =
            c->at.block.scale * (c->roughly[r].gas_j - gas_alike_j(&runs[r], alike));
        result->shift_k[r] = runs[r].shift_k + wanting_k(alike, &runs[r]);
    }
    for (int r = TH_RESPONSE_CASES - 1; r >= 0; r--) {
        result->saved_j[r] -= result->saved_j[TH_AS_GIVEN];
        result->shift_k[r] -= result->shift_k[TH_AS_GIVEN];
    }
    return code;
}

/* An earlier choice that is the same room, byte by byte, as the free choice may be; 0: none. */
static int twin_of(const struct th_room *rooms, int i, const struct th_choice_result *results)
{
    for (int j = 1; j < i; j++)
        if (!results[j].refused[0] &&
            /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
            memcmp(&rooms[j], &rooms[i], sizeof *rooms) == 0)
            return j;
    return 0;
}

/* What was found of a choice, and its range. */
static enum th_code take_choice(struct comparing *c, const struct th_alike_room *looked,
                                const struct th_room *room, struct th_choice_result *result)
{
    for (int by = 0; by < TH_WARMTHS; by++) {
        result->as_warm[by].why_not = looked->alike[by].why_not;
        result->as_warm[by].shift_k = looked->alike[by].shift_k;
    }
    return looked->err.code == TH_OK ? range_of_savings(c, room, looked->alike, result)
                                     : th_fail(c->err, looked->err.code, "%s", looked->err.text);
}

/* The shifts of all choices, then their ranges. A twin has those of the other. */
static enum th_code look_at_choices(struct comparing *c, const struct th_room *rooms, int n,
                                    struct th_choice_result *results)
{
    struct th_alike_room *const looked = calloc((size_t)n, sizeof *looked);
    int twins[TH_COMPARED_MAX] = {0};
    if (!looked)
        return th_fail(c->err, TH_ERR_MEMORY, "out of memory");
    for (int i = 1; i < n; i++) {
        twins[i] = twin_of(rooms, i, results);
        for (int by = 0; by < TH_WARMTHS; by++)
            looked[i].alike[by].why_not = "it is heated as today, by the same settings";
        if (!results[i].refused[0] && !twins[i] && th_change_of_heating(&rooms[0], &rooms[i]))
            looked[i].room = &rooms[i];
    }
    enum th_code code = th_alike_find(looked, n, &c->firing, &c->at, c->err);
    for (int i = 1; i < n && code == TH_OK; i++)
        if (twins[i])
            results[i] = results[twins[i]];
        else if (!results[i].refused[0])
            code = refuse(&results[i], take_choice(c, &looked[i], &rooms[i], &results[i]), c->err);
    free(looked);
    return code;
}

enum th_code th_compare_run(struct th_runs *runs, const struct th_room *rooms, int n,
                            const struct th_climate *climate, int first_year, int last_year,
                            struct th_choice_result *results, struct th_error *err)
{
    struct comparing c = {
        .at = {.runs = runs, .climate = climate, .block = th_trial_block(&results[0].trial)},
        .first_year = first_year,
        .last_year = last_year,
        .err = err};
    if (n > TH_COMPARED_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d rooms given; at most %d can be compared", n,
                       TH_COMPARED_MAX);
    enum th_code code = look_at_base(&c, &rooms[0], &results[0]);
    if (code == TH_OK)
        code = look_at_choices(&c, rooms, n, results);
    if (code == TH_OK)
        code = run_trials(&c, rooms, n, results);
    th_firing_finish(&c.firing);
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        th_firing_finish(&c.roughly[r]);
    return code;
}

/* What a choice, or the free choice, does to the pigs. */
static enum th_code harm_of(const struct th_comparison *c, int i, double base_most_w,
                            struct th_choice_result *result, struct th_error *err)
{
    const struct th_trial *now = &c->results[0].trial;
    struct th_sizing need;
    const enum th_code code = th_sizing_run(&c->rooms[i], c->design_out_c, &need, err);
    if (code != TH_OK)
        return refuse(result, code, err);
    result->installed_w = th_sizing_installed_w(&c->rooms[i], NULL);
    result->most_w = need.most_w;
    result->falls_short =
        th_heaters_fall_short(&c->rooms[0], base_most_w, &c->rooms[i], need.most_w);
    result->harm =
        th_harm_between(now->hardship, th_felt(result)->hardship, now->n, &result->added);
    if (result->falls_short)
        result->harm = TH_HARM_HEAT;
    return TH_OK;
}

static enum th_code find_harm(struct th_comparison *c, struct th_error *err)
{
    struct th_sizing need;
    enum th_code code = th_sizing_run(&c->rooms[0], c->design_out_c, &need, err);
    for (int i = 1; i < (c->free.found ? c->n + 2 : c->n + 1) && code == TH_OK; i++)
        if (!c->results[i].refused[0])
            code = harm_of(c, i, need.most_w, &c->results[i], err);
    const struct th_choice_result *free = &c->results[c->n + 1];
    if (c->free.found && (free->refused[0] || free->harm != TH_HARM_NONE)) {
        c->free.found = false; /* what cannot be run, or harms, is no yardstick */
        c->free.harm = free->harm;
        c->free_result = &c->results[0];
    }
    for (int i = 0; i < c->n && code == TH_OK; i++)
        c->money[i].verdict = th_verdict_on_pigs(&c->results[i + 1]);
    return code;
}

/* The barn as it is over all its winters. */
static enum th_code run_now(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *base = c->base;
    struct th_trial *now = &c->results[0].trial;
    const int request =
        th_runs_add(runs, &c->rooms[0], base->climate, base->first_year, base->last_year);
    th_runs_lead(runs, request);
    enum th_code code = th_runs_do(runs, "the barn as it is", err);
    if (code == TH_OK)
        code = th_runs_trial(runs, request, now, err);
    if (code == TH_OK)
        c->block = th_trial_block(now);
    return code;
}

/* The barn as it is, better settings of it, and the choices. */
static enum th_code run_choices(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *base = c->base;
    enum th_code code = run_now(c, runs, err);
    if (code == TH_OK)
        code = th_free_choice_find(runs, &c->rooms[0], base->climate,
                                   th_trial_middle_year(&c->results[0].trial), c->design_out_c,
                                   &c->free, err);
    c->rooms[c->n + 1] = c->free.room;
    c->free_result = &c->results[c->free.found ? c->n + 1 : 0];
    if (code == TH_OK)
        code = th_compare_run(runs, c->rooms, c->free.found ? c->n + 2 : c->n + 1, base->climate,
                              base->first_year, base->last_year, c->results, err);
    return code == TH_OK ? find_harm(c, err) : code;
}

/* The rooms as they are run, and those that are none to compare. */
static enum th_code begin(struct th_comparison *c, const struct th_case *base,
                          const struct th_choice *choices, int n, double design_out_c,
                          const struct th_farms *farms, struct th_error *err)
{
    *c = (struct th_comparison){.base = base,
                                .choices = choices,
                                .n = n,
                                .design_out_c = design_out_c,
                                .farms = farms,
                                .rooms = {*base->room}};
    enum th_code code = th_response_keep(&c->rooms[0], base->room, err);
    for (int i = 1; i <= n && code == TH_OK; i++) {
        const struct th_room *const room = &choices[i - 1].room;
        const char *const why = th_change_refused(base->room, room);
        snprintf(c->results[i].refused, sizeof c->results[i].refused, "%s", why ? why : "");
        c->rooms[i] = *room;
        code = th_response_keep(&c->rooms[i], &c->rooms[0], err);
    }
    return code;
}

static bool may_price(const struct th_comparison *c)
{
    return c->n > 0 && c->base->room->fuel.has_price;
}

/* What was begun, run and weighed. */
static enum th_code weigh(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    const enum th_code code = run_choices(c, runs, err);
    return code == TH_OK && may_price(c) ? th_comparison_money(c, runs, err) : code;
}

enum th_code th_comparison_weigh(struct th_comparison *c, struct th_runs *runs,
                                 const struct th_case *base, const struct th_choice *choices, int n,
                                 double design_out_c, const struct th_farms *farms,
                                 struct th_error *err)
{
    if (n > TH_CHOICES_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d choices given; at most %d can be compared", n,
                       TH_CHOICES_MAX);
    const enum th_code code = begin(c, base, choices, n, design_out_c, farms, err);
    return code == TH_OK ? weigh(c, runs, err) : code;
}

enum th_code th_comparison_run(struct th_comparison *c, struct th_runs *runs,
                               const struct th_case *base, const struct th_choice *choices, int n,
                               double design_out_c, const struct th_farms *farms,
                               struct th_error *err)
{
    enum th_code code = th_comparison_weigh(c, runs, base, choices, n, design_out_c, farms, err);
    if (code == TH_OK)
        code = th_costs_run(runs, base, &c->rooms[0], th_trial_gas_j(&c->results[0].trial),
                            c->cost_j, &c->held_air, err);
    if (code == TH_OK)
        code = th_zone_curves(c, runs, err);
    return code == TH_OK && may_price(c) ? th_comparison_flips(c, runs, err) : code;
}

enum th_code th_comparison_hold_air(struct th_comparison *held, const struct th_comparison *c,
                                    struct th_runs *runs, struct th_error *err)
{
    enum th_code code = begin(held, c->base, c->choices, c->n, c->design_out_c, NULL, err);
    held->middle = *c->base;
    held->middle.first_year = held->middle.last_year = th_trial_middle_year(&c->results[0].trial);
    held->base = &held->middle;
    for (int i = 0; i <= held->n; i++)
        held->rooms[i].air.control_rh = held->rooms[i].air.control_co2 = true;
    for (int i = 1; i <= held->n; i++)
        if (c->results[i].harm != TH_HARM_AIR && !held->results[i].refused[0])
            snprintf(held->results[i].refused, sizeof held->results[i].refused,
                     "it leaves air enough as the fans are");
    return code == TH_OK ? weigh(held, runs, err) : code;
}
