/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which offer is drawn from first. */
#include "split_cases.h"

#include <math.h>

static double loss_usd_gal(const struct th_contract *c, double posted_usd_gal)
{
    const bool prepaid = c->kind == TH_CONTRACT_PREPAID;
    if (c->kind == TH_CONTRACT_SPOT || c->kind == TH_CONTRACT_CAPPED)
        return 0.0;
    switch (c->settle) {
    case TH_SETTLE_NONE:
        return prepaid ? c->price_usd_gal : 0.0;
    case TH_SETTLE_MARKET:
        return fmax(c->price_usd_gal - posted_usd_gal, 0.0);
    case TH_SETTLE_TAKE:
        return c->take_share * c->price_usd_gal;
    case TH_SETTLE_ROLL_GALLONS:
        return c->price_usd_gal -
               fmin(c->price_usd_gal, posted_usd_gal) * pow(1.0 + c->carry_rate, -c->roll_years);
    case TH_SETTLE_ROLL_DOLLARS:
        return c->price_usd_gal * (1.0 - pow(1.0 + c->carry_rate, -c->roll_years));
    case TH_SETTLE_REFUND:
        return c->price_usd_gal * c->refund_fee_share;
    }
    return 0.0;
}

static bool drawn_before(const struct th_contract *a, const struct th_contract *b,
                         double posted_usd_gal)
{
    long first, last_a, last_b;
    const bool spot_a = a->kind == TH_CONTRACT_SPOT, spot_b = b->kind == TH_CONTRACT_SPOT;
    if (spot_a != spot_b)
        return spot_b;
    th_contract_window(a, 2001, &first, &last_a);
    th_contract_window(b, 2001, &first, &last_b);
    if (last_a != last_b)
        return last_a < last_b;
    return loss_usd_gal(a, posted_usd_gal) > loss_usd_gal(b, posted_usd_gal);
}

void th_split_order(size_t n, const struct th_contract *offers, double posted_usd_gal,
                    size_t *order)
{
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        for (; at > 0 && drawn_before(&offers[i], &offers[order[at - 1]], posted_usd_gal); at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}
