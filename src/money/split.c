/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "split_cases.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Volumes of an offer on the grid: with three offers 9³. */
#define GRID 9
#define GRID_OFFERS 3
/* Refining halves the step this often. */
#define HALVINGS 7
#define TRIES 3
/* Volumes are advised in steps of this, where the farm takes enough. */
#define ROUND_GAL 100.0
#define ROUND_FROM_GAL 4000.0
/* All offers together come to the end of what is looked at. */
#define END_SHARE 0.99

/* In all; a cap on every gallon binds to none. */
static double contract_gal(const struct th_split_search *s, const struct th_split *split)
{
    double gal = 0.0;
    for (size_t k = 0; k < s->n; k++)
        gal += isfinite(split->volume_gal[k]) ? split->volume_gal[k] : 0.0;
    return gal;
}

/* More than a hard season takes is a bet on prices, which nobody signs for heat. */
static bool too_much(const struct th_split_search *s, const struct th_split *split)
{
    return contract_gal(s, split) > s->search_gal * (1.0 + 1e-9);
}

static double aim(const struct th_split_search *s, const struct th_split *split)
{
    if (too_much(s, split))
        return HUGE_VAL;
    if (!s->by_bad)
        return split->mean_usd;
    return split->mean_usd > s->mean_limit_usd ? HUGE_VAL : split->bad_usd;
}

static double sold(const struct th_split_search *s, size_t k, double gal)
{
    return th_contract_sold_gal(&s->offers[k], gal, s->search_gal);
}

static double grid_volume(const struct th_split_search *s, size_t k, int step)
{
    const struct th_contract *offer = &s->offers[k];
    if (offer->kind == TH_CONTRACT_CAPPED && offer->volume_gal == 0.0)
        return step == 0 ? 0.0 : HUGE_VAL;
    const double least_gal = offer->least_gal;
    if (step == 0 || least_gal == 0.0)
        return sold(s, k, s->search_gal * step / (GRID - 1));
    const double most_gal = sold(s, k, HUGE_VAL);
    return least_gal + (most_gal - least_gal) * (step - 1) / (GRID - 2);
}

static int grid_steps(const struct th_split_search *s, size_t k)
{
    const struct th_contract *offer = &s->offers[k];
    if (offer->kind == TH_CONTRACT_SPOT)
        return 1;
    return offer->kind == TH_CONTRACT_CAPPED && offer->volume_gal == 0.0 ? 2 : GRID;
}

/* Adds the grid over the offers of `members`, the others not taken. */
static void run_grid(struct th_split_search *s, const size_t *members, size_t n)
{
    int step[GRID_OFFERS] = {0};
    for (;;) {
        double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
        for (size_t i = 0; i < n; i++)
            volume_gal[members[i]] = grid_volume(s, members[i], step[i]);
        th_split_weigh(s, TH_SPLIT_GRID_CASES, volume_gal, &s->grid[s->n_grid++]);
        size_t i = 0;
        while (i < n && ++step[i] == grid_steps(s, members[i]))
            step[i++] = 0;
        if (i == n)
            return;
    }
}

/* Up to three offers all together; of more every two, refining lets the others in. */
static enum th_code run_grids(struct th_split_search *s, struct th_error *err)
{
    size_t members[TH_SPLIT_OFFERS_MAX], n = 0;
    for (size_t k = 0; k < s->n; k++)
        if (s->offers[k].kind != TH_CONTRACT_SPOT)
            members[n++] = k;
    const size_t most = GRID * GRID * (n <= GRID_OFFERS ? GRID : n * (n - 1) / 2);
    s->grid = calloc(most, sizeof *s->grid);
    if (!s->grid)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (n <= GRID_OFFERS)
        run_grid(s, members, n);
    else
        for (size_t a = 0; a < n; a++)
            for (size_t b = 0; b < a; b++)
                run_grid(s, (const size_t[]){members[a], members[b]}, 2);
    return TH_OK;
}

static bool try_volumes(const struct th_split_search *s, const double *volume_gal,
                        struct th_split *now)
{
    struct th_split other;
    th_split_weigh(s, TH_SPLIT_CASES, volume_gal, &other);
    if (!(aim(s, &other) < aim(s, now)))
        return false;
    *now = other;
    return true;
}

/* Moves one offer up or down, or gallons from one to another. */
static bool move_once(const struct th_split_search *s, double step_gal, struct th_split *now)
{
    bool moved = false;
    for (size_t k = 0; k < s->n; k++) {
        const double was = now->volume_gal[k];
        if (grid_steps(s, k) < GRID)
            continue;
        for (size_t from = 0; from < s->n; from++)
            for (int sign = -1; sign <= 1; sign += 2) {
                double volume_gal[TH_SPLIT_OFFERS_MAX];
                memcpy(volume_gal, now->volume_gal, sizeof volume_gal);
                volume_gal[k] = sold(s, k, was + sign * step_gal);
                if (from != k && (grid_steps(s, from) < GRID || sign < 0))
                    continue;
                if (from != k)
                    volume_gal[from] = sold(s, from, volume_gal[from] - step_gal);
                moved |= try_volumes(s, volume_gal, now);
            }
    }
    return moved;
}

static void refine(const struct th_split_search *s, struct th_split *now)
{
    double step_gal = s->search_gal / (GRID - 1) / 2.0;
    for (int halving = 0; halving < HALVINGS; halving++) {
        for (int tries = 0; tries < TRIES && move_once(s, step_gal, now); tries++)
            continue;
        step_gal /= 2.0;
    }
}

