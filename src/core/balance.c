/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/balance.h"

#include "bounds.h"
#include "turnheat/air.h"
#include "turnheat/envelope.h"
#include "turnheat/herd.h"
#include "turnheat/psychro.h"
#include <math.h>

void th_fabric_init(struct th_fabric *fabric, const struct th_room *room)
{
    const struct th_shell *shell = &room->shell;
    const double factor = room->calibration.ua_factor;
    *fabric = (struct th_fabric){.leak = th_air_leak(room->air.leak_cm2, room->air.shelter),
                                 .edge_w_k = shell->edge_f_w_mk * shell->perimeter_m * factor};
    for (int i = 0; i < room->n_surfaces; i++) {
        const struct th_surface *s = &room->surfaces[i];
        const double ua = s->area_m2 / s->r_m2k_w * factor;
        fabric->faces[s->faces] = true;
        if (s->loose_fill && s->faces == TH_FACES_ATTIC)
            fabric->loose_w_k[s->kind] += ua;
        else
            fabric->ua_w_k[s->faces][s->kind] += ua;
    }
    for (int kind = 0; kind < TH_SURFACE_KINDS; kind++) {
        fabric->attic_plain_w_k += fabric->ua_w_k[TH_FACES_ATTIC][kind];
        fabric->attic_loose_w_k += fabric->loose_w_k[kind];
        for (int faces = 0; faces < 3; faces++)
            if (kind == TH_CEILING || faces == TH_FACES_ATTIC)
                fabric->layered_w[kind] += fabric->ua_w_k[faces][kind] * shell->stratification_k;
    }
    if (shell->roof_m2 > 0.0 && shell->roof_r_m2k_w > 0.0)
        fabric->attic_roof_w_k = shell->roof_m2 / shell->roof_r_m2k_w;
    fabric->mass_j_k = shell->mass_j_m2k * shell->floor_m2;
    fabric->mass_keep = 1.0;
    if (fabric->mass_j_k > 0.0) {
        fabric->mass_keep = exp(-shell->mass_h_w_m2k / shell->mass_j_m2k * TH_S_PER_H);
        fabric->mass_w_k = fabric->mass_j_k * (1.0 - fabric->mass_keep) / TH_S_PER_H;
    }
}

static void zone_terms(const struct th_balance *b, double temp_c, double terms[TH_TERMS],
                       double *pigs_feel_c)
{
    double gas_w = 0.0, pilot_w = 0.0;
    *pigs_feel_c = temp_c;
    if (b->zone_units > 0.0) {
        const struct th_zone *zone = &b->room->zone;
        const double target_c = b->day->zone_target_c;
        const double duty = th_within((target_c - temp_c) / zone->rise_k, 0.0, 1.0);
        gas_w = b->zone_units * zone->input_w * duty;
        pilot_w = b->zone_units * zone->pilot_w * (1.0 - duty);
        *pigs_feel_c += duty * zone->rise_k;
    }
    terms[TH_TERM_ZONE_GAS] = gas_w;
    terms[TH_TERM_ZONE_PILOT_GAS] = pilot_w;
    terms[TH_TERM_ZONE] = gas_w * b->zone_share;
    terms[TH_TERM_ZONE_PILOTS] = pilot_w * b->zone_share;
}

static void pig_terms(const struct th_balance *b, double feel_c, double terms[TH_TERMS])
{
    double sensible_w = 0.0, latent_w = 0.0, spill_w = 0.0;
    if (b->day) {
        th_herd_heat(b->day->heat20_w * b->activity, feel_c, b->room->pigs.k_s, &sensible_w,
                     &latent_w);
        spill_w = b->day->spill_kg_s * b->activity * TH_HERD_LATENT_J_KG;
    }
    terms[TH_TERM_PIGS] = sensible_w;
    terms[TH_TERM_LATENT] = latent_w;
    terms[TH_TERM_DRYING] = b->drying_kg_s * TH_HERD_LATENT_J_KG + spill_w;
}

/* What lies below the attic is as warm as the air at the ceiling. */
static double ceiling_c(const struct th_balance *b, double temp_c)
{
    return temp_c + b->room->shell.stratification_k;
}

/* Massless attic without sun: heat from below and the roof and the air drawn through it. */
static double attic_c(const struct th_balance *b, double temp_c, double air_w_k)
{
    const struct th_fabric *fabric = b->fabric;
    if (!fabric->faces[TH_FACES_ATTIC])
        return b->out->out_c;
    const double below_c = ceiling_c(b, temp_c);
    return below_c - th_envelope_attic_delta_k(fabric->attic_plain_w_k, fabric->attic_loose_w_k,
                                               fabric->attic_roof_w_k + air_w_k,
                                               below_c - b->out->out_c);
}

/* Share of the fans' air that comes through the heated hallway. */
static double hallway_share(const struct th_balance *b)
{
    if (b->room->air.inlet != TH_INLET_HALLWAY)
        return 0.0;
    const bool all = !th_balance_surplus_outside(b) || b->minimum_m3_s <= 0.0;
    return all || b->fan_m3_s <= b->minimum_m3_s ? 1.0 : b->minimum_m3_s / b->fan_m3_s;
}

