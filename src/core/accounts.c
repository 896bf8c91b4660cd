/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "accounts.h"

#include "bounds.h"
#include "turnheat/units.h"
#include <math.h>

/* Hours below set point count from half a degree F under it; likewise for unmet heat. */
#define TOLERANCE_K (0.5 * TH_K_PER_F)
/* An hour this far below the comfort limit is too cold at any age: our judgement. */
#define DEEP_K (5.0 * TH_K_PER_F)

static void book_heat(double *sum, const struct th_hour_out *out)
{
    const double *t = out->terms;
    const double s = TH_S_PER_H;
    sum[TH_TO_WALLS] += s * t[TH_TERM_SURFACE + TH_WALL];
    sum[TH_TO_CEILING] += s * t[TH_TERM_SURFACE + TH_CEILING];
    sum[TH_TO_CURTAIN] += s * t[TH_TERM_SURFACE + TH_CURTAIN];
    sum[TH_TO_DOORS] += s * t[TH_TERM_SURFACE + TH_DOOR];
    sum[TH_TO_EDGE] += s * t[TH_TERM_EDGE];
    sum[TH_TO_AIR] += s * t[TH_TERM_AIR];
    sum[TH_TO_LEAKAGE] += s * t[TH_TERM_LEAKAGE];
    sum[TH_TO_THROWN] += s * out->thrown_w;
    sum[TH_TO_RAMP] += s * out->heating.waste_w;
    sum[TH_TO_MASS] += s * t[TH_TERM_MASS];
    sum[TH_TO_DRYING] += s * t[TH_TERM_DRYING];
    sum[TH_FROM_PIGS] += s * t[TH_TERM_PIGS];
    sum[TH_FROM_HEATERS] += s * out->heating.heat_w;
    sum[TH_FROM_ZONE] += s * t[TH_TERM_ZONE];
    sum[TH_FROM_PILOTS] += s * (t[TH_TERM_PILOTS] + t[TH_TERM_ZONE_PILOTS]);
    sum[TH_FROM_BLOWERS] += s * out->heating.blower_w;
    sum[TH_FROM_INTERNAL] += s * t[TH_TERM_INTERNAL];
}

static void book_gas(double *sum, const struct th_hour_in *in, const struct th_hour_out *out)
{
    const double *t = out->terms;
    const double s = TH_S_PER_H;
    const struct th_heating_out *h = &out->heating;
    const double given_w = h->heat_w + h->blower_w;
    sum[TH_GAS_HEATERS] += s * h->gas_w;
    sum[TH_GAS_ZONE] += s * t[TH_TERM_ZONE_GAS];
    sum[TH_GAS_PILOTS] += s * (h->pilot_gas_w + t[TH_TERM_ZONE_PILOT_GAS]);
    sum[TH_GAS_HALLWAY] += s * out->hallway_gas_w;
    if (out->thrown_w > 0.0)
        sum[TH_GAS_HALLWAY_SURPLUS] += s * out->hallway_gas_w;
    if (given_w > 0.0)
        sum[TH_GAS_RAMP] += s * h->gas_w * h->waste_w / given_w;
    sum[TH_ZONE_SURPLUS] += s * th_lesser(t[TH_TERM_ZONE], out->thrown_w);
    sum[TH_ELECTRICITY] += s * h->blower_w;
    sum[TH_HEATER_HOURS] += h->heater_hours;
    sum[TH_ROOM_HOURS] += h->room_hours;
    if (in->heating->input_w > 0.0)
        sum[TH_FULL_HOURS] += h->gas_w / in->heating->input_w;
    sum[TH_STARTS] += h->starts;
    sum[TH_INTERACT] += h->interact;
    sum[TH_BEYOND_STAGE] += h->beyond_stage;
    if (out->heat_wanted) {
        sum[TH_HEAT_WANTED] += 1.0;
        sum[TH_HEATED_KH] += out->room_c;
    }
}

