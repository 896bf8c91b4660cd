/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan year by year. */
#include "turnheat/plan.h"

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
