/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each way of buying costs over winters and prices, and how much of a contract to take. */
#include "plan_parts.h"

#include "turnheat/booking.h"

#include <math.h>
#include <stdlib.h>

enum th_code th_plan_market_open(struct th_plan_market *m, const struct th_plan *plan,
                                 struct th_error *err)
{
    const struct th_plan_in *const in = plan->in;
    const size_t n = (size_t)plan->demand.n_usable;
    *m = (struct th_plan_market){0};
    if (!(in->price->posted_usd_gal > 0.0) || in->n_contracts == 0)
        return TH_OK;
    double *season_gal = malloc(n * sizeof *season_gal);
    m->winters = malloc(n * sizeof *m->winters);
    if (!season_gal || !m->winters) {
        free(season_gal);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    for (int y = 0, k = 0; y < plan->demand.n; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        m->winters[k] =
            (struct th_winter){plan->demand.years[y].year, t->n_deliveries, t->deliveries};
        season_gal[k++] = t->delivered_gal;
    }
    const enum th_code code =
        th_price_paths_init(&m->paths, in->price, in->n_paths, in->seed, n, season_gal, err);
    free(season_gal);
    if (code == TH_OK)
        th_price_paths_keep(&m->paths);
    m->calm = (struct th_market){&m->paths, m->winters, 0.0};
    m->tight = (struct th_market){&m->paths, m->winters, 1.0};
    return code;
}

void th_plan_market_close(struct th_plan_market *m)
{
    th_price_paths_finish(&m->paths);
    free(m->winters);
}

static enum th_code weigh_offer(struct th_plan_offer *offer, const struct th_plan_market *m,
                                struct th_error *err)
{
    offer->winter_usd = calloc(m->paths.n_winters + 1, sizeof *offer->winter_usd);
    if (!offer->winter_usd)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code =
        th_contract_costs(offer->contract, &m->calm, 1, NULL, &offer->calm, offer->winter_usd, err);
    if (code != TH_OK)
        return code;
    return th_contract_costs(offer->contract, &m->tight, 1, NULL, &offer->tight, NULL, err);
}

/* Up to a fifth more than the winter that takes the most, the whole rounded up to 500 gal. */
static double step_of(const struct th_plan_market *m)
{
    double most_gal = 0.0;
    for (size_t w = 0; w < m->paths.n_winters; w++) {
        double gal = 0.0;
        for (size_t i = 0; i < m->winters[w].n; i++)
            gal += m->winters[w].deliveries[i].gal;
        most_gal = fmax(most_gal, gal);
    }
    return 500.0 * ceil(1.2 * most_gal / 500.0) / (TH_PLAN_VOLUMES - 1);
}

/* The best volume by formula, where its conditions hold: booked, settled at market. */
static enum th_code add_formula(struct th_plan_volume *v, const struct th_plan_market *m,
                                struct th_error *err)
{
    const size_t n = m->paths.n_winters;
    struct th_booking_terms terms;
    struct th_error why;
    if (n < 2)
        return TH_OK;
    double *taken_gal = calloc(n, sizeof *taken_gal);
    if (!taken_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_booking_terms(v->contract, &m->calm, &terms, taken_gal, &why);
    if (code == TH_OK) {
        code = th_booking_best(n, taken_gal, &terms, &v->formula_gal, &why);
        v->has_formula = code == TH_OK;
    }
    free(taken_gal);
    return code == TH_ERR_MEMORY ? th_fail(err, code, "out of memory") : TH_OK;
}

static enum th_code weigh_volumes(struct th_plan_volume *v, double step_gal,
                                  const struct th_plan_market *m, struct th_error *err)
{
    double volumes[TH_PLAN_VOLUMES];
    const double end_gal = step_gal * (TH_PLAN_VOLUMES - 1), least_gal = v->contract->least_gal;
    const double most_gal = th_contract_sold_gal(v->contract, end_gal, end_gal);
    const double first_gal = least_gal > 0.0 ? least_gal : most_gal / (TH_PLAN_VOLUMES - 1);
    for (size_t k = 0; k < TH_PLAN_VOLUMES; k++)
        volumes[k] =
            k == 0 ? 0.0
                   : first_gal + (most_gal - first_gal) * (double)(k - 1) / (TH_PLAN_VOLUMES - 2);
    const enum th_code code =
        th_contract_costs(v->contract, &m->calm, TH_PLAN_VOLUMES, volumes, v->costs, NULL, err);
    if (code != TH_OK)
        return code;
    v->choice = th_contract_choose(TH_PLAN_VOLUMES, v->costs);
    return add_formula(v, m, err);
}

enum th_code th_plan_offers(struct th_plan *plan, const struct th_plan_market *m,
                            struct th_error *err)
{
    const struct th_plan_in *const in = plan->in;
    struct th_plan_buying *const b = &plan->buying;
    enum th_code code = TH_OK;
    if (!m->winters)
        return TH_OK;
    b->step_gal = step_of(m);
    b->volumes = calloc((size_t)in->n_contracts, sizeof *b->volumes);
    if (!b->volumes)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < in->n_contracts && code == TH_OK; i++) {
        const struct th_contract *c = &in->contracts[i];
        b->offers[b->n_offers].contract = c;
        code = weigh_offer(&b->offers[b->n_offers++], m, err);
        if (code != TH_OK || (c->kind != TH_CONTRACT_PREPAID && c->kind != TH_CONTRACT_BOOKED))
            continue;
        b->volumes[b->n_volumes].contract = c;
        code = weigh_volumes(&b->volumes[b->n_volumes++], b->step_gal, m, err);
    }
    return code;
}
