/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the trucks of a case cost under contracts in force, and at the posted price. */
#include "ahead_parts.h"

#include "turnheat/calendar.h"

#include <math.h>

/* A window that is over, or ends beyond the days ahead, is settled at their beginning or end. */
static int month_of(const struct th_ahead_work *work, const struct th_ahead *ahead, long day)
{
    if (day < ahead->first_day)
        day = ahead->first_day;
    const long last = day < ahead->end_day ? day : ahead->end_day - 1;
    return ahead->months[work->month_place[last - ahead->first_day]].month;
}

static void pay(struct th_ahead_work *work, size_t i, struct th_ahead *ahead, long day, double usd)
{
    work->usd[i] += usd;
    ahead->cash.month_usd[month_of(work, ahead, day)] += usd / (double)work->n_cases;
}

/* At the window's end: what is owed or comes back for gallons not taken. */
static double settle_usd(const struct th_contract *c, double taken_gal, int end_period,
                         const double *posted_usd_gal)
{
    const struct th_draw draw = {.taken_gal = taken_gal, .end_period = end_period};
    struct th_bill bill;
    th_contract_bill(c, &draw, posted_usd_gal, &bill);
    return bill.settle_usd - th_contract_lost_deposit_usd(c, taken_gal);
}

static void draw_contract(struct th_ahead_work *work, size_t i, int k, double *left_gal,
                          struct th_ahead *ahead)
{
    const struct th_taken *taken = &work->in->taken[work->order[k]];
    const struct th_contract *c = &work->plan->in->contracts[taken->contract];
    const struct th_date d = th_date_of(work->in->day);
    struct th_ahead_contract *of = &ahead->contracts[k];
    const double one = 1.0 / (double)work->n_cases;
    double room_gal = th_contract_limit_gal(c) - taken->gal, drawn_gal = 0.0;
    long first;
    *of = (struct th_ahead_contract){.contract = taken->contract,
                                     .taken_gal = taken->gal,
                                     .left_gal = room_gal,
                                     .all_share = of->all_share,
                                     .drawn_gal = of->drawn_gal,
                                     .unused_gal = of->unused_gal};
    th_contract_window(c, th_season_of_month(d.year, d.month), &first, &of->last_day);
    for (size_t t = 0; t < work->now->n_deliveries; t++) {
        const long day = work->now->deliveries[t].day;
        const double gal = fmin(left_gal[t], room_gal);
        if (day < first || day > of->last_day || !(gal > 0.0))
            continue;
        pay(work, i, ahead, day,
            gal * th_contract_due_usd_gal(
                      c, work->now->posted_usd_gal[work->period[day - ahead->first_day]]));
        left_gal[t] -= gal;
        room_gal -= gal;
        drawn_gal += gal;
    }
    if (isfinite(room_gal)) {
        const double usd = settle_usd(c, taken->gal + drawn_gal,
                                      th_price_period(work->plan->in->price, of->last_day),
                                      work->now->posted_usd_gal);
        if (th_contract_rolls(c))
            ahead->cash.credit_usd += one * usd;
        else
            pay(work, i, ahead, of->last_day, usd);
        of->unused_gal += one * room_gal;
        of->all_share += one * (room_gal <= 0.0);
    }
    of->drawn_gal += one * drawn_gal;
}

void th_ahead_pay(struct th_ahead_work *work, size_t i, struct th_ahead *ahead)
{
    const struct th_ahead_case *now = work->now;
    double left_gal[TH_TANKS_MAX * TH_FUEL_YEAR_DAYS];
    for (size_t t = 0; t < now->n_deliveries; t++)
        left_gal[t] = now->deliveries[t].gal;
    ahead->n_contracts = work->in->n_taken;
    for (int k = 0; k < ahead->n_contracts; k++)
        draw_contract(work, i, k, left_gal, ahead);
    for (size_t t = 0; t < now->n_deliveries; t++) {
        const long day = now->deliveries[t].day;
        const int period = work->period[day - ahead->first_day];
        work->spot_gal[i] += left_gal[t];
        pay(work, i, ahead, day, left_gal[t] * now->posted_usd_gal[period]);
    }
}
