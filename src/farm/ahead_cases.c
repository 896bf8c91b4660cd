/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The winters that go on from a day, the farms in them, and their trucks. */
#include "ahead_parts.h"
#include "plan_parts.h"

#include "turnheat/calendar.h"

#include <math.h>
#include <stdlib.h>

/* About as many cases as farms of an outlook, at least FARMS_MIN farms in each winter. */
#define FARMS_MIN 64
/* Strides without common factors, so that farms, winters and prices meet evenly. */
#define PATH_STRIDE 389

static size_t oldest_reading(const struct th_ahead_work *work)
{
    long days = 0;
    for (int i = 0; i < work->plan->in->n_tanks; i++)
        if (work->in->gauges[i].read && work->in->day - work->in->gauges[i].day > days)
            days = work->in->day - work->in->gauges[i].day;
    return (size_t)days;
}

static double uses_gal(const struct th_plan *plan, long day)
{
    double gal = 0.0;
    for (int i = 0; i < plan->in->n_uses; i++)
        gal += th_use_day_gal(&plan->in->uses[i], day);
    return gal;
}

static void set_winter(const struct th_ahead_work *work, int y, struct th_ahead_winter *winter)
{
    const struct th_plan *plan = work->plan;
    const struct th_fuel_year *year = &plan->demand.years[y];
    const long first = th_fuel_year_place(year, work->in->day) - (long)work->before;
    *winter = (struct th_ahead_winter){.year = y, .farm_row = -1, .first = (size_t)first};
    for (size_t w = 0; w < plan->outlook.n_winters && plan->outlook.n_draws > 0; w++)
        if (plan->outlook.years[w] == year->year)
            winter->farm_row = (long)w;
    for (size_t d = 0; d < work->n_days; d++) {
        /* From a leap year to one that is none the last day comes twice. */
        const size_t own = winter->first + d < year->n_days ? winter->first + d : year->n_days - 1;
        winter->barns_gal[d] =
            fmax(year->day_gal[own] - uses_gal(plan, year->first_day + (long)own), 0.0);
        winter->uses_gal[d] = uses_gal(plan, work->in->day - (long)work->before + (long)d);
    }
}

/* The season looked ahead into, where its weather is among the winters. */
static bool is_own(const struct th_ahead_work *work, const struct th_fuel_year *year)
{
    const struct th_date d = th_date_of(work->in->day);
    return !work->in->season && !work->plan->demand.typical &&
           year->year == th_season_of_month(d.year, d.month);
}

static void note_came(const struct th_ahead_work *work, int y, struct th_ahead *ahead)
{
    const struct th_fuel_year *year = &work->plan->demand.years[y];
    ahead->has_came = true;
    for (size_t d = (size_t)th_fuel_year_place(year, work->in->day); d < year->n_days; d++)
        ahead->came_gal += year->day_gal[d];
}

static enum th_code find_winters(struct th_ahead_work *work, struct th_ahead *ahead,
                                 struct th_error *err)
{
    const struct th_demand *demand = &work->plan->demand;
    work->winters = calloc((size_t)demand->n + 1, sizeof *work->winters);
    if (!work->winters)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int y = 0; y < demand->n; y++) {
        if (!demand->years[y].usable)
            continue;
        if (is_own(work, &demand->years[y]))
            note_came(work, y, ahead);
        else
            set_winter(work, y, &work->winters[work->n_winters++]);
    }
    if (work->n_winters == 0)
        return th_fail(err, TH_ERR_COVERAGE,
                       "no winter is left to go on with: that of the date is not used for itself; "
                       "expected weather of another year");
    return TH_OK;
}

static void count_cases(struct th_ahead_work *work)
{
    const size_t draws = work->plan->outlook.n_draws;
    work->n_farms = work->n_winters > 0 ? draws / work->n_winters : 0;
    if (work->n_farms < FARMS_MIN)
        work->n_farms = draws < FARMS_MIN ? draws : FARMS_MIN;
    if (work->n_farms == 0)
        work->n_farms = 1;
    work->n_cases = work->n_farms * work->n_winters;
}

/* Prices as posted on the day; those of months before it are never looked at. */
static enum th_code draw_prices(struct th_ahead_work *work, struct th_error *err)
{
    const struct th_plan_in *in = work->plan->in;
    struct th_price_model model = *in->price;
    double *gal = calloc(work->n_winters, sizeof *gal);
    if (!gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t w = 0; w < work->n_winters; w++)
        for (size_t d = work->before; d < work->n_days; d++)
            gal[w] += work->winters[w].barns_gal[d] + work->winters[w].uses_gal[d];
    /* To the price model April to June lie before a season, so its last months start in March. */
    const int month = th_date_of(work->in->day).month;
    model.today_month = month >= 4 && month < TH_SEASON_MONTH ? 3 : month;
    const enum th_code code =
        th_price_paths_init(&work->paths, &model, in->n_paths, in->seed, work->n_winters, gal, err);
    free(gal);
    return code;
}

static void order_contracts(struct th_ahead_work *work)
{
    struct th_contract taken[TH_CONTRACTS_MAX];
    for (int i = 0; i < work->in->n_taken; i++)
        taken[i] = work->plan->in->contracts[work->in->taken[i].contract];
    th_split_order((size_t)work->in->n_taken, taken, work->plan->in->price->posted_usd_gal,
                   work->order);
}

