/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The levels at which to order. What fills say of the rooms may raise them, never lower them. */
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
                               const struct th_plan_in *in, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int group = 0; group < in->n_tanks && code == TH_OK; group++)
        code = level_for(demand, in, group, &plan->reorder_gal[group], err);
    return code;
}

/* The rooms as their fills show them; whether any was fitted. */
static bool put_fits_on(const struct th_plan_in *in, struct th_room *rooms, struct th_case *cases)
{
    bool any = false;
    for (int i = 0; i < in->n_cases; i++) {
        rooms[i] = *in->cases[i].room;
        any = any || rooms[i].fitted.given;
        th_unknowns_move(&rooms[i], rooms[i].fitted.z);
        cases[i] = in->cases[i];
        cases[i].room = &rooms[i];
    }
    return any;
}

enum th_code th_plan_reorder(struct th_runs *runs, struct th_plan *plan,
                             const struct th_plan_in *in, struct th_error *err)
{
    struct th_demand fitted = {0};
    struct th_room *rooms = calloc((size_t)in->n_cases + 1, sizeof *rooms);
    struct th_case *cases = calloc((size_t)in->n_cases + 1, sizeof *cases);
    enum th_code code = TH_OK;
    if (!rooms || !cases)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    else if (in->n_tanks > 0 && put_fits_on(in, rooms, cases)) {
        code = th_demand_run(runs, cases, in->n_cases, in->uses, in->n_uses, &fitted, err);
        if (code == TH_OK)
            code = levels_for(plan, &fitted, in, err);
        th_demand_finish(&fitted);
    }
    free(cases);
    free(rooms);
    return code == TH_OK ? levels_for(plan, &plan->demand, in, err) : code;
}
