/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Pigs: how heavy they are and what heat they give off.
 *
 * Heat follows CIGR, 4th Report of Working Group on Climatization of Animal Houses (Pedersen &
 * Sällvik 2002). All functions are pure; heats are in W per pig.
 */
#ifndef TURNHEAT_HERD_H
#define TURNHEAT_HERD_H

/** Heat that turns a kilogram of the pigs' water into vapour, J/kg (CIGR 2002). */
#define TH_HERD_LATENT_J_KG 2448.0e3
/** CO₂, m³/h at 20 °C and 1 atm per kW of total heat at 20 °C (Pedersen et al. 2008). */
#define TH_HERD_CO2_M3_H_KW 0.185

/**
 * Mass, kg, on day `curve_day` of the default growth curve, a Gompertz curve fitted to published
 * close-outs of about 25,000 US and Canadian groups, 2008–2011: W = 485.72 lb
 * exp(-3.62068 exp(-0.010827 day)). Meant for days 0…200; day 0 is 13.0 lb.
 */
double th_herd_gompertz_kg(double curve_day);

/** Inverse of th_herd_gompertz_kg(): the curve day of a mass. NaN unless 0 < mass < 220.3 kg. */
double th_herd_gompertz_day(double mass_kg);

/**
 * Metabolisable energy eaten over that needed for maintenance (CIGR's n), by mass: our reduction of
 * NRC 2012 feed intakes (from memory). Linear between 6 and 117.5 kg, constant outside.
 */
double th_herd_intake_ratio(double mass_kg);

/**
 * Total heat of one pig at 20 °C, W (CIGR 2002): the weaned-pig equation up to 15 kg, the
 * growing-finishing equation from 25 kg, a linear blend between. `mass_kg` > 0; meant for 5…140.
 */
double th_herd_heat20_w(double mass_kg);

/**
 * Splits the heat of pigs at `temp_c` into sensible and latent. `heat20_w` is their total heat at
 * 20 °C (of one pig or of a room of them), `k_s` the sensible factor: 1.0 for dry pigs, about 0.85
 * for a house with wet floors. Total = heat20 (1 + 0.012 (20 - t)), never below 0; sensible from
 * CIGR 2002 eq. 29, kept within 0…total; latent is the rest, so the two always add up to the total.
 * CIGR's range is 0…40 °C; outside it the equations are only continued.
 */
inline void th_herd_heat(double heat20_w, double temp_c, double k_s, double *sensible_w,
                         double *latent_w)
{
    const double cold = 1.0 + 0.012 * (20.0 - temp_c);
    const double total_w = heat20_w * (cold > 0.0 ? cold : 0.0);
    const double unclipped_w = heat20_w * k_s * (0.8 * cold - 0.38e-3 * temp_c * temp_c);
    const double positive_w = unclipped_w > 0.0 ? unclipped_w : 0.0;
    *sensible_w = positive_w < total_w ? positive_w : total_w;
    *latent_w = total_w - *sensible_w;
}

/**
 * Factor on heat, water and CO₂ by hour of the day (CIGR 2002): 1 - a sin(2π/24 (h + 6 - h_min)).
 * `a` is 0…0.43 (from memory), `least_hour` h_min the hour at which the factor is 1 - a. Its mean
 * over a day is 1.
 */
double th_herd_activity(double a, double least_hour, double hour_of_day);

#endif
