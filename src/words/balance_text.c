/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_text.h"

#include "turnheat/units.h"

#include <math.h>

#define TOLERANCE 1e-6
#define J_PER_MMBTU (1e6 * TH_J_PER_BTU)

static double sum_of(const struct th_tally *books, int first, int last)
{
    double sum = 0.0;
    for (int i = first; i <= last; i++)
        sum += books->sum[i];
    return sum;
}

static void line(struct th_report *report, const char *key, const char *what, const char *text,
                 const char *whose, const char *unit, double in, double out)
{
    char full_key[64], label[160];
    snprintf(full_key, sizeof full_key, "%s%s%s", key ? key : "", key ? "_" : "", what);
    snprintf(label, sizeof label, "%s, %s", text, whose);
    th_report_balance(report, full_key, label, unit, in, out);
}

enum th_code th_report_books(struct th_report *report, const char *key, const char *whose,
                             const struct th_tally *books, struct th_error *err)
{
    const double gaps[] = {th_tally_heat_gap(books), th_tally_water_gap(books),
                           th_tally_co2_gap(books)};
    line(report, key, "heat", "Heat in = heat out", whose, "million Btu",
         sum_of(books, TH_FROM_PIGS, TH_FROM_INTERNAL) / J_PER_MMBTU,
         sum_of(books, TH_TO_WALLS, TH_TO_DRYING) / J_PER_MMBTU);
    line(report, key, "water", "Water given off = carried out + condensed", whose, "lb",
         sum_of(books, TH_WATER_PIGS, TH_WATER_BURNERS) / TH_KG_PER_LB,
         sum_of(books, TH_WATER_AIR, TH_WATER_CONDENSED) / TH_KG_PER_LB);
    line(report, key, "co2", "CO2 given off = carried out", whose, "mol",
         sum_of(books, TH_CO2_PIGS, TH_CO2_BURNERS), books->sum[TH_CO2_AIR]);
    for (size_t i = 0; i < sizeof gaps / sizeof *gaps; i++)
        if (!(fabs(gaps[i]) <= TOLERANCE))
            return th_fail(err, TH_ERR_BALANCE,
                           "%s: a balance stays open by %.2g of its size; the numbers cannot be "
                           "trusted",
                           whose, gaps[i]);
    return TH_OK;
}
