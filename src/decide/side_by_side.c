/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/side_by_side.h"

#include "turnheat/units.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <stdlib.h>

/* The winters of a trial that the other holds too, as hardships; returns how many. */
static int shared_winters(const struct th_trial *a, const struct th_trial *b,
                          struct th_hardship of_a[TH_TRIAL_SEASONS_MAX],
                          struct th_hardship of_b[TH_TRIAL_SEASONS_MAX])
{
    int n = 0;
    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < b->n; k++)
            if (a->years[i] == b->years[k]) {
                of_a[n] = a->hardship[i];
                of_b[n++] = b->hardship[k];
            }
    return n;
}

static void find_drip(struct th_side *side)
{
    const struct th_drip *drip = &side->size.drip;
    side->wettest = -1;
    for (int i = 0; i < drip->room->n_surfaces; i++) {
        const double hours = th_drip_season_h(drip, i);
        if (hours <= side->drip_h)
            continue;
        side->wettest = i;
        side->drip_h = hours;
    }
}

static enum th_code run_side(struct th_side *side, struct th_runs *runs, const struct th_case *one,
                             struct th_error *err)
{
    side->one = one;
    const int request = th_runs_add(runs, one->room, one->climate, one->first_year, one->last_year);
    enum th_code code = th_runs_do(runs, one->room->name, err);
    if (code == TH_OK)
        code = th_runs_trial(runs, request, &side->trial, err);
    if (code == TH_OK)
        code = th_size_run(runs, one, &side->size, err);
    if (code != TH_OK)
        return code;
    find_drip(side);
    side->first_usd = one->room->copies * one->room->money.first_cost_usd;
    return TH_OK;
}

/* Gas of each over the winters counted for both. */
static void find_units(struct th_side *side, const struct th_outlook *outlook, int barn)
{
    side->lowest_units = INFINITY;
    for (size_t w = 0; w < outlook->n_winters; w++) {
        const double units = side->one->room->copies * exp(outlook->barns[barn].ln_y0[w]);
        side->units += units / (double)outlook->n_winters;
        side->lowest_units = fmin(side->lowest_units, units);
        side->highest_units = fmax(side->highest_units, units);
    }
    if (side->one->room->fuel.has_price)
        side->fuel_usd = side->units * side->one->room->fuel.price;
}

/* Units of the other side count as so many of the first side's as cost as much, or without prices
 * as hold as much heat, so that either may burn another fuel. */
static double study_units(const struct th_side_by_side *both, int side, double units)
{
    const struct th_fuel *first = &both->sides[0].one->room->fuel;
    const struct th_fuel *own = &both->sides[side].one->room->fuel;
    return units * (both->has_money ? own->price / first->price : own->hhv_j / first->hhv_j);
}

static double blowers_usd(const struct th_side_by_side *both, const struct th_side *side)
{
    return side->one->room->copies * side->trial.mean.sum[TH_ELECTRICITY] *
           both->sides[0].one->room->money.electricity_j;
}

/* The barn as something bought; without a first cost only what it burns. */
static struct th_outlay outlay_of(const struct th_side_by_side *both, int side, double units,
                                  int years)
{
    const struct th_side *s = &both->sides[side];
    const struct th_money *money = &s->one->room->money;
    struct th_outlay outlay = {.fuel_units_year = study_units(both, side, units),
                               .electricity_usd_year = blowers_usd(both, s)};
    const struct th_purchase building = {.cost_usd = money->first_cost_usd,
                                         .life_years = money->first_life_years};
    if (both->has_first)
        th_outlay_buy(&outlay, s->one->room->copies, &building, years);
    return outlay;
}

/* Net savings of the saver with so much fuel each; without a first cost what it saves is worth. */
static enum th_code net_of(const struct th_side_by_side *both, const double units[2],
                           struct th_return *found, struct th_error *err)
{
    const struct th_study study = th_study_of(both->sides[0].one->room);
    const int saver = both->saver;
    const struct th_outlay other = outlay_of(both, 1 - saver, units[1 - saver], study.years);
    const struct th_outlay better = outlay_of(both, saver, units[saver], study.years);
    return th_payback_compare(&other, &better, &study, found, err);
}

/* Each draw of a farm, over all winters: a barn meets many. */
struct draws {
    size_t n;
    double *saved_units, *worth_usd, *net_usd;
};

static enum th_code fill_draw(const struct th_side_by_side *both, const struct th_outlook *outlook,
                              size_t d, struct draws *draws, struct th_error *err)
{
    const double *z = outlook->z + d * (size_t)outlook->n_z;
    double units[2] = {0.0, 0.0};
    struct th_return found = {0};
    for (int i = 0; i < 2; i++)
        for (size_t w = 0; w < outlook->n_winters; w++)
            units[i] += both->sides[i].one->room->copies *
                        exp(th_outlook_ln_gal(outlook, i, w, z)) / (double)outlook->n_winters;
    draws->saved_units[d] = units[1 - both->saver] - units[both->saver];
    const enum th_code code = both->has_money ? net_of(both, units, &found, err) : TH_OK;
    draws->worth_usd[d] = found.savings_usd;
    draws->net_usd[d] = found.net_usd;
    return code;
}

