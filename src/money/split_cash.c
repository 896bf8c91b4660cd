/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When the money of a way to buy is paid. */
#include "split_cases.h"

#include <math.h>

double th_split_early_usd(const struct th_contract *offer, double volume_gal)
{
    const double gal = isfinite(volume_gal) ? volume_gal : 0.0;
    double usd = offer->fee_usd + offer->fee_usd_gal * gal;
    if (offer->kind == TH_CONTRACT_PREPAID)
        usd += offer->price_usd_gal * gal;
    if (offer->kind == TH_CONTRACT_BOOKED)
        usd += offer->deposit_usd_gal * gal;
    return usd;
}

void th_split_pay(const struct th_contract *offer, const struct th_draw *draw,
                  const double *posted_usd_gal, const struct th_bill *bill,
                  struct th_split_cash *cash)
{
    const int last = draw->end_period % TH_PRICE_MONTHS;
    cash->early_usd += th_split_early_usd(offer, offer->volume_gal);
    cash->interest_usd += bill->carry_usd;
    for (int p = 0; p < TH_PRICE_PERIODS; p++)
        cash->month_usd[p % TH_PRICE_MONTHS] +=
            draw->contract_gal[p] * th_contract_due_usd_gal(offer, posted_usd_gal[p]);
    *(th_contract_rolls(offer) ? &cash->credit_usd : &cash->month_usd[last]) +=
        bill->settle_usd - th_contract_lost_deposit_usd(offer, draw->taken_gal);
}

void th_split_fails(const struct th_split_search *s, const double *volume_gal, double *fails_usd)
{
    struct th_split_sums sums = {.fails_usd = fails_usd};
    struct th_split_set set;
    th_split_set_of(s, volume_gal, &set);
    for (size_t k = 0; k < s->n; k++)
        fails_usd[k] = 0.0;
    for (size_t i = 0; i < s->n_cases; i++)
        th_split_case_usd(s, &set, &s->cases[i], &sums);
    for (size_t k = 0; k < s->n; k++)
        fails_usd[k] /= (double)s->n_cases;
}

struct th_split_cash th_split_cash_of(const struct th_split_search *s, const double *volume_gal)
{
    struct th_split_cash cash = {0};
    struct th_split_sums sums = {.cash = &cash};
    struct th_split_set set;
    th_split_set_of(s, volume_gal, &set);
    const double n = (double)s->n_cases;
    for (size_t i = 0; i < s->n_cases; i++)
        th_split_case_usd(s, &set, &s->cases[i], &sums);
    cash.early_usd /= n;
    cash.interest_usd /= n;
    cash.credit_usd /= n;
    for (int m = 0; m < TH_PRICE_MONTHS; m++)
        cash.month_usd[m] /= n;
    return cash;
}