/* Fans and leaks draw on the same pressure (ASHRAE Fundamentals: in quadrature). */
static double with_leak_m3_s(const struct th_balance *b, double temp_c, double fan_m3_s)
{
    return sqrt(fan_m3_s * fan_m3_s +
                th_air_leak_squared(&b->fabric->leak, temp_c - b->out->out_c, b->out->wind_m_s));
}

/* Needs the water that the pigs give off and what dries; returns the attic's temperature. */
static double air_terms(const struct th_balance *b, double temp_c, double terms[TH_TERMS])
{
    const struct th_air *air = &b->room->air;
    const struct th_climate_hour *out = b->out;
    const double flow_m3_s = with_leak_m3_s(b, temp_c, b->fan_m3_s);
    const double water_kg_s = (terms[TH_TERM_LATENT] + terms[TH_TERM_DRYING]) / TH_HERD_LATENT_J_KG;
    const double all_kg_s =
        th_air_dry_kg_s(flow_m3_s, temp_c, out->w_kg_kg, water_kg_s, out->pressure_pa);
    const double fan_kg_s = flow_m3_s > 0.0 ? all_kg_s * (b->fan_m3_s / flow_m3_s) : 0.0;
    const double c = TH_PSY_CP_AIR + TH_PSY_CP_VAPOUR * out->w_kg_kg;
    const bool through_attic = air->inlet == TH_INLET_ATTIC;
    const double attic_temp_c = attic_c(b, temp_c, through_attic ? fan_kg_s * c : 0.0);
    const double share = hallway_share(b);
    const double warmed_k = share * th_greater(air->hallway_c - out->out_c, 0.0);
    const double inlet_c = through_attic ? attic_temp_c : out->out_c + warmed_k;
    terms[TH_TERM_DRY_AIR] = all_kg_s;
    terms[TH_TERM_DRY_FAN] = fan_kg_s;
    terms[TH_TERM_DRY_HALLWAY] = share * fan_kg_s;
    terms[TH_TERM_INLET_C] = inlet_c;
    terms[TH_TERM_AIR] = fan_kg_s * c * (temp_c - inlet_c);
    terms[TH_TERM_LEAKAGE] = (all_kg_s - fan_kg_s) * c * (temp_c - out->out_c);
    return attic_temp_c;
}

static void surface_terms(const struct th_balance *b, double temp_c, double attic_temp_c,
                          double terms[TH_TERMS])
{
    const struct th_fabric *fabric = b->fabric;
    const double out_k = temp_c - b->out->out_c, attic_k = temp_c - attic_temp_c;
    const double hallway_k = temp_c - th_greater(b->room->air.hallway_c, b->out->out_c);
    for (int kind = 0; kind < TH_SURFACE_KINDS; kind++)
        terms[TH_TERM_SURFACE + kind] = fabric->ua_w_k[TH_FACES_OUTSIDE][kind] * out_k +
                                        fabric->ua_w_k[TH_FACES_ATTIC][kind] * attic_k +
                                        fabric->ua_w_k[TH_FACES_HALLWAY][kind] * hallway_k +
                                        fabric->layered_w[kind];
    if (fabric->attic_loose_w_k > 0.0) {
        const double warmer_k = ceiling_c(b, temp_c) - attic_temp_c;
        const double kept = th_envelope_loose_fill_factor(warmer_k);
        for (int kind = 0; kind < TH_SURFACE_KINDS; kind++)
            terms[TH_TERM_SURFACE + kind] += fabric->loose_w_k[kind] * (warmer_k / kept);
    }
    terms[TH_TERM_EDGE] = fabric->edge_w_k * (temp_c - b->out->mean24_c);
    terms[TH_TERM_MASS] = fabric->mass_w_k * (temp_c - b->mass_c);
}

void th_balance_terms(const struct th_balance *balance, double temp_c, double terms[TH_TERMS])
{
    double feel_c;
    terms[TH_TERM_PILOTS] = balance->pilots_w;
    terms[TH_TERM_INTERNAL] = balance->internal_w;
    zone_terms(balance, temp_c, terms, &feel_c);
    pig_terms(balance, feel_c, terms);
    const double attic_temp_c = air_terms(balance, temp_c, terms);
    surface_terms(balance, temp_c, attic_temp_c, terms);
}

double th_balance_more_air(const struct th_balance *balance, double temp_c, double fan_m3_s)
{
    const struct th_climate_hour *out = balance->out;
    const double more_m3_s = with_leak_m3_s(balance, temp_c, fan_m3_s) -
                             with_leak_m3_s(balance, temp_c, balance->fan_m3_s);
    return th_air_dry_kg_s(more_m3_s, temp_c, out->w_kg_kg, 0.0, out->pressure_pa);
}

double th_balance_net_at(const struct th_balance *balance, double temp_c)
{
    double terms[TH_TERMS];
    th_balance_terms(balance, temp_c, terms);
    return th_balance_net(terms);
}
