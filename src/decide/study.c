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

void th_outlay_buy(struct th_outlay *outlay, int copies, const struct th_purchase *purchase,
                   int years)
{
    const double cost_usd = copies * purchase->cost_usd;
    const double life_years = purchase->life_years;
    outlay->first_usd += cost_usd;
    outlay->residual_usd += cost_usd * purchase->residual_share;
    outlay->upkeep_usd_year += copies * purchase->upkeep_usd_year;
    if (!(life_years >= 1.0) || cost_usd <= 0.0)
        return;
    const int buys = (int)ceil(years / life_years) - 1;
    for (int k = 1; k <= buys; k++)
        add_replacement(outlay, (int)lround(k * life_years), cost_usd);
}