/* The grid's best but for one. */
static const struct th_split *best_of_grid(const struct th_split_search *s,
                                           const struct th_split *not_this)
{
    const struct th_split *best = NULL;
    for (size_t i = 0; i < s->n_grid; i++)
        if (&s->grid[i] != not_this && (!best || aim(s, &s->grid[i]) < aim(s, best)))
            best = &s->grid[i];
    return best;
}

/* Every volume to a multiple of `step_gal`, the nearest or the one below. */
static struct th_split rounded(const struct th_split_search *s, const struct th_split *split,
                               double step_gal, bool down)
{
    double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
    struct th_split other;
    for (size_t k = 0; k < s->n; k++) {
        const double steps = split->volume_gal[k] / step_gal;
        volume_gal[k] = isfinite(steps)
                            ? sold(s, k, step_gal * (down ? floor(steps) : round(steps)))
                            : split->volume_gal[k];
    }
    th_split_weigh(s, TH_SPLIT_CASES, volume_gal, &other);
    return other;
}

/* To gallons that one would write down; marks what ends where all offers together end. */
static void round_off(const struct th_split_search *s, struct th_split *split)
{
    const double step_gal = s->search_gal >= ROUND_FROM_GAL ? ROUND_GAL : 1.0;
    const bool ends = contract_gal(s, split) >= END_SHARE * s->search_gal;
    for (int down = 0; down < 2; down++) {
        const struct th_split other = rounded(s, split, step_gal, down);
        if (!(aim(s, &other) < HUGE_VAL))
            continue;
        *split = other;
        break;
    }
    for (size_t k = 0; k < s->n; k++)
        split->at_end[k] = ends && isfinite(split->volume_gal[k]) && split->volume_gal[k] > 0.0 &&
                           split->volume_gal[k] != s->offers[k].most_gal;
}

/* Refines the best two of the grid, which lie far apart where a minimum share binds, and another
   start (NULL: none). */
static struct th_split find(const struct th_split_search *s, const struct th_split *also)
{
    const struct th_split *first = best_of_grid(s, NULL);
    const struct th_split *second = best_of_grid(s, first);
    struct th_split winner, other;
    th_split_weigh(s, TH_SPLIT_CASES, first->volume_gal, &winner);
    refine(s, &winner);
    for (int i = 0; i < 2; i++) {
        const struct th_split *start = i == 0 ? second : also;
        if (!start)
            continue;
        th_split_weigh(s, TH_SPLIT_CASES, start->volume_gal, &other);
        refine(s, &other);
        if (aim(s, &other) < aim(s, &winner))
            winner = other;
    }
    round_off(s, &winner);
    return winner;
}

static double error_of(const struct th_split_search *s, const double *volume_gal)
{
    const double none[TH_SPLIT_OFFERS_MAX] = {0};
    struct th_split_sums sums = {0};
    struct th_split_set with, without;
    th_split_set_of(s, volume_gal, &with);
    th_split_set_of(s, none, &without);
    for (size_t i = 0; i < s->n_cases; i++)
        s->usd[i] = th_split_case_usd(s, &with, &s->cases[i], &sums) -
                    th_split_case_usd(s, &without, &s->cases[i], &sums);
    return gsl_stats_sd(s->usd, 1, s->n_cases) / sqrt((double)s->n_cases);
}

static void written(const struct th_split_search *s, struct th_split *split)
{
    double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
    for (size_t k = 0; k < s->n; k++)
        volume_gal[k] = s->offers[k].kind == TH_CONTRACT_CAPPED && s->offers[k].volume_gal == 0.0
                            ? HUGE_VAL
                            : s->offers[k].volume_gal;
    th_split_weigh(s, TH_SPLIT_CASES, volume_gal, split);
}

/* The three answers, from the grid. */
static void advise(struct th_split_search *s, struct th_split_advice *advice)
{
    const double nothing[TH_SPLIT_OFFERS_MAX] = {0};
    th_split_weigh(s, TH_SPLIT_CASES, nothing, &advice->none);
    written(s, &advice->as_written);
    advice->cheapest = find(s, NULL);
    advice->mean_error_usd = error_of(s, advice->cheapest.volume_gal);
    s->by_bad = true;
    s->mean_limit_usd = HUGE_VAL;
    advice->cautious = find(s, &advice->cheapest);
    s->mean_limit_usd = advice->cheapest.mean_usd * (1.0 + TH_SPLIT_SAME_SHARE);
    advice->between = find(s, &advice->cheapest);
    advice->cash = th_split_cash_of(s, advice->cheapest.volume_gal);
    th_split_fails(s, advice->cheapest.volume_gal, advice->fails_usd);
    for (size_t k = 0; k < s->n; k++)
        advice->alone[k] = th_split_alone(s, k);
    th_split_break_even(s, advice->cheapest.volume_gal, &advice->posted_usd_gal,
                        &advice->break_even_usd_gal);
}

double th_split_regret_usd(const struct th_split_advice *advice, size_t offer)
{
    return advice->alone[offer].mean_usd - advice->cheapest.mean_usd;
}

enum th_code th_split_run(const struct th_split_market *market, size_t n,
                          const struct th_contract *offers, struct th_split_advice *advice,
                          struct th_error *err)
{
    struct th_split_search s;
    enum th_code code = th_split_open(&s, market, n, offers, err);
    if (code == TH_OK)
        code = run_grids(&s, err);
    if (code == TH_OK) {
        *advice = (struct th_split_advice){
            .n_cases = s.n_cases, .n_offers = n, .search_gal = s.search_gal};
        advise(&s, advice);
    }
    th_split_close(&s);
    return code;
}
