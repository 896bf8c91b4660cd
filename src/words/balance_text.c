/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_text.h"

#include "turnheat/units.h"

#include <math.h>

#define TOLERANCE 1e-6
#define J_PER_MMBTU (1e6 * TH_J_PER_BTU)

enum th_code th_report_balanced(struct th_report *report, const char *key, const char *label,
                                const char *unit, double in, double out, struct th_error *err)
{
    const double size = fmax(fabs(in), fabs(out));
    th_report_balance(report, key, label, unit, in, out);
    if (fabs(in - out) <= TOLERANCE * size)
        return TH_OK;
    return th_fail(err, TH_ERR_BALANCE,
                   "%s: this balance stays open by %.2g of its size; the numbers cannot be trusted",
                   label, (in - out) / size);
}

static double sum_of(const struct th_tally *books, int first, int last)
{
    double sum = 0.0;
    for (int i = first; i <= last; i++)
        sum += books->sum[i];
    return sum;
}

/* What is balanced in every room. */
enum substance { HEAT, WATER, CO2, SUBSTANCES };

static enum th_code add_line(struct th_report *report, const char *key, const char *whose,
                             const struct th_tally *books, enum substance s, struct th_error *err)
{
    static const char *const keys[] = {"heat", "water", "co2"};
    static const char *const units[] = {"million Btu", "lb", "mol"};
    static const char *const texts[] = {"Heat in = heat out",
                                        "Water given off = carried out + condensed",
                                        "CO2 given off = carried out"};
    static const double per_si[] = {1.0 / J_PER_MMBTU, 1.0 / TH_KG_PER_LB, 1.0};
    static const int in[][2] = {{TH_FROM_PIGS, TH_FROM_INTERNAL},
                                {TH_WATER_PIGS, TH_WATER_BURNERS},
                                {TH_CO2_PIGS, TH_CO2_BURNERS}};
    static const int out[][2] = {
        {TH_TO_WALLS, TH_TO_DRYING}, {TH_WATER_AIR, TH_WATER_CONDENSED}, {TH_CO2_AIR, TH_CO2_AIR}};
    char full_key[64], label[160];
    snprintf(full_key, sizeof full_key, "%s%s%s", key ? key : "", key ? "_" : "", keys[s]);
    snprintf(label, sizeof label, "%s, %s", texts[s], whose);
    return th_report_balanced(report, full_key, label, units[s],
                              per_si[s] * sum_of(books, in[s][0], in[s][1]),
                              per_si[s] * sum_of(books, out[s][0], out[s][1]), err);
}

enum th_code th_report_books(struct th_report *report, const char *key, const char *whose,
                             const struct th_tally *books, struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int s = 0; s < SUBSTANCES && code == TH_OK; s++)
        code = add_line(report, key, whose, books, (enum substance)s, err);
    return code;
}
