/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan year by year. */
#include "plan_parts.h"

#include <stdlib.h>

double th_plan_barns_gal(const struct th_plan *plan, int year, int index)
{
    (void)index;
    return plan->demand.years[year].barns_gal;
}

double th_plan_used_gal(const struct th_plan *plan, int year, int index)
{
    (void)index;
    return plan->demand.years[year].barns_gal + plan->demand.years[year].uses_gal;
}

double th_plan_delivered_gal(const struct th_plan *plan, int year, int index)
{
    (void)index;
    return plan->tank_years[year].delivered_gal;
}

double th_plan_month_gal(const struct th_plan *plan, int year, int index)
{
    return plan->demand.years[year].month_gal[index];
}

double th_plan_season_gal(const struct th_plan *plan, int year)
{
    double gal = 0.0;
    for (int b = 0; b < plan->demand.n_rooms; b++) {
        const struct th_room *room = plan->likely.cases[b].room;
        gal += room->copies * th_demand_season_j(&plan->demand.rooms[b], year) / room->fuel.hhv_j;
    }
    return gal;
}

enum th_code th_plan_spread(const struct th_plan *plan, th_plan_value *value, int index,
                            struct th_spread *spread, struct th_error *err)
{
    double *values = malloc((size_t)plan->demand.n_usable * sizeof *values);
    size_t n = 0;
    if (!values)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int y = 0; y < plan->demand.n; y++)
        if (plan->demand.years[y].usable)
            values[n++] = value(plan, y, index);
    const enum th_code code = th_spread_of(n, values, spread, err);
    free(values);
    return code;
}