static void tenths(double *values, size_t n, double *low, double *high)
{
    gsl_sort(values, 1, n);
    *low = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.1);
    *high = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.9);
}

static enum th_code find_ranges(struct th_side_by_side *both, const struct th_outlook *outlook,
                                struct th_error *err)
{
    const size_t n = outlook->n_draws;
    double *const values = malloc(3 * n * sizeof *values);
    if (!values)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    struct draws draws = {n, values, values + n, values + 2 * n};
    enum th_code code = TH_OK;
    size_t pays = 0;
    for (size_t d = 0; d < n && code == TH_OK; d++) {
        code = fill_draw(both, outlook, d, &draws, err);
        pays += draws.net_usd[d] > 0.0;
    }
    if (code == TH_OK) {
        tenths(draws.saved_units, n, &both->saved_low_units, &both->saved_high_units);
        tenths(draws.worth_usd, n, &both->worth_low_usd, &both->worth_high_usd);
        tenths(draws.net_usd, n, &both->net_low_usd, &both->net_high_usd);
        both->chance = (double)pays / (double)n;
    }
    free(values);
    return code;
}

/* Dollars of a mean winter, and over the study. */
static enum th_code find_money(struct th_side_by_side *both, struct th_error *err)
{
    const struct th_study study = th_study_of(both->sides[0].one->room);
    const double units[2] = {both->sides[0].units, both->sides[1].units};
    const struct th_side *saver = &both->sides[both->saver];
    const struct th_side *other = &both->sides[1 - both->saver];
    enum th_code code = net_of(both, units, &both->payback, err);
    for (int i = 0; i < 2 && code == TH_OK; i++) {
        const struct th_outlay outlay = outlay_of(both, i, units[i], study.years);
        code = th_payback_lcc(&outlay, &study, &both->sides[i].life_usd, err);
    }
    both->saved_usd =
        other->fuel_usd - saver->fuel_usd + blowers_usd(both, other) - blowers_usd(both, saver);
    both->worth_usd = both->payback.savings_usd;
    both->extra_usd = saver->first_usd - other->first_usd;
    return code;
}

static void find_harm(struct th_side_by_side *both)
{
    struct th_hardship of_other[TH_TRIAL_SEASONS_MAX], of_saver[TH_TRIAL_SEASONS_MAX];
    const struct th_side *a = &both->sides[both->saver], *b = &both->sides[1 - both->saver];
    const int n = shared_winters(&b->trial, &a->trial, of_other, of_saver);
    both->harm = th_harm_between(of_other, of_saver, n, &both->added);
    if (th_heaters_fall_short(b->one->room, b->size.worst.most_w, a->one->room,
                              a->size.worst.most_w))
        both->harm = TH_HARM_HEAT;
}

static enum th_code weigh(struct th_side_by_side *both, const struct th_outlook *outlook,
                          struct th_error *err)
{
    const struct th_fuel *a = &both->sides[0].one->room->fuel, *b = &both->sides[1].one->room->fuel;
    for (int i = 0; i < 2; i++)
        find_units(&both->sides[i], outlook, i);
    both->n_winters = (int)outlook->n_winters;
    both->same_gas = a->gas == b->gas;
    both->has_money = a->has_price && b->has_price && a->price > 0.0;
    both->has_first =
        both->has_money && both->sides[0].first_usd > 0.0 && both->sides[1].first_usd > 0.0;
    both->saver = study_units(both, 1, both->sides[1].units) < both->sides[0].units;
    both->saved_units = both->sides[1 - both->saver].units - both->sides[both->saver].units;
    find_harm(both);
    enum th_code code = both->has_money ? find_money(both, err) : TH_OK;
    return code == TH_OK ? find_ranges(both, outlook, err) : code;
}

enum th_code th_side_by_side_run(struct th_side_by_side *both, struct th_runs *runs,
                                 const struct th_case *cases, struct th_error *err)
{
    struct th_outlook outlook;
    *both = (struct th_side_by_side){0};
    enum th_code code = TH_OK;
    for (int i = 0; i < 2 && code == TH_OK; i++)
        code = run_side(&both->sides[i], runs, &cases[i], err);
    if (code != TH_OK)
        return code;
    code = th_outlook_init(&outlook, runs, cases, 2, err);
    if (code == TH_OK)
        code = th_outlook_draw(&outlook, err);
    if (code == TH_OK)
        code = weigh(both, &outlook, err);
    th_outlook_finish(&outlook);
    return code;
}
