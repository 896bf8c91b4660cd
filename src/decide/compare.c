/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "same_mean.h"
#include "turnheat/sizing.h"
#include "verdict.h"
#include <math.h>

/* The base, the choices, the free choice. */
#define ROOMS_MAX (TH_CHOICES_MAX + 2)

/* What the comparison works with. The base is known in every response case. */
struct comparing {
    struct th_winters_seen at;
    int first_year, last_year;
    struct th_firing firing[TH_RESPONSE_CASES];
    struct th_error *err;
};

static enum th_code look_at_base(struct comparing *c, const struct th_room *room,
                                 struct th_choice_result *result)
{
    int requests[TH_RESPONSE_CASES];
    enum th_code code = TH_OK;
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++) {
        struct th_room changed = *room;
        th_response_apply(&changed, (enum th_response_case)r);
        code = th_firing_init(&c->firing[r], &c->at, c->err);
        if (code == TH_OK)
            requests[r] = th_firing_ask(&c->firing[r], &c->at, &changed);
        result->saved_j[r] = 0.0;
    }
    if (code == TH_OK)
        code = th_runs_do(c->at.runs, "the barn as it is", c->err);
    for (int r = 0; r < TH_RESPONSE_CASES && code == TH_OK; r++)
        code = th_firing_read(&c->firing[r], &c->at, requests[r], c->err);
    result->same_mean = (struct th_same_mean){.state = TH_SAME_MEAN_FOUND, .trial = result->trial};
    return code;
}

/* Every choice at the same settings. */
static enum th_code trials_as_given(struct comparing *c, const struct th_room *rooms, int n,
                                    struct th_choice_result *results)
{
    int requests[ROOMS_MAX] = {0};
    for (int i = 1; i < n; i++)
        requests[i] =
            th_runs_add(c->at.runs, &rooms[i], c->at.climate, c->first_year, c->last_year);
    enum th_code code = th_runs_do(c->at.runs, "the choices", c->err);
    for (int i = 1; i < n && code == TH_OK; i++)
        code = th_runs_trial(c->at.runs, requests[i], &results[i].trial, c->err);
    return code;
}

/* Every choice at the same mean where one was found, and what it then saves. */
static enum th_code trials_at_same_mean(struct comparing *c, const struct th_room *rooms, int n,
                                        struct th_choice_result *results)
{
    int requests[ROOMS_MAX] = {0};
    for (int i = 1; i < n; i++) {
        struct th_room shifted = rooms[i];
        th_room_shift_offsets(&shifted, results[i].same_mean.shift_k);
        if (results[i].same_mean.state == TH_SAME_MEAN_FOUND)
            requests[i] =
                th_runs_add(c->at.runs, &shifted, c->at.climate, c->first_year, c->last_year);
    }
    enum th_code code = th_runs_do(c->at.runs, "the choices as warm as the barn is today", c->err);
    for (int i = 1; i < n && code == TH_OK; i++) {
        struct th_same_mean *same = &results[i].same_mean;
        if (same->state == TH_SAME_MEAN_FOUND)
            code = th_runs_trial(c->at.runs, requests[i], &same->trial, c->err);
        if (code == TH_OK)
            results[i].saved_j[TH_AS_GIVEN] =
                th_trial_gas_j(&results[0].trial) - th_trial_gas_j(th_judged(&results[i]));
    }
    return code;
}

/* One choice in one response case. */
struct response_run {
    struct th_room room;
    double shift_k, warmer_k, gas_j;
    struct th_look look;
};

/* Runs a choice in every response case but the first, each at its shift. */
static enum th_code run_responses(struct comparing *c, struct response_run runs[TH_RESPONSE_CASES])
{
    enum th_code code = TH_OK;
    for (int r = 1; r < TH_RESPONSE_CASES && code == TH_OK; r++) {
        struct th_room shifted = runs[r].room;
        th_room_shift_offsets(&shifted, runs[r].shift_k);
        code = th_look_ask(&runs[r].look, &c->firing[r], &c->at, &shifted, c->err);
    }
    if (code == TH_OK)
        code = th_runs_do(c->at.runs, "how far the room overshoots", c->err);
    for (int r = 1; r < TH_RESPONSE_CASES; r++) {
        const enum th_code read =
            th_look_read(&runs[r].look, &c->firing[r], &c->at,
                         code == TH_OK ? &runs[r].gas_j : NULL, &runs[r].warmer_k, c->err);
        code = code == TH_OK ? read : code;
    }
    return code;
}

