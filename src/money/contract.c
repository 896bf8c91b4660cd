/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/contract.h"

#include "quantile.h"
#include "turnheat/calendar.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Means this close together are not worth a decision. */
#define FLAT_SHARE 0.005

void th_contract_window(const struct th_contract *contract, int season_year, long *first,
                        long *last)
{
    const int from_year = season_year + (contract->from_month < TH_SEASON_MONTH);
    *first = th_day_number(from_year, contract->from_month, contract->from_day);
    *last = th_day_number(from_year, contract->to_month, contract->to_day);
    if (*last < *first)
        *last = th_day_number(from_year + 1, contract->to_month, contract->to_day);
}

double th_contract_limit_gal(const struct th_contract *contract)
{
    if (contract->kind == TH_CONTRACT_SPOT)
        return 0.0;
    const bool all = contract->kind == TH_CONTRACT_CAPPED && contract->volume_gal == 0.0;
    return all ? HUGE_VAL : contract->volume_gal;
}

double th_contract_sold_gal(const struct th_contract *contract, double gal, double end_gal)
{
    const double least_gal = contract->least_gal;
    const double most_gal =
        fmax(contract->most_gal > 0.0 ? fmin(contract->most_gal, end_gal) : end_gal, least_gal);
    if (gal >= least_gal)
        return fmin(gal, most_gal);
    return gal >= least_gal / 2.0 ? least_gal : 0.0;
}

double th_contract_due_usd_gal(const struct th_contract *contract, double posted_usd_gal)
{
    switch (contract->kind) {
    case TH_CONTRACT_PREPAID:
        return 0.0;
    case TH_CONTRACT_BOOKED:
        return contract->price_usd_gal - contract->deposit_usd_gal;
    case TH_CONTRACT_CAPPED:
        return fmin(posted_usd_gal, contract->price_usd_gal) +
               (contract->volume_gal > 0.0 ? 0.0 : contract->fee_usd_gal);
    case TH_CONTRACT_SPOT:
        break;
    }
    return posted_usd_gal;
}

double th_contract_lost_deposit_usd(const struct th_contract *contract, double taken_gal)
{
    return contract->kind == TH_CONTRACT_BOOKED
               ? contract->deposit_usd_gal * fmax(contract->volume_gal - taken_gal, 0.0)
               : 0.0;
}

void th_contract_draw(const struct th_contract *contract, const struct th_price_model *price,
                      int season_year, size_t n, const struct th_delivery *deliveries,
                      struct th_draw *draw)
{
    long first, last;
    const double limit_gal = th_contract_limit_gal(contract);
    double drawn_gal = 0.0;
    th_contract_window(contract, season_year, &first, &last);
    *draw = (struct th_draw){.end_period = th_price_period(price, last)};
    for (size_t i = 0; i < n; i++) {
        const int period = th_price_period(price, deliveries[i].day);
        const bool inside = deliveries[i].day >= first && deliveries[i].day <= last;
        const double covered_gal = inside ? fmin(deliveries[i].gal, limit_gal - drawn_gal) : 0.0;
        draw->contract_gal[period] += covered_gal;
        draw->posted_gal[period] += deliveries[i].gal - covered_gal;
        draw->taken_gal += inside ? deliveries[i].gal : 0.0;
        drawn_gal += covered_gal;
    }
}

static double booked_settle_usd(const struct th_contract *c, double taken_gal, double end_usd_gal)
{
    const double short_gal = fmax(0.0, c->volume_gal - taken_gal);
    switch (c->settle) {
    case TH_SETTLE_MARKET:
        return short_gal * fmax(0.0, c->price_usd_gal - end_usd_gal);
    case TH_SETTLE_TAKE:
        return c->price_usd_gal * fmax(0.0, c->take_share * c->volume_gal - taken_gal);
    default:
        return 0.0;
    }
}

bool th_contract_rolls(const struct th_contract *c)
{
    return c->kind == TH_CONTRACT_PREPAID &&
           (c->settle == TH_SETTLE_ROLL_DOLLARS || c->settle == TH_SETTLE_ROLL_GALLONS);
}

