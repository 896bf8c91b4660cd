/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The levels at which to order. What was learnt of the rooms may raise them, never lower
   them. */
#include "plan_parts.h"

#include <math.h>
#include <stdlib.h>

/* October to March of every usable year, one after the other. */
static enum th_code level_for(const struct th_demand *demand, const struct th_plan_in *in,
                              int group, double *reorder_gal, struct th_error *err)
{
    enum { FIRST = 92, DAYS = 182 };
    const double share = th_plan_tank_share(in, group);
    double *days = calloc((size_t)demand->n_usable * DAYS + 1, sizeof *days);
    size_t n = 0;
    double found_gal = 0.0;
    if (!days)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int y = 0; y < demand->n; y++)
        for (int day = FIRST; demand->years[y].usable && day < FIRST + DAYS; day++)
            days[n++] = share * demand->years[y].day_gal[day];
    const enum th_code code = th_tank_reorder_gal(&in->tanks[group], n, days, &found_gal, err);
    if (code == TH_OK)
        *reorder_gal = fmax(*reorder_gal, found_gal);
    free(days);
    return code;
}

static enum th_code levels_for(struct th_plan *plan, const struct th_demand *demand,
                               struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int group = 0; group < plan->in->n_tanks && code == TH_OK; group++)
        code = level_for(demand, plan->in, group, &plan->reorder_gal[group], err);
    return code;
}

enum th_code th_plan_reorder(struct th_runs *runs, struct th_plan *plan, struct th_error *err)
{
    const struct th_plan_in *const in = plan->in;
    struct th_demand given = {0};
    enum th_code code = levels_for(plan, &plan->demand, err);
    if (code != TH_OK || in->n_tanks == 0 || !plan->learnt)
        return code;
    code = th_demand_run(runs, in->cases, in->n_cases, in->uses, in->n_uses, &given, err);
    if (code == TH_OK)
        code = levels_for(plan, &given, err);
    th_demand_finish(&given);
    return code;
}
