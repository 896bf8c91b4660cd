/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a way to buy is beside all from one, and at which posted price it no longer pays. */
#include "split_cases.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

/* Volumes of one offer that are looked at before the best is refined. */
#define STEPS 33
#define HALVINGS 8
/* Posted prices are followed down to a fifth and up to five times what they are. */
#define FACTOR_MOST 5.0
#define ITERATIONS_MAX 60
#define TOLERANCE 1e-6

/* One offer alone with so many gallons, where that is cheaper than `best`. */
static void try_alone(const struct th_split_search *s, size_t offer, double gal,
                      struct th_split *best)
{
    double volume_gal[TH_SPLIT_OFFERS_MAX] = {0};
    struct th_split other;
    volume_gal[offer] = gal;
    th_split_weigh(s, TH_SPLIT_CASES, volume_gal, &other);
    if (other.mean_usd < best->mean_usd)
        *best = other;
}

struct th_split th_split_alone(const struct th_split_search *s, size_t offer)
{
    const struct th_contract *const c = &s->offers[offer];
    const double nothing[TH_SPLIT_OFFERS_MAX] = {0};
    double step_gal = s->search_gal / (STEPS - 1);
    struct th_split best;
    th_split_weigh(s, TH_SPLIT_CASES, nothing, &best);
    if (c->kind == TH_CONTRACT_SPOT)
        return best;
    if (c->kind == TH_CONTRACT_CAPPED && c->volume_gal == 0.0) {
        try_alone(s, offer, HUGE_VAL, &best);
        return best;
    }
    for (int i = 1; i < STEPS; i++)
        try_alone(s, offer, th_contract_sold_gal(c, i * step_gal, s->search_gal), &best);
    for (int i = 0; i < HALVINGS; i++) {
        const double at = best.volume_gal[offer];
        step_gal /= 2.0;
        try_alone(s, offer, th_contract_sold_gal(c, at - step_gal, s->search_gal), &best);
        try_alone(s, offer, th_contract_sold_gal(c, at + step_gal, s->search_gal), &best);
    }
    return best;
}

/* All posted prices times `factor`. */
static double mean_usd(const struct th_split_search *s, const struct th_split_set *set,
                       double factor)
{
    struct th_split_sums sums = {0};
    double usd = 0.0;
    for (size_t i = 0; i < s->n_cases; i++) {
        struct th_split_case one = s->cases[i];
        for (int p = 0; p < TH_PRICE_PERIODS; p++)
            one.posted_usd_gal[p] *= factor;
        usd += th_split_case_usd(s, set, &one, &sums);
    }
    return usd / (double)s->n_cases;
}

struct break_even {
    const struct th_split_search *s;
    struct th_split_set set;
    double none_usd;
};

/* What the way costs beyond buying as you go, which posted prices move in proportion. */
static double beyond(double factor, void *context)
{
    const struct break_even *const b = context;
    return mean_usd(b->s, &b->set, factor) - factor * b->none_usd;
}

static double find_factor(struct break_even *b)
{
    gsl_function f = {.function = beyond, .params = b};
    double low = 1.0 / FACTOR_MOST, high = FACTOR_MOST, factor = NAN;
    if (!(beyond(low, b) > 0.0 && beyond(high, b) < 0.0))
        return NAN;
    gsl_root_fsolver *const solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return NAN;
    gsl_root_fsolver_set(solver, &f, low, high);
    for (int i = 0; i < ITERATIONS_MAX; i++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
            break;
        factor = gsl_root_fsolver_root(solver);
        low = gsl_root_fsolver_x_lower(solver);
        high = gsl_root_fsolver_x_upper(solver);
        if (gsl_root_test_interval(low, high, TOLERANCE, 0.0) == GSL_SUCCESS)
            break;
    }
    gsl_root_fsolver_free(solver);
    return factor;
}

void th_split_break_even(const struct th_split_search *s, const double *volume_gal,
                         double *posted_usd_gal, double *break_even_usd_gal)
{
    const double nothing[TH_SPLIT_OFFERS_MAX] = {0};
    struct th_split_sums sums = {0};
    struct break_even b = {.s = s};
    bool any = false;
    th_split_set_of(s, nothing, &b.set);
    for (size_t i = 0; i < s->n_cases; i++)
        b.none_usd += th_split_case_usd(s, &b.set, &s->cases[i], &sums) / (double)s->n_cases;
    th_split_set_of(s, volume_gal, &b.set);
    for (size_t k = 0; k < s->n; k++)
        any = any || volume_gal[k] > 0.0;
    *posted_usd_gal = b.none_usd * (double)s->n_cases / th_split_all_gal(s, s->n_cases);
    *break_even_usd_gal = any ? *posted_usd_gal * find_factor(&b) : NAN;
}
