/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tally.h"

#include "bounds.h"

#include <math.h>
#include <string.h>

void th_tally_clear(struct th_tally *tally)
{
    *tally = (struct th_tally){
        .coldest_out_c = INFINITY, .lowest_c = INFINITY, .highest_heated_c = -INFINITY};
}

void th_tally_forget_extremes(struct th_tally *tally)
{
    struct th_tally empty;
    th_tally_clear(&empty);
    memcpy(empty.sum, tally->sum, sizeof empty.sum);
    *tally = empty;
}

void th_tally_add(struct th_tally *tally, const struct th_tally *other, double times)
{
    for (int i = 0; i < TH_TALLY_COUNT; i++)
        tally->sum[i] += times * other->sum[i];
    if (other->coldest_out_c < tally->coldest_out_c) {
        tally->coldest_out_c = other->coldest_out_c;
        tally->coldest_hour = other->coldest_hour;
    }
    if (other->peak_gas_w > tally->peak_gas_w) {
        tally->peak_gas_w = other->peak_gas_w;
        tally->peak_hour = other->peak_hour;
    }
    tally->lowest_c = th_lesser(tally->lowest_c, other->lowest_c);
    tally->deepest_below_k = th_greater(tally->deepest_below_k, other->deepest_below_k);
    tally->highest_heated_c = th_greater(tally->highest_heated_c, other->highest_heated_c);
    tally->highest_rh = th_greater(tally->highest_rh, other->highest_rh);
    tally->highest_co2_ppm = th_greater(tally->highest_co2_ppm, other->highest_co2_ppm);
}

double th_tally_cold_kh(const struct th_tally *tally)
{
    return tally->sum[TH_COLD_YOUNG_KH] + tally->sum[TH_COLD_KH];
}

static double sum_range(const struct th_tally *tally, int first, int last)
{
    double sum = 0.0;
    for (int i = first; i <= last; i++)
        sum += tally->sum[i];
    return sum;
}

double th_tally_gas_j(const struct th_tally *tally)
{
    return sum_range(tally, TH_GAS_HEATERS, TH_GAS_HALLWAY);
}

static double gap(double in, double out)
{
    const double size = th_greater(fabs(in), fabs(out));
    return size > 0.0 ? (in - out) / size : 0.0;
}

double th_tally_heat_gap(const struct th_tally *tally)
{
    return gap(sum_range(tally, TH_FROM_PIGS, TH_FROM_INTERNAL),
               sum_range(tally, TH_TO_WALLS, TH_TO_DRYING));
}

double th_tally_water_gap(const struct th_tally *tally)
{
    return gap(sum_range(tally, TH_WATER_PIGS, TH_WATER_BURNERS),
               sum_range(tally, TH_WATER_AIR, TH_WATER_CONDENSED));
}

double th_tally_co2_gap(const struct th_tally *tally)
{
    return gap(sum_range(tally, TH_CO2_PIGS, TH_CO2_BURNERS), tally->sum[TH_CO2_AIR]);
}

const char *th_tally_text(enum th_tally_item item)
{
#define TH_TALLY_NAME(name, unit, text) text,
    static const char *const texts[] = {TH_TALLY_ITEMS(TH_TALLY_NAME)};
#undef TH_TALLY_NAME
    return texts[item];
}
