/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Air: the minimum a pig needs, what leaks through the shell, and how much dry air a flow carries.
 * Volume flows are actual m³/s of moist air at the stated temperature and pressure.
 */
#ifndef TURNHEAT_AIR_H
#define TURNHEAT_AIR_H

#include "turnheat/psychro.h"
#include "turnheat/table.h"
#include "turnheat/units.h"

#include <math.h>

/** Dry air in a cubic metre of standard air, 0.075 lb/ft³ (ASHRAE's definition). */
#define TH_AIR_STANDARD_KG_M3 (0.075 * TH_KG_PER_LB / TH_M3_PER_FT3)

/** Velocity at which inlets are sized, 800 ft/min, m/s (extension ventilation text). */
#define TH_AIR_INLET_M_S (800.0 * TH_M_PER_FT / 60.0)

/**
 * Minimum air in cold weather, m³/s per pig against mass in kg, as a smooth curve through the
 * MWPS-32 classes (our shape; 2 cfm at 13 lb … 10 cfm at 260 lb). Passes th_table_check().
 */
const struct th_table *th_air_minimum_smooth(void);

/**
 * The same as the steps that MWPS-32 prints, as tabulated by Univ. of Minnesota Extension: from
 * 12 lb 2 cfm, from 30 lb 3, from 75 lb 7, from 150 lb 10; below 12 lb 2.
 */
const struct th_table *th_air_minimum_steps(void);

/**
 * Air leaking through the shell, m³/s: A_L √(C_s |ΔT| + C_w U²) (ASHRAE Fundamentals, one storey;
 * constants from memory). `leak_cm2` effective leakage area at 4 Pa, `shelter` class 1 (none) … 5
 * (very heavy), clamped to those; `delta_k` indoors minus outdoors; `wind_m_s` at the 10 m mast.
 */
double th_air_leak_m3_s(double leak_cm2, int shelter, double delta_k, double wind_m_s);

/** What a shell leaks, of its area and shelter class, in m⁶/s² per K and per m²/s² of wind. */
struct th_air_leak {
    double area_squared, per_k, per_wind_squared;
};

/** That of `leak_cm2` and `shelter` as th_air_leak_m3_s() takes them. */
struct th_air_leak th_air_leak(double leak_cm2, int shelter);

/** The leaking air squared, m⁶/s², for flows that add in quadrature. */
inline double th_air_leak_squared(const struct th_air_leak *leak, double delta_k, double wind_m_s)
{
    return leak->area_squared *
           (leak->per_k * fabs(delta_k) + leak->per_wind_squared * wind_m_s * wind_m_s);
}

/**
 * Effective leakage area at 4 Pa, cm², from the air changes an hour a blower door finds at 20 Pa
 * in a room of `volume_m3` with air of `density_kg_m3`; flow exponent 0.65 (ASHRAE Fundamentals,
 * ch. Ventilation and infiltration; from memory).
 */
double th_air_leak_cm2_from_ach20(double ach20, double volume_m3, double density_kg_m3);

/** Flow through the leakage area `leak_cm2` at 20 Pa, m³/s: the inverse for air of 1.2 kg/m³. */
double th_air_leak_20_pa_m3_s(double leak_cm2);

/**
 * Dry air carried, kg/s, by `flow_m3_s` leaving the room at `temp_c` and `pressure_pa`, when it
 * entered with `w_out` kg/kg and the room adds `water_kg_s` of vapour: the room's own humidity
 * ratio is w_out + water/m, so that m v(temp, w_out + water/m) = flow, which is linear in m. 0 when
 * the vapour alone would fill the flow.
 */
inline double th_air_dry_kg_s(double flow_m3_s, double temp_c, double w_out, double water_kg_s,
                              double pressure_pa)
{
    const double dry_kg_s =
        (flow_m3_s * th_psy_density(temp_c, pressure_pa) - TH_PSY_VOLUME_FACTOR * water_kg_s) /
        (1.0 + TH_PSY_VOLUME_FACTOR * w_out);
    return dry_kg_s > 0.0 ? dry_kg_s : 0.0;
}

/**
 * Actual flow, m³/s, at `temp_c`, `w_kg_kg` and `pressure_pa` that carries as much dry air as
 * `standard_m3_s` of standard air.
 */
double th_air_standard_to_room(double standard_m3_s, double temp_c, double w_kg_kg,
                               double pressure_pa);

/** Inlet opening, m², that passes `flow_m3_s` at `velocity_m_s` > 0. */
double th_air_inlet_m2(double flow_m3_s, double velocity_m_s);

#endif