/* What a choice saves in each response case. A K of shift moves the mean by about a K: run once at
 * the shift of the room as given, once at the shift then needed; the rest is taken off at
 * `gas_j_k`. */
static enum th_code range_of_savings(struct comparing *c, const struct th_room *room,
                                     double gas_j_k, struct th_choice_result *result)
{
    struct response_run runs[TH_RESPONSE_CASES] = {0};
    for (int r = 1; r < TH_RESPONSE_CASES; r++) {
        runs[r] = (struct response_run){.room = *room, .shift_k = result->same_mean.shift_k};
        th_response_apply(&runs[r].room, (enum th_response_case)r);
    }
    enum th_code code = run_responses(c, runs);
    if (code == TH_OK && result->same_mean.state == TH_SAME_MEAN_FOUND) {
        for (int r = 1; r < TH_RESPONSE_CASES; r++)
            runs[r].shift_k =
                fmin(runs[r].shift_k - runs[r].warmer_k, th_highest_shift_k(&runs[r].room));
        code = run_responses(c, runs);
    }
    for (int r = 1; r < TH_RESPONSE_CASES; r++) {
        const double gas_j = runs[r].gas_j - gas_j_k * runs[r].warmer_k;
        result->saved_j[r] = c->at.block.scale * (c->firing[r].gas_j - gas_j);
    }
    return code;
}

static enum th_code look_at_choice(struct comparing *c, const struct th_room *room,
                                   struct th_choice_result *result)
{
    double gas_j_k;
    const enum th_code code = th_same_mean_find(room, &c->firing[TH_AS_GIVEN], &c->at,
                                                &result->same_mean, &gas_j_k, c->err);
    return code == TH_OK ? range_of_savings(c, room, gas_j_k, result) : code;
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
    if (n > ROOMS_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d rooms given; at most %d can be compared", n,
                       ROOMS_MAX);
    enum th_code code = look_at_base(&c, &rooms[0], &results[0]);
    if (code == TH_OK)
        code = trials_as_given(&c, rooms, n, results);
    for (int i = 1; i < n && code == TH_OK; i++)
        code = look_at_choice(&c, &rooms[i], &results[i]);
    if (code == TH_OK)
        code = trials_at_same_mean(&c, rooms, n, results);
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        th_firing_finish(&c.firing[r]);
    return code;
}

/* What a choice, or the free choice, does to the pigs. */
static enum th_code harm_of(const struct th_comparison *c, const struct th_room *room,
                            double base_needed_w, struct th_choice_result *result,
                            struct th_error *err)
{
    const struct th_trial *now = &c->results[0].trial;
    struct th_sizing need;
    const enum th_code code = th_sizing_run(room, c->design_out_c, &need, err);
    if (code != TH_OK)
        return code;
    result->refused = th_change_refused(c->base->room, room);
    result->falls_short = th_heaters_fall_short(c->base->room, base_needed_w, room, need.needed_w);
    result->added = th_hardship_added(now->hardship, th_judged(result)->hardship, now->n);
    result->harm = result->falls_short ? TH_HARM_HEAT : th_harm_of(&result->added);
    return TH_OK;
}

static enum th_code find_harm(struct th_comparison *c, struct th_error *err)
{
    struct th_sizing need;
    enum th_code code = th_sizing_run(c->base->room, c->design_out_c, &need, err);
    for (int i = 0; i < c->n && code == TH_OK; i++) {
        code = harm_of(c, &c->choices[i].room, need.needed_w, &c->results[i + 1], err);
        c->money[i].verdict = th_verdict_on_pigs(&c->results[i + 1]);
    }
    if (code == TH_OK && c->free.found)
        code = harm_of(c, &c->free.room, need.needed_w, &c->results[c->n + 1], err);
    return code;
}

/* The barn as it is over all its winters. */
static enum th_code run_now(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *base = c->base;
    struct th_trial *now = &c->results[0].trial;
    const int request =
        th_runs_add(runs, base->room, base->climate, base->first_year, base->last_year);
    enum th_code code = th_runs_do(runs, "the barn as it is", err);
    if (code == TH_OK)
        code = th_runs_trial(runs, request, now, err);
    if (code == TH_OK)
        c->block = th_trial_block(now);
    return code;
}

