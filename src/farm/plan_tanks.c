/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tanks through every fuel year. */
#include "plan_parts.h"

#include <stdlib.h>
#include <string.h>

static double capacity_gal(const struct th_tank *tank)
{
    return tank->count * tank->capacity_gal;
}

double th_plan_tank_share(const struct th_plan_in *in, int i)
{
    double given = 0.0, free_gal = 0.0;
    for (int k = 0; k < in->n_tanks; k++) {
        given += in->tanks[k].use_share;
        free_gal += in->tanks[k].use_share > 0.0 ? 0.0 : capacity_gal(&in->tanks[k]);
    }
    if (in->tanks[i].use_share > 0.0) /* 33, 33 and 33 % are thirds */
        return free_gal > 0.0 ? in->tanks[i].use_share : in->tanks[i].use_share / given;
    return (1.0 - given) * capacity_gal(&in->tanks[i]) / free_gal;
}

/* One group in one year. */
struct group_year {
    double day_gal[TH_FUEL_YEAR_DAYS];
    double level_gal[TH_FUEL_YEAR_DAYS];
    double hour_w[24 * TH_FUEL_YEAR_DAYS];
    struct th_delivery deliveries[TH_FUEL_YEAR_DAYS];
};

static int by_day(const void *a, const void *b)
{
    const struct th_delivery *x = a, *y = b;
    return (x->day > y->day) - (x->day < y->day);
}

void th_plan_by_day(struct th_delivery *deliveries, size_t n)
{
    qsort(deliveries, n, sizeof *deliveries, by_day);
}

static void note_group(struct th_tank_year *out, const struct th_tank *tank,
                       const struct th_fuel_year *year, const struct group_year *g,
                       const struct th_tank_run *run)
{
    struct th_vapour_check vapour;
    size_t days, start;
    bool emptied;
    const double size = capacity_gal(tank);
    th_tank_vapour_check(tank, 24 * year->n_days, g->hour_w, year->hour_out_c, g->level_gal,
                         &vapour);
    th_tank_days_of_supply(year->n_days, g->day_gal, tank->fill_share * size, &days, &start,
                           &emptied);
    for (size_t day = 0; day < year->n_days; day++)
        out->level_gal[day] += g->level_gal[day];
    out->delivered_gal += run->delivered_gal;
    out->run_out_days += run->run_out_days;
    out->short_gal += run->short_gal;
    out->start_gal += run->start_gal;
    out->end_gal += run->end_gal;
    out->hours_short += vapour.hours_short;
    if (run->lowest_gal / size < out->lowest_share)
        out->lowest_share = run->lowest_gal / size;
    if (days < out->days_supply)
        out->days_supply = days;
    memcpy(&out->deliveries[out->n_deliveries], g->deliveries,
           run->n_deliveries * sizeof *g->deliveries);
    out->n_deliveries += run->n_deliveries;
}

static enum th_code run_group(struct th_plan *plan, const struct th_plan_in *in, int group, int y,
                              struct group_year *g, struct th_error *err)
{
    const struct th_fuel_year *year = &plan->demand.years[y];
    const struct th_tank *tank = &plan->tanks[group];
    const double share = th_plan_tank_share(in, group);
    struct th_tank_run run;
    for (size_t day = 0; day < year->n_days; day++)
        g->day_gal[day] = share * year->day_gal[day];
    for (size_t hour = 0; hour < 24 * year->n_days; hour++)
        g->hour_w[hour] = share * year->hour_w[hour];
    const enum th_code code = th_tank_run(
        tank, plan->reorder_gal[group], tank->start_share * capacity_gal(tank), year->first_day,
        year->n_days, g->day_gal, g->deliveries, g->level_gal, &run, err);
    if (code == TH_OK)
        note_group(&plan->tank_years[y], tank, year, g, &run);
    return code;
}

size_t th_plan_weekly(long first_day, size_t n_days, const double *day_gal,
                      struct th_delivery *deliveries)
{
    size_t n = 0;
    double week_gal = 0.0;
    for (size_t day = 0; day < n_days; day++) {
        week_gal += day_gal[day];
        if (day % 7 != 6 && day + 1 < n_days)
            continue;
        deliveries[n++] = (struct th_delivery){first_day + (long)day, week_gal};
        week_gal = 0.0;
    }
    return n;
}

static enum th_code run_year(struct th_plan *plan, const struct th_plan_in *in, int y,
                             struct group_year *g, struct th_error *err)
{
    const size_t most = (size_t)(in->n_tanks > 0 ? in->n_tanks : 1) * TH_FUEL_YEAR_DAYS;
    const struct th_fuel_year *year = &plan->demand.years[y];
    struct th_tank_year *out = &plan->tank_years[y];
    *out = (struct th_tank_year){.lowest_share = 1.0, .days_supply = year->n_days};
    out->deliveries = calloc(most, sizeof *out->deliveries);
    if (!out->deliveries)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (in->n_tanks == 0)
        out->n_deliveries =
            th_plan_weekly(year->first_day, year->n_days, year->day_gal, out->deliveries);
    for (size_t i = 0; i < out->n_deliveries; i++)
        out->delivered_gal += out->deliveries[i].gal;
    for (int group = 0; group < in->n_tanks; group++) {
        const enum th_code code = run_group(plan, in, group, y, g, err);
        if (code != TH_OK)
            return code;
    }
    th_plan_by_day(out->deliveries, out->n_deliveries);
    return TH_OK;
}

/* Tanks whose outer size is not given get that of their capacity. */
static enum th_code measure_tanks(struct th_plan *plan, const struct th_plan_in *in,
                                  struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < in->n_tanks && code == TH_OK; i++) {
        struct th_tank *tank = &plan->tanks[i];
        *tank = in->tanks[i];
        if (tank->diameter_m <= 0.0 || tank->length_m <= 0.0)
            code = th_tank_size(tank->capacity_gal, &tank->diameter_m, &tank->length_m, err);
    }
    return code;
}

enum th_code th_plan_tanks(struct th_plan *plan, const struct th_plan_in *in, struct th_error *err)
{
    struct group_year *g = malloc(sizeof *g);
    plan->tank_years = calloc((size_t)plan->demand.n, sizeof *plan->tank_years);
    if (!g || !plan->tank_years) {
        free(g);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    enum th_code code = measure_tanks(plan, in, err);
    for (int y = 0; y < plan->demand.n && code == TH_OK; y++)
        if (plan->demand.years[y].usable)
            code = run_year(plan, in, y, g, err);
    free(g);
    return code;
}