static double prepaid_settle_usd(const struct th_contract *c, double taken_gal, double end_usd_gal)
{
    const double short_gal = fmax(0.0, c->volume_gal - taken_gal);
    switch (c->settle) {
    case TH_SETTLE_MARKET:
        return -short_gal * fmin(c->price_usd_gal, end_usd_gal);
    case TH_SETTLE_TAKE:
        return -c->price_usd_gal *
               fmax(0.0, c->volume_gal - fmax(taken_gal, c->take_share * c->volume_gal));
    case TH_SETTLE_ROLL_DOLLARS:
        return -short_gal * c->price_usd_gal / pow(1.0 + c->carry_rate, c->roll_years);
    case TH_SETTLE_ROLL_GALLONS:
        return -short_gal * fmin(c->price_usd_gal, end_usd_gal) /
               pow(1.0 + c->carry_rate, c->roll_years);
    case TH_SETTLE_REFUND:
        return -short_gal * c->price_usd_gal * (1.0 - c->refund_fee_share);
    default:
        return 0.0;
    }
}

static double fee_usd(const struct th_contract *contract, const struct th_draw *draw)
{
    const double gal = contract->volume_gal > 0.0 ? contract->volume_gal : draw->taken_gal;
    return contract->fee_usd + contract->fee_usd_gal * gal;
}

static void add_contract_usd(const struct th_contract *c, const struct th_draw *draw,
                             const double *posted_usd_gal, struct th_bill *bill)
{
    const double end_usd_gal = posted_usd_gal[draw->end_period];
    const double carry = c->carry_rate * c->carry_days / 365.0;
    switch (c->kind) {
    case TH_CONTRACT_SPOT:
        return;
    case TH_CONTRACT_PREPAID:
        bill->contract_usd = c->price_usd_gal * c->volume_gal;
        bill->carry_usd = bill->contract_usd * carry;
        bill->settle_usd = prepaid_settle_usd(c, draw->taken_gal, end_usd_gal);
        break;
    case TH_CONTRACT_BOOKED:
        bill->contract_usd = c->price_usd_gal * fmin(draw->taken_gal, c->volume_gal);
        bill->carry_usd = c->deposit_usd_gal * c->volume_gal * carry;
        bill->settle_usd = booked_settle_usd(c, draw->taken_gal, end_usd_gal);
        break;
    case TH_CONTRACT_CAPPED:
        for (int i = 0; i < TH_PRICE_PERIODS; i++)
            bill->contract_usd += draw->contract_gal[i] * fmin(posted_usd_gal[i], c->price_usd_gal);
        break;
    }
    bill->fee_usd = fee_usd(c, draw);
}

/* The bill with what was bought at the posted price. */
static void bill_with(const struct th_contract *contract, const struct th_draw *draw,
                      const double *posted_usd_gal, double posted_usd, struct th_bill *bill)
{
    *bill = (struct th_bill){.posted_usd = posted_usd};
    add_contract_usd(contract, draw, posted_usd_gal, bill);
    bill->total_usd =
        bill->contract_usd + bill->posted_usd + bill->carry_usd + bill->fee_usd + bill->settle_usd;
}

void th_contract_bill(const struct th_contract *contract, const struct th_draw *draw,
                      const double posted_usd_gal[TH_PRICE_PERIODS], struct th_bill *bill)
{
    double posted_usd = 0.0;
    for (int i = 0; i < TH_PRICE_PERIODS; i++)
        posted_usd += draw->posted_gal[i] * posted_usd_gal[i];
    bill_with(contract, draw, posted_usd_gal, posted_usd, bill);
}

