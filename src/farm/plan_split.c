/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several offers at once, over winters, farms that fit what is known, and prices. */
#include "plan_parts.h"

#include <stdlib.h>

/* The outlook's winter of a season, or -1. */
static long winter_of(const struct th_outlook *outlook, int year)
{
    for (size_t w = 0; w < outlook->n_winters; w++)
        if (outlook->years[w] == year)
            return (long)w;
    return -1;
}

/* What a farm of the outlook takes of the tanks in a winter, over what the plan has; other users
   take the same. */
static double scale_of(const struct th_plan *plan, const struct th_fuel_year *year, size_t farm)
{
    const struct th_outlook *o = &plan->outlook;
    const long winter = winter_of(o, year->year);
    if (winter < 0)
        return 1.0;
    const double planned_gal = th_plan_season_gal(plan, year->year);
    const double farm_gal = o->gal[farm * o->n_winters + (size_t)winter];
    return (farm_gal + year->uses_gal) / (planned_gal + year->uses_gal);
}

enum th_code th_plan_split(struct th_plan *plan, const struct th_plan_market *market,
                           struct th_error *err)
{
    const struct th_plan_in *const in = plan->in;
    const size_t winters = market->paths.n_winters, farms = plan->outlook.n_draws;
    if (farms == 0 || !market->winters)
        return TH_OK;
    double *const scale = calloc(farms * winters, sizeof *scale);
    if (!scale)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    size_t w = 0;
    for (int y = 0; y < plan->demand.n; y++) {
        if (!plan->demand.years[y].usable)
            continue;
        for (size_t farm = 0; farm < farms; farm++)
            scale[farm * winters + w] = scale_of(plan, &plan->demand.years[y], farm);
        w++;
    }
    const struct th_split_market all = {.market = market->calm,
                                        .n_farms = farms,
                                        .scale = scale,
                                        .enough_winters =
                                            plan->answer.now.kind == TH_RANGE_P10_P90};
    const enum th_code code =
        th_split_run(&all, (size_t)in->n_contracts, in->contracts, &plan->buying.split, err);
    plan->buying.has_split = code == TH_OK;
    free(scale);
    return code;
}