static void book_cold(struct th_tally *tally, const struct th_day *day,
                      const struct th_hour_out *out)
{
    const double below_k = day->comfort_c - out->feel_c;
    tally->sum[TH_BELOW_COMFORT] += out->feel_low_c < day->comfort_c;
    if (below_k <= 0.0)
        return;
    tally->sum[day->tender ? TH_COLD_YOUNG_KH : TH_COLD_KH] += below_k;
    tally->sum[TH_COLD_DEEP] += below_k > DEEP_K;
    tally->deepest_below_k = th_greater(tally->deepest_below_k, below_k);
}

static void book_pigs(struct th_tally *tally, const struct th_hour_in *in,
                      const struct th_hour_out *out)
{
    const struct th_air *air = &in->balance.room->air;
    double *sum = tally->sum;
    sum[TH_BELOW_SET] += out->room_c < in->set_c - TOLERANCE_K;
    book_cold(tally, in->balance.day, out);
    if (in->heating->n > 0) {
        const double short_k = in->set_c - in->heating->stages[0].on_k - TOLERANCE_K - out->room_c;
        if (out->short_of_heat && short_k > 0.0) {
            sum[TH_UNMET] += 1.0;
            sum[TH_UNMET_KH] += short_k;
        }
    }
    sum[TH_OVER_RH] += out->rh > air->rh_limit + 1e-6;
    sum[TH_OVER_CO2_DESIGN] += out->co2_ppm > air->co2_design_ppm + 1e-2;
    sum[TH_OVER_CO2_WORKER] += out->co2_ppm > air->co2_worker_ppm;
    sum[TH_UNREACHED] += out->unreached;
    sum[TH_WARM] += out->warm;
    tally->highest_rh = th_greater(tally->highest_rh, out->rh);
    tally->highest_co2_ppm = th_greater(tally->highest_co2_ppm, out->co2_ppm);
    tally->lowest_c = th_lesser(tally->lowest_c, out->low_c);
}

static void book_air(double *sum, const struct th_hour_in *in, const struct th_hour_out *out)
{
    const double s = TH_S_PER_H;
    const double moved_kg_s = out->dry_air_kg_s * (out->room_w_kg_kg - in->balance.out->w_kg_kg);
    const double air_mol_s = out->dry_air_kg_s / TH_DRY_AIR_KG_MOL;
    sum[TH_WATER_PIGS] += s * out->water_pigs_kg_s;
    sum[TH_WATER_DRYING] += s * out->water_drying_kg_s;
    sum[TH_WATER_BURNERS] += s * out->water_burners_kg_s;
    sum[TH_WATER_AIR] += s * moved_kg_s;
    sum[TH_WATER_CONDENSED] += s * out->condensed_kg_s;
    sum[TH_CO2_PIGS] += s * out->co2_pigs_mol_s;
    sum[TH_CO2_BURNERS] += s * out->co2_burners_mol_s;
    sum[TH_CO2_AIR] += s * 1e-6 * (out->co2_ppm - in->balance.room->air.co2_out_ppm) * air_mol_s;
}

void th_accounts_book(struct th_tally *tally, long hour_number, const struct th_hour_in *in,
                      const struct th_hour_out *out)
{
    tally->sum[TH_HOURS] += 1.0;
    book_heat(tally->sum, out);
    book_gas(tally->sum, in, out);
    book_air(tally->sum, in, out);
    if (out->heat_wanted)
        tally->highest_heated_c = th_greater(tally->highest_heated_c, out->high_c);
    if (out->gas_w > tally->peak_gas_w) {
        tally->peak_gas_w = out->gas_w;
        tally->peak_hour = hour_number;
    }
    if (in->phase != TH_GROWING)
        return;
    book_pigs(tally, in, out);
    if (in->balance.out->out_c < tally->coldest_out_c) {
        tally->coldest_out_c = in->balance.out->out_c;
        tally->coldest_hour = hour_number;
    }
}
