/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/study.h"

#include <math.h>

struct th_study th_study_of(const struct th_room *room)
{
    const struct th_money *m = &room->money;
    return (struct th_study){.years = m->years,
                             .discount = m->discount,
                             .price_usd_unit = room->fuel.price,
                             .fuel_growth = m->fuel_growth,
                             .payer_share = m->payer_share,
                             .loan_share = m->loan_share,
                             .loan_rate = m->loan_rate,
                             .loan_years = m->loan_years < m->years ? m->loan_years : m->years,
                             .inflation = m->inflation,
                             .tax_rate = m->tax_rate};
}

double th_units_as_dear(const struct th_fuel *now, const struct th_fuel *then, double gas_j)
{
    const double as_dear = now->has_price && then->has_price ? then->price / now->price : 1.0;
    return gas_j / then->hhv_j * as_dear;
}

/* What falls due in one year is one sum, so there never are more sums than years. */
static void add_replacement(struct th_outlay *outlay, int year, double usd)
{
    int i = 0;
    while (i < outlay->n_replacements && outlay->replacements[i].year != year)
        i++;
    if (i == outlay->n_replacements)
        outlay->replacements[outlay->n_replacements++] = (struct th_once){.year = year};
    outlay->replacements[i].usd += usd;
}

/* How often it is bought again: when its life ends, but not in the last year. */
static int bought_again(const struct th_purchase *purchase, int years)
{
    int times = 0;
    if (purchase->life_years >= 1.0)
        while (lround((times + 1) * purchase->life_years) < years)
            times++;
    return times;
}

double th_purchase_residual(const struct th_purchase *purchase, int years)
{
    if (purchase->has_residual)
        return purchase->residual_share;
    if (!(purchase->life_years >= 1.0))
        return 0.0;
    const double life = purchase->life_years;
    const double ends = (bought_again(purchase, years) + 1) * life;
    return fmax(ends - years, 0.0) / life;
}

double th_annual_usd(double cost_usd, double life_years, double discount)
{
    if (!(life_years >= 1.0))
        return cost_usd;
    if (fabs(discount) < 1e-9)
        return cost_usd / life_years;
    return cost_usd * discount / (1.0 - pow(1.0 + discount, -life_years));
}

void th_outlay_buy(struct th_outlay *outlay, int copies, const struct th_purchase *purchase,
                   int years)
{
    const double cost_usd = copies * purchase->cost_usd;
    outlay->first_usd += cost_usd;
    outlay->upkeep_usd_year += copies * purchase->upkeep_usd_year;
    if (cost_usd <= 0.0)
        return;
    outlay->residual_usd += cost_usd * th_purchase_residual(purchase, years);
    for (int k = 1; k <= bought_again(purchase, years); k++)
        add_replacement(outlay, (int)lround(k * purchase->life_years), cost_usd);
}