double th_contract_fails_usd(const struct th_contract *contract, const struct th_draw *draw,
                             const double posted_usd_gal[TH_PRICE_PERIODS],
                             const struct th_bill *bill)
{
    double usd = th_contract_lost_deposit_usd(contract, draw->taken_gal) - bill->settle_usd;
    for (int p = 0; p < TH_PRICE_PERIODS; p++)
        if (p % TH_PRICE_MONTHS + 1 < TH_SEASON_MONTH) /* January to June */
            usd += draw->contract_gal[p] *
                   (posted_usd_gal[p] - th_contract_due_usd_gal(contract, posted_usd_gal[p]));
    return usd;
}

/* Gallons bought at the posted price, in those periods in which any are. */
struct posted {
    int n;
    int period[TH_PRICE_PERIODS];
    double gal[TH_PRICE_PERIODS];
};

static struct posted posted_of(const struct th_draw *draw)
{
    struct posted posted = {0};
    for (int i = 0; i < TH_PRICE_PERIODS; i++)
        if (draw->posted_gal[i] != 0.0) {
            posted.period[posted.n] = i;
            posted.gal[posted.n++] = draw->posted_gal[i];
        }
    return posted;
}

static double posted_usd(const struct posted *posted, const double *posted_usd_gal)
{
    double usd = 0.0;
    for (int i = 0; i < posted->n; i++)
        usd += posted->gal[i] * posted_usd_gal[posted->period[i]];
    return usd;
}

/* The offers of a sweep over volumes, and room for each one's cases. */
struct sweep {
    const struct th_market *market;
    size_t n_volumes, n_cases;
    struct th_contract *offers;
    struct th_draw *draws;
    struct posted *posted;
    double *usd;        /* n_volumes rows of n_cases, winter after winter */
    double *winter_usd; /* n_volumes rows of winters */
};

static enum th_code open_sweep(struct sweep *sweep, const struct th_contract *contract,
                               const double *volumes_gal, struct th_error *err)
{
    const size_t n = sweep->n_volumes;
    sweep->offers = calloc(n, sizeof *sweep->offers);
    sweep->draws = calloc(n, sizeof *sweep->draws);
    sweep->posted = calloc(n, sizeof *sweep->posted);
    sweep->usd = calloc(n * sweep->n_cases, sizeof *sweep->usd);
    sweep->winter_usd = calloc(n * sweep->market->paths->n_winters, sizeof *sweep->winter_usd);
    if (!sweep->offers || !sweep->draws || !sweep->posted || !sweep->usd || !sweep->winter_usd)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t v = 0; v < n; v++) {
        sweep->offers[v] = *contract;
        if (!volumes_gal)
            continue;
        sweep->offers[v].volume_gal = volumes_gal[v];
        if (volumes_gal[v] == 0.0)
            sweep->offers[v].kind = TH_CONTRACT_SPOT;
    }
    return TH_OK;
}

static void close_sweep(struct sweep *sweep)
{
    free(sweep->offers);
    free(sweep->draws);
    free(sweep->posted);
    free(sweep->usd);
    free(sweep->winter_usd);
}

static void cost_winter(struct sweep *sweep, size_t winter)
{
    const struct th_price_paths *paths = sweep->market->paths;
    const struct th_winter *season = &sweep->market->winters[winter];
    for (size_t v = 0; v < sweep->n_volumes; v++) {
        th_contract_draw(&sweep->offers[v], &paths->model, season->season_year, season->n,
                         season->deliveries, &sweep->draws[v]);
        sweep->posted[v] = posted_of(&sweep->draws[v]);
    }
    for (size_t path = 0; path < paths->n_paths; path++) {
        double posted_usd_gal[TH_PRICE_PERIODS];
        th_price_posted(paths, path, winter, sweep->market->tight_chance, posted_usd_gal);
        for (size_t v = 0; v < sweep->n_volumes; v++) {
            struct th_bill bill;
            bill_with(&sweep->offers[v], &sweep->draws[v], posted_usd_gal,
                      posted_usd(&sweep->posted[v], posted_usd_gal), &bill);
            sweep->usd[v * sweep->n_cases + winter * paths->n_paths + path] = bill.total_usd;
        }
    }
}