static enum th_code make_room(struct th_ahead_work *work, const struct th_ahead *ahead,
                              struct th_error *err)
{
    const size_t n = work->n_cases;
    work->now = calloc(1, sizeof *work->now);
    work->used_gal = calloc(4 * n, sizeof *work->used_gal);
    work->week_gal = calloc((size_t)ahead->n_weeks * n, sizeof *work->week_gal);
    work->month_gal = calloc((size_t)ahead->n_months * n, sizeof *work->month_gal);
    if (!work->now || !work->used_gal || !work->week_gal || !work->month_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    work->bought_gal = work->used_gal + n;
    work->spot_gal = work->used_gal + 2 * n;
    work->usd = work->used_gal + 3 * n;
    return TH_OK;
}

enum th_code th_ahead_open(struct th_ahead_work *work, struct th_ahead *ahead, struct th_error *err)
{
    const struct th_date d = th_date_of(ahead->first_day);
    const long july = th_season_first_day(th_season_of_month(d.year, d.month));
    work->before = oldest_reading(work);
    if (ahead->first_day - (long)work->before < july)
        return th_fail(err, TH_ERR_RANGE, "a gauge was read before this season's 1 July");
    work->n_days = (size_t)(ahead->end_day - ahead->first_day) + work->before;
    enum th_code code = find_winters(work, ahead, err);
    if (code != TH_OK)
        return code;
    count_cases(work);
    order_contracts(work);
    ahead->kind = th_range_kind_of(&work->plan->outlook, work->n_winters);
    ahead->n_winters = work->n_winters;
    ahead->n_cases = work->n_cases;
    code = make_room(work, ahead, err);
    if (code == TH_OK && !work->in->season && work->plan->in->price->posted_usd_gal > 0.0)
        code = draw_prices(work, err);
    return code;
}

void th_ahead_close(struct th_ahead_work *work)
{
    th_price_paths_finish(&work->paths);
    free(work->winters);
    free(work->now);
    free(work->used_gal);
    free(work->week_gal);
    free(work->month_gal);
}

/* What the barns burn as their files have them, over what is planned. */
static double given_of(const struct th_ahead_work *work, const struct th_ahead_winter *winter)
{
    const struct th_outlook *o = &work->plan->outlook;
    if (winter->farm_row < 0)
        return 1.0;
    const size_t w = (size_t)winter->farm_row;
    return th_outlook_default_gal(o, w) / th_plan_season_gal(work->plan, o->years[w]);
}

/* What a farm of the outlook burns over what is planned. */
static double scale_of(const struct th_ahead_work *work, const struct th_ahead_winter *winter,
                       size_t farm)
{
    const struct th_outlook *o = &work->plan->outlook;
    if (winter->farm_row < 0)
        return 1.0;
    const size_t w = (size_t)winter->farm_row;
    const size_t draw = farm * (o->n_draws / work->n_farms);
    return o->gal[draw * o->n_winters + w] / th_plan_season_gal(work->plan, o->years[w]);
}

void th_ahead_case_begin(struct th_ahead_work *work, size_t i)
{
    struct th_ahead_case *now = work->now;
    const size_t w = i % work->n_winters;
    now->winter = &work->winters[w];
    now->scale = scale_of(work, now->winter, i / work->n_winters);
    now->given_scale = given_of(work, now->winter);
    for (size_t d = 0; d < work->n_days; d++)
        now->day_gal[d] = now->scale * now->winter->barns_gal[d] + now->winter->uses_gal[d];
    if (work->paths.n_paths > 0)
        th_price_posted(&work->paths, i * PATH_STRIDE % work->paths.n_paths, w, 0.0,
                        now->posted_usd_gal);
}

double th_ahead_start_gal(const struct th_ahead_work *work, int tank, double scale)
{
    const struct th_tank *t = &work->plan->in->tanks[tank];
    const struct th_gauge *g = &work->in->gauges[tank];
    const double size_gal = t->count * t->capacity_gal;
    if (!g->read)
        return t->start_share * size_gal;
    double gal = (g->share - TH_AHEAD_GAUGE_LESS) * size_gal;
    const size_t age = (size_t)(work->in->day - g->day);
    for (size_t d = work->before - age; d < work->before; d++)
        gal -= th_plan_tank_share(work->plan->in, tank) *
               (scale * work->now->winter->barns_gal[d] + work->now->winter->uses_gal[d]);
    return fmax(gal, 0.0);
}

enum th_code th_ahead_trucks(struct th_ahead_work *work, struct th_error *err)
{
    struct th_ahead_case *now = work->now;
    const struct th_plan *plan = work->plan;
    now->n_deliveries = 0;
    if (plan->in->n_tanks == 0)
        now->n_deliveries = th_plan_weekly(work->in->day, work->n_days - work->before,
                                           now->day_gal + work->before, now->deliveries);
    for (int i = 0; i < plan->in->n_tanks; i++) {
        double share_gal[TH_FUEL_YEAR_DAYS];
        struct th_tank_run run;
        const size_t n = work->n_days - work->before;
        for (size_t d = 0; d < n; d++)
            share_gal[d] = th_plan_tank_share(plan->in, i) * now->day_gal[work->before + d];
        const enum th_code code = th_tank_run(
            &plan->tanks[i], plan->reorder_gal[i], th_ahead_start_gal(work, i, now->scale),
            work->in->day, n, share_gal, now->deliveries + now->n_deliveries, NULL, &run, err);
        if (code != TH_OK)
            return code;
        now->n_deliveries += run.n_deliveries;
    }
    th_plan_by_day(now->deliveries, now->n_deliveries);
    return TH_OK;
}
