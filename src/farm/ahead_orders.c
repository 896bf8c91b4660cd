/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The last day to order on, and whether the tanks make vapour until that truck comes. */
#include "ahead_parts.h"
#include "plan_parts.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

static double size_of(const struct th_tank *tank)
{
    return tank->count * tank->capacity_gal;
}

/* Days after the first on which the truck of an order of day `k` comes. */
static size_t comes(const struct th_ahead_work *work, const struct th_tank *tank, size_t k)
{
    return (size_t)(th_tank_truck_day(tank, work->in->day + (long)k + tank->lead_days) -
                    work->in->day);
}

/* Records may show barns that burn less than their files have; a tank is never ordered later for
   that. */
static double order_scale(const struct th_ahead_work *work)
{
    const double scale = work->now->scale;
    return work->plan->in->n_records > 0 ? fmax(scale, work->now->given_scale) : scale;
}

/* Level of a group after the use of each day, without a truck. */
static void run_down(struct th_ahead_work *work, int tank, double *level_gal)
{
    const struct th_ahead_case *now = work->now;
    const double scale = order_scale(work);
    double gal = th_ahead_start_gal(work, tank, scale);
    for (size_t d = work->before; d < work->n_days; d++) {
        gal -= th_plan_tank_share(work->plan->in, tank) *
               (scale * now->winter->barns_gal[d] + now->winter->uses_gal[d]);
        level_gal[d - work->before] = gal;
    }
}

/* For each day on which the order could go out: cases that are then too low. */
struct risks {
    double quarter[TH_FUEL_YEAR_DAYS]; /* below the least level on the day of the order */
    double reserve[TH_FUEL_YEAR_DAYS]; /* below the reserve when the truck comes */
};

static void add_risks(struct th_ahead_work *work, int i, size_t n, struct risks *risks)
{
    const struct th_tank *tank = &work->plan->in->tanks[i];
    const double one = 1.0 / (double)work->n_cases;
    double level_gal[TH_FUEL_YEAR_DAYS] = {0};
    run_down(work, i, level_gal);
    for (size_t k = 0; k < n; k++) {
        const size_t a = comes(work, tank, k);
        const double then_gal = level_gal[a < n ? a : n - 1];
        risks->quarter[k] += one * (level_gal[k] < TH_AHEAD_LEVEL_LEAST * size_of(tank));
        risks->reserve[k] += one * (then_gal < tank->reserve_share * size_of(tank));
    }
}

/* The first day whose risk is too high; n without one. */
static size_t first_above(const double *risk, size_t n)
{
    size_t k = 0;
    while (k < n && risk[k] <= TH_AHEAD_RISK)
        k++;
    return k;
}

static void choose_day(const struct th_ahead_work *work, const struct th_tank *tank, size_t n,
                       const struct risks *risks, struct th_ahead_order *order)
{
    const size_t quarter = first_above(risks->quarter, n);
    const size_t reserve = first_above(risks->reserve, n);
    const size_t first = quarter < reserve ? quarter : reserve;
    const size_t last = first > 0 ? first - 1 : 0;
    order->needed = first < n;
    order->late = first == 0;
    order->by_quarter = quarter < reserve;
    order->by_day = work->in->day + (long)last;
    order->comes_day = work->in->day + (long)comes(work, tank, last);
}

/* The level when that truck comes, in all cases. */
static enum th_code level_then(struct th_ahead_work *work, int i, size_t n,
                               struct th_ahead_order *order, struct th_error *err)
{
    const struct th_tank *tank = &work->plan->in->tanks[i];
    const size_t a = (size_t)(order->comes_day - work->in->day);
    double level_gal[TH_FUEL_YEAR_DAYS] = {0};
    double *const then_gal = calloc(work->n_cases + 1, sizeof *then_gal);
    if (!then_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t c = 0; c < work->n_cases; c++) {
        th_ahead_case_begin(work, c);
        run_down(work, i, level_gal);
        then_gal[c] = fmax(level_gal[a < n ? a : n - 1], 0.0);
        order->room_gal += (tank->fill_share * size_of(tank) - then_gal[c]) / (double)work->n_cases;
        order->counted_gal +=
            th_ahead_start_gal(work, i, order_scale(work)) / (double)work->n_cases;
    }
    gsl_sort(then_gal, 1, work->n_cases);
    order->level_share =
        gsl_stats_quantile_from_sorted_data(then_gal, 1, work->n_cases, TH_AHEAD_RISK) /
        size_of(tank);
    free(then_gal);
    return TH_OK;
}

/* Vapour at that level in every winter from now on; the worst is kept. */
static enum th_code check_vapour(const struct th_ahead_work *work, int i,
                                 struct th_ahead_order *order, struct th_error *err)
{
    const size_t n = work->n_days - work->before;
    double *const demand_w = calloc(24 * n, sizeof *demand_w);
    double level_gal[TH_FUEL_YEAR_DAYS] = {0};
    if (!demand_w)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t d = 0; d < n; d++)
        level_gal[d] = order->level_share * size_of(&work->plan->tanks[i]);
    for (size_t w = 0; w < work->n_winters; w++) {
        const struct th_fuel_year *year = &work->plan->demand.years[work->winters[w].year];
        const size_t from = 24 * (work->winters[w].first + work->before);
        const size_t hours = 24 * (from / 24 + n < year->n_days ? n : year->n_days - from / 24);
        struct th_vapour_check check;
        for (size_t h = 0; h < hours; h++)
            demand_w[h] = th_plan_tank_share(work->plan->in, i) * year->hour_w[from + h];
        th_tank_vapour_check(&work->plan->tanks[i], hours, demand_w, year->hour_out_c + from,
                             level_gal, &check);
        if (!check.asked || (order->vapour.asked && check.worst_ratio >= order->vapour.worst_ratio))
            continue;
        order->vapour = check;
        order->coldest_c = year->hour_out_c[from + check.worst_hour];
    }
    free(demand_w);
    return TH_OK;
}

static enum th_code order_for(struct th_ahead_work *work, int i, struct th_ahead_order *order,
                              struct th_error *err)
{
    const struct th_tank *tank = &work->plan->in->tanks[i];
    const size_t n = work->n_days - work->before;
    struct risks *const risks = calloc(1, sizeof *risks);
    if (!risks)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t c = 0; c < work->n_cases; c++) {
        th_ahead_case_begin(work, c);
        add_risks(work, i, n, risks);
    }
    order->reading_gal = work->in->gauges[i].share * size_of(tank);
    choose_day(work, tank, n, risks, order);
    free(risks);
    const enum th_code code = level_then(work, i, n, order, err);
    return code == TH_OK ? check_vapour(work, i, order, err) : code;
}

enum th_code th_ahead_orders(struct th_ahead_work *work, struct th_ahead *ahead,
                             struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < work->plan->in->n_tanks && code == TH_OK; i++)
        if (work->in->gauges[i].read)
            code = order_for(work, i, &ahead->orders[i], err);
    return code;
}