/* Leaves the cases of the volume in another order, so it is done once. */
static enum th_code sum_up(struct sweep *sweep, size_t v, struct th_volume_cost *cost,
                           struct th_error *err)
{
    const struct th_price_paths *paths = sweep->market->paths;
    const size_t n = sweep->n_cases;
    double *usd = sweep->usd + v * n;
    double *winter_usd = sweep->winter_usd + v * paths->n_winters;
    for (size_t w = 0; w < paths->n_winters; w++)
        winter_usd[w] = th_mean(usd + w * paths->n_paths, paths->n_paths);
    *cost = (struct th_volume_cost){.volume_gal = sweep->offers[v].volume_gal,
                                    .mean_usd = th_mean(usd, n)};
    const enum th_code code = th_spread_of(paths->n_winters, winter_usd, &cost->winters, err);
    if (code != TH_OK || cost->winters.kind == TH_SPREAD_RANGE)
        return code;
    cost->p50_usd = th_quantile(usd, n, 0.5);
    cost->p90_usd = th_quantile(usd, n, 0.9);
    cost->cvar95_usd = th_spread_worst(n, usd, 0.05);
    return TH_OK;
}

static enum th_code check_volumes(size_t n, const double *volumes_gal, struct th_error *err)
{
    if (n == 0 || (!volumes_gal && n != 1))
        return th_fail(err, TH_ERR_INPUT, "there is no volume to cost");
    for (size_t v = 0; volumes_gal && v < n; v++)
        if (!isfinite(volumes_gal[v]) || volumes_gal[v] < 0.0)
            return th_fail(err, TH_ERR_INPUT, "volume %zu must be 0 or more gallons", v + 1);
    return TH_OK;
}

enum th_code th_contract_costs(const struct th_contract *contract, const struct th_market *market,
                               size_t n_volumes, const double *volumes_gal,
                               struct th_volume_cost *costs, double *winter_usd,
                               struct th_error *err)
{
    const size_t n_winters = market->paths->n_winters;
    struct sweep sweep = {
        .market = market, .n_volumes = n_volumes, .n_cases = n_winters * market->paths->n_paths};
    if (n_volumes == 0 || sweep.n_cases == 0)
        return th_fail(err, TH_ERR_INPUT, "costs need volumes, winters and price paths");
    enum th_code code = check_volumes(n_volumes, volumes_gal, err);
    if (!code)
        code = th_contract_check(contract, err);
    if (code)
        return code;
    code = open_sweep(&sweep, contract, volumes_gal, err);
    for (size_t w = 0; w < n_winters && !code; w++)
        cost_winter(&sweep, w);
    for (size_t v = 0; v < n_volumes && !code; v++)
        code = sum_up(&sweep, v, &costs[v], err);
    if (winter_usd && sweep.winter_usd && !code)
        memcpy(winter_usd, sweep.winter_usd, n_volumes * n_winters * sizeof *winter_usd);
    close_sweep(&sweep);
    return code;
}

/* What a cautious buyer looks at. */
static double dear_usd(const struct th_volume_cost *cost)
{
    return cost->winters.kind == TH_SPREAD_RANGE ? cost->winters.highest : cost->cvar95_usd;
}

struct th_volume_choice th_contract_choose(size_t n, const struct th_volume_cost *costs)
{
    size_t cheapest = 0, cautious = 0;
    for (size_t v = 1; v < n; v++) {
        if (costs[v].mean_usd < costs[cheapest].mean_usd)
            cheapest = v;
        if (dear_usd(&costs[v]) < dear_usd(&costs[cautious]))
            cautious = v;
    }
    const double best_usd = costs[cheapest].mean_usd;
    const double limit_usd = best_usd + FLAT_SHARE * fabs(best_usd);
    size_t low = cheapest, high = cheapest;
    while (low > 0 && costs[low - 1].mean_usd <= limit_usd)
        low--;
    while (high + 1 < n && costs[high + 1].mean_usd <= limit_usd)
        high++;
    return (struct th_volume_choice){cheapest, cautious, costs[low].volume_gal,
                                     costs[high].volume_gal};
}