static enum th_code run_choices(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    const struct th_case *base = c->base;
    struct th_room rooms[ROOMS_MAX];
    rooms[0] = *base->room;
    for (int i = 0; i < c->n; i++)
        rooms[i + 1] = c->choices[i].room;
    rooms[c->n + 1] = c->free.room;
    c->free_result = &c->results[c->free.found ? c->n + 1 : 0];
    return th_compare_run(runs, rooms, c->free.found ? c->n + 2 : c->n + 1, base->climate,
                          base->first_year, base->last_year, c->results, err);
}

/* Units of zone heat in a room of a choice, all of them. */
static double all_zone_units(const struct th_room *room)
{
    return room->zone.units > 0.0 ? room->zone.units
                                  : ceil(room->turns[0].head / room->zone.pigs_per_unit);
}

static void ask_zone(struct th_comparison *c, struct th_runs *runs, int choice,
                     int requests[TH_ZONE_STEPS])
{
    struct th_zone_curve *zone = &c->zone[choice];
    struct th_room room = c->choices[choice].room;
    const double all = all_zone_units(&room);
    zone->run = true;
    for (int step = 0; step < TH_ZONE_STEPS; step++) {
        room.zone.units = zone->units[step] = fmax(round(all * (step + 1) / TH_ZONE_STEPS), 1.0);
        requests[step] =
            th_runs_add(runs, &room, c->base->climate, c->block.first_year, c->block.last_year);
    }
}

static enum th_code read_zone(struct th_comparison *c, const struct th_runs *runs, int choice,
                              const int requests[TH_ZONE_STEPS], struct th_error *err)
{
    struct th_zone_curve *zone = &c->zone[choice];
    const double base = th_comparison_units(c, &c->results[0].trial);
    double best = 0.0;
    for (int step = 0; step < TH_ZONE_STEPS; step++) {
        struct th_trial trial;
        const enum th_code code = th_runs_trial(runs, requests[step], &trial, err);
        if (code != TH_OK)
            return code;
        const double saved = base - c->block.scale * th_comparison_units(c, &trial);
        zone->saved_units[step] = saved;
        if (saved > best)
            zone->best_units = zone->units[step];
        best = fmax(best, saved);
        if (saved <= 0.0 && zone->lost_at_units == 0.0)
            zone->lost_at_units = zone->units[step];
    }
    return TH_OK;
}

/* What choices that add zone heat save by the number of its units. */
static enum th_code run_zones(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    int requests[TH_CHOICES_MAX][TH_ZONE_STEPS] = {{0}};
    for (int i = 0; i < c->n; i++)
        if (c->choices[i].room.zone.on && !c->base->room->zone.on)
            ask_zone(c, runs, i, requests[i]);
    enum th_code code = th_runs_do(runs, "numbers of zone heaters", err);
    for (int i = 0; i < c->n && code == TH_OK; i++)
        if (c->zone[i].run)
            code = read_zone(c, runs, i, requests[i], err);
    return code;
}

enum th_code th_comparison_run(struct th_comparison *c, struct th_runs *runs,
                               const struct th_case *base, const struct th_choice *choices, int n,
                               double design_out_c, struct th_error *err)
{
    if (n > TH_CHOICES_MAX)
        return th_fail(err, TH_ERR_INPUT, "%d choices given; at most %d can be compared", n,
                       TH_CHOICES_MAX);
    *c = (struct th_comparison){
        .base = base, .choices = choices, .n = n, .design_out_c = design_out_c};
    enum th_code code = run_now(c, runs, err);
    if (code == TH_OK)
        code = th_free_choice_find(runs, base->room, base->climate,
                                   th_trial_middle_year(&c->results[0].trial), design_out_c,
                                   &c->free, err);
    if (code == TH_OK)
        code = run_choices(c, runs, err);
    if (code == TH_OK)
        code = find_harm(c, err);
    if (code == TH_OK)
        code = th_costs_run(runs, base->room, base->climate, &c->block, c->cost_j, err);
    if (code == TH_OK)
        code = run_zones(c, runs, err);
    return code == TH_OK && n > 0 && base->room->fuel.has_price ? th_comparison_money(c, runs, err)
                                                                : code;
}
