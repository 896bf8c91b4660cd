/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "moisture.h"

#include "bounds.h"
#include "turnheat/herd.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"
#include <math.h>

/* Amount of an ideal gas in 1 m³ at 20 °C and 1 atm. */
#define MOL_PER_M3 (101325.0 / (8.314462618 * 293.15))

static void fill_water(const struct th_balance *b, double unvented_w, struct th_hour_out *out)
{
    const double latent_kg_s = out->terms[TH_TERM_LATENT] / TH_HERD_LATENT_J_KG;
    out->water_pigs_kg_s = latent_kg_s * b->room->pigs.humidity_factor;
    out->water_drying_kg_s = out->terms[TH_TERM_DRYING] / TH_HERD_LATENT_J_KG;
    out->water_burners_kg_s = unvented_w * b->room->fuel.water_kg_j;
    const double water_kg_s =
        out->water_pigs_kg_s + out->water_drying_kg_s + out->water_burners_kg_s;
    const double pressure_pa = b->out->pressure_pa;
    const double full_pa = th_psy_saturation_pressure(out->room_c);
    const double full = TH_PSY_RATIO * full_pa / (pressure_pa - full_pa);
    double w = b->out->w_kg_kg;
    if (out->dry_air_kg_s > 0.0)
        w += water_kg_s / out->dry_air_kg_s;
    else if (water_kg_s > 0.0)
        w = full;
    out->room_w_kg_kg = th_lesser(w, full);
    out->condensed_kg_s = water_kg_s - out->dry_air_kg_s * (out->room_w_kg_kg - b->out->w_kg_kg);
    if (w <= full)
        out->condensed_kg_s = 0.0;
    out->rh = pressure_pa * out->room_w_kg_kg / (TH_PSY_RATIO + out->room_w_kg_kg) / full_pa;
}

static void fill_co2(const struct th_balance *b, double unvented_w, struct th_hour_out *out)
{
    out->co2_pigs_mol_s = 0.0;
    if (b->day)
        out->co2_pigs_mol_s = b->day->heat20_w * b->activity * 1e-3 * b->room->pigs.co2_m3_h_kw /
                              TH_S_PER_H * MOL_PER_M3;
    out->co2_burners_mol_s = unvented_w * b->room->fuel.co2_m3_j * MOL_PER_M3;
    out->co2_ppm = b->room->air.co2_out_ppm;
    const double air_mol_s = out->dry_air_kg_s / TH_DRY_AIR_KG_MOL;
    if (air_mol_s > 0.0)
        out->co2_ppm += 1e6 * (out->co2_pigs_mol_s + out->co2_burners_mol_s) / air_mol_s;
}

void th_moisture_fill(const struct th_balance *balance, double unvented_w, struct th_hour_out *out)
{
    fill_water(balance, unvented_w, out);
    fill_co2(balance, unvented_w, out);
}
