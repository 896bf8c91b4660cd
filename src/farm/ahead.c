/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every case walked through, and what they come to together. */
#include "ahead_parts.h"

#include "quantile.h"
#include "turnheat/calendar.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>

static struct th_ahead_span span_of(double *values, size_t n)
{
    gsl_sort(values, 1, n);
    return (struct th_ahead_span){.low = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.1),
                                  .middle = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.5),
                                  .high = gsl_stats_quantile_from_sorted_data(values, 1, n, 0.9),
                                  .mean = th_mean(values, n)};
}

/* Weeks and months of the days ahead. */
static void lay_out(struct th_ahead_work *work, struct th_ahead *ahead)
{
    for (long day = ahead->first_day; day < ahead->end_day; day++) {
        const int month = th_date_of(day).month - 1;
        if ((day - ahead->first_day) % 7 == 0)
            ahead->weeks[ahead->n_weeks++].first_day = day;
        ahead->weeks[ahead->n_weeks - 1].n_days++;
        if (ahead->n_months == 0 || ahead->months[ahead->n_months - 1].month != month)
            ahead->months[ahead->n_months++].month = month;
        work->month_place[day - ahead->first_day] = ahead->n_months - 1;
        work->period[day - ahead->first_day] = th_price_period(work->plan->in->price, day);
    }
}

static void note_use(struct th_ahead_work *work, size_t i)
{
    for (size_t d = 0; d < work->n_days - work->before; d++) {
        const double gal = work->now->day_gal[work->before + d];
        work->used_gal[i] += gal;
        work->week_gal[d / 7 * work->n_cases + i] += gal;
        work->month_gal[(size_t)work->month_place[d] * work->n_cases + i] += gal;
    }
}

static void note_trucks(struct th_ahead_work *work, size_t i, struct th_ahead *ahead)
{
    const double one = 1.0 / (double)work->n_cases;
    for (size_t k = 0; k < work->now->n_deliveries; k++) {
        const struct th_delivery *truck = &work->now->deliveries[k];
        const long d = truck->day - ahead->first_day;
        work->bought_gal[i] += truck->gal;
        ahead->weeks[d / 7].loads += one;
        ahead->months[work->month_place[d]].delivered_gal += one * truck->gal;
    }
}

static void sum_up(struct th_ahead_work *work, struct th_ahead *ahead)
{
    const size_t n = work->n_cases;
    ahead->used = span_of(work->used_gal, n);
    ahead->bought = span_of(work->bought_gal, n);
    ahead->spot = span_of(work->spot_gal, n);
    ahead->usd = span_of(work->usd, n);
    for (int w = 0; w < ahead->n_weeks; w++)
        ahead->weeks[w].used_gal = span_of(work->week_gal + (size_t)w * n, n);
    for (int m = 0; m < ahead->n_months; m++)
        ahead->months[m].used_gal = span_of(work->month_gal + (size_t)m * n, n);
}

static enum th_code walk(struct th_ahead_work *work, struct th_ahead *ahead, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (size_t i = 0; i < work->n_cases && code == TH_OK; i++) {
        th_ahead_case_begin(work, i);
        note_use(work, i);
        code = th_ahead_trucks(work, err);
        if (code != TH_OK)
            break;
        note_trucks(work, i, ahead);
        th_ahead_pay(work, i, ahead);
    }
    return code == TH_OK ? th_ahead_orders(work, ahead, err) : code;
}

static enum th_code check_gauge(const struct th_plan *plan, const struct th_ahead_in *in, int i,
                                struct th_error *err)
{
    const struct th_gauge *g = &in->gauges[i];
    if (g->read && !(g->share >= 0.0 && g->share <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "gauge of %s: found %.4g %%; expected 0 to 100 %%",
                       plan->in->tanks[i].name, 100.0 * g->share);
    if (g->read && g->day > in->day)
        return th_fail(err, TH_ERR_RANGE,
                       "gauge of %s: it was read later than the day looked ahead from",
                       plan->in->tanks[i].name);
    return TH_OK;
}

static enum th_code check_taken(const struct th_plan *plan, const struct th_ahead_in *in, int i,
                                struct th_error *err)
{
    const struct th_contract *c = &plan->in->contracts[in->taken[i].contract];
    if (c->kind == TH_CONTRACT_SPOT)
        return th_fail(err, TH_ERR_INPUT, "%s is the posted price; nothing is taken of it",
                       c->name);
    if (!(in->taken[i].gal >= 0.0))
        return th_fail(err, TH_ERR_RANGE, "gallons taken of %s must be 0 or more", c->name);
    if (c->volume_gal > 0.0 && in->taken[i].gal > c->volume_gal)
        return th_fail(err, TH_ERR_RANGE,
                       "found %.0f gal taken of %s; the contract is of %.0f gal in all",
                       in->taken[i].gal, c->name, c->volume_gal);
    return TH_OK;
}

static enum th_code check(const struct th_plan *plan, const struct th_ahead_in *in,
                          struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < plan->in->n_tanks && code == TH_OK; i++)
        code = check_gauge(plan, in, i, err);
    for (int i = 0; i < in->n_taken && code == TH_OK; i++)
        code = check_taken(plan, in, i, err);
    return code;
}

enum th_code th_ahead_run(const struct th_plan *plan, const struct th_ahead_in *in,
                          struct th_ahead *ahead, struct th_error *err)
{
    const struct th_date d = th_date_of(in->day);
    struct th_ahead_work work = {.plan = plan, .in = in};
    *ahead =
        (struct th_ahead){.first_day = in->day,
                          .end_day = th_season_first_day(th_season_of_month(d.year, d.month) + 1)};
    lay_out(&work, ahead);
    enum th_code code = check(plan, in, err);
    if (code == TH_OK)
        code = th_ahead_open(&work, ahead, err);
    if (code == TH_OK)
        code = walk(&work, ahead, err);
    if (code == TH_OK)
        sum_up(&work, ahead);
    th_ahead_close(&work);
    return code;
}
