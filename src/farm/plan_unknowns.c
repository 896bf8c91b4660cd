/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure the gallons are, the weather apart: the barns' own numbers, and a week's slip. */
#include "plan_parts.h"

#include "turnheat/variant.h"

#include <math.h>
#include <stdlib.h>

#define SLIP_DAYS 7

static int nearest_year(const struct th_plan *plan, double gal)
{
    const struct th_fuel_year *years = plan->demand.years;
    int best = -1;
    for (int y = 0; y < plan->demand.n; y++)
        if (years[y].usable &&
            (best < 0 || fabs(years[y].barns_gal - gal) < fabs(years[best].barns_gal - gal)))
            best = y;
    return best;
}

/* Adds one barn file. */
static enum th_code add_barn(struct th_runs *runs, struct th_plan_unknowns *u,
                             const struct th_case *one, const struct th_demand_room *room, int year,
                             struct th_error *err)
{
    struct th_risk_range ranges[TH_UNKNOWNS];
    enum th_code code = th_risk_one_by_one(runs, one->room, one->climate, year, ranges, err);
    if (code != TH_OK)
        return code;
    u->base_j += one->room->copies * th_demand_season_j(room, year);
    for (int i = 0; i < TH_UNKNOWNS; i++) {
        u->ranges[i].low_j += one->room->copies * ranges[i].low_j;
        u->ranges[i].high_j += one->room->copies * ranges[i].high_j;
    }
    return TH_OK;
}

enum th_code th_plan_unknowns(struct th_runs *runs, struct th_plan *plan,
                              const struct th_plan_in *in, struct th_error *err)
{
    struct th_plan_unknowns *u = &plan->unknowns;
    struct th_spread weather;
    enum th_code code = th_plan_spread(plan, th_plan_barns_gal, 0, &weather, err);
    if (code != TH_OK)
        return code;
    u->year = nearest_year(plan, weather.mean);
    for (int i = 0; i < in->n_cases && code == TH_OK; i++)
        code = add_barn(runs, u, &plan->likely.cases[i], &plan->demand.rooms[i],
                        plan->demand.years[u->year].year, err);
    return code;
}

/* Mean change of a season's gas over the seasons asked for that both cover; `n` of them. */
static double mean_change_j(const struct th_demand_room *now, const struct th_winters *later,
                            int *n)
{
    double sum_j = 0.0;
    *n = 0;
    for (int i = 0; i < later->n; i++) {
        const struct th_season *season = &later->seasons[i];
        const double now_j = th_demand_season_j(now, season->year);
        if (!season->counted || isnan(now_j))
            continue;
        sum_j += th_tally_gas_j(&season->total) - now_j;
        (*n)++;
    }
    return *n > 0 ? sum_j / *n : 0.0;
}

static enum th_code add_slip(const struct th_runs *runs, int request, struct th_plan *plan,
                             const struct th_room *room, const struct th_demand_room *now,
                             struct th_error *err)
{
    struct th_winters later;
    int n = 0;
    const enum th_code code = th_runs_winters(runs, request, &later, err);
    if (code != TH_OK)
        return code;
    plan->slip_gal += room->copies * mean_change_j(now, &later, &n) / room->fuel.hhv_j;
    plan->has_slip = plan->has_slip && n > 0;
    th_winters_finish(&later);
    return TH_OK;
}

enum th_code th_plan_slip(struct th_runs *runs, struct th_plan *plan, const struct th_plan_in *in,
                          struct th_error *err)
{
    int *requests = malloc((size_t)in->n_cases * sizeof *requests);
    if (!requests)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < in->n_cases; i++) {
        const struct th_case *one = &plan->likely.cases[i];
        struct th_room later = *one->room;
        th_room_place_later(&later, SLIP_DAYS);
        requests[i] = th_runs_add(runs, &later, one->climate, one->first_year, one->last_year);
    }
    enum th_code code = th_runs_do(runs, "a week's slip", err);
    plan->has_slip = true;
    for (int i = 0; i < in->n_cases && code == TH_OK; i++)
        code = add_slip(runs, requests[i], plan, plan->likely.cases[i].room, &plan->demand.rooms[i],
                        err);
    free(requests);
    return code;
}
