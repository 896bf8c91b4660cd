/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Moist air. Equations: ASHRAE Handbook Fundamentals 2017, chapter 1 (constants from memory;
 * checked against the npm package psychrolib). Temperatures -100…100 °C, pressures 30…120 kPa.
 */
#ifndef TURNHEAT_PSYCHRO_H
#define TURNHEAT_PSYCHRO_H

#include "turnheat/error.h"

/** Ratio of the molecular masses of water and dry air (eq. 20). */
#define TH_PSY_RATIO 0.621945
/** 0 °C in K. */
#define TH_PSY_KELVIN 273.15
/** Specific heat of dry air and of water vapour, J/kg K (eq. 30). */
#define TH_PSY_CP_AIR 1006.0
#define TH_PSY_CP_VAPOUR 1860.0
/** Gas constant of dry air, J/kg K, and the moisture factor of the moist volume (eq. 26). */
#define TH_PSY_R_AIR 287.042
#define TH_PSY_VOLUME_FACTOR 1.607858

/** Standard-atmosphere pressure, Pa, at `elevation_m` (eq. 3). */
double th_psy_pressure(double elevation_m);

/** Saturation pressure of water vapour, Pa, over ice below 0.01 °C (eq. 5) and water above (eq. 6).
 */
double th_psy_saturation_pressure(double temp_c);

/** Humidity ratio, kg/kg dry air, from relative humidity 0…1 (eq. 20, 22). */
double th_psy_humidity_ratio(double temp_c, double rh, double pressure_pa);

/** Humidity ratio at saturation, kg/kg dry air (eq. 21). */
double th_psy_saturation_ratio(double temp_c, double pressure_pa);

/** Relative humidity, 0…, from humidity ratio (eq. 20, 22); above 1 when supersaturated. */
double th_psy_relative_humidity(double temp_c, double w_kg_kg, double pressure_pa);

/** Moist volume, m³ per kg dry air (eq. 26). */
double th_psy_volume(double temp_c, double w_kg_kg, double pressure_pa);

/** Density of dry air, kg/m³: 1 / th_psy_volume() without moisture. */
inline double th_psy_density(double temp_c, double pressure_pa)
{
    return pressure_pa / (TH_PSY_R_AIR * (temp_c + TH_PSY_KELVIN));
}

/** Enthalpy, J per kg dry air, from 0 °C dry air and liquid water (eq. 30). */
double th_psy_enthalpy(double temp_c, double w_kg_kg);

/**
 * Dew point, °C, by root of the saturation pressure. TH_ERR_RANGE unless w > 0 and the dew point
 * lies within -100…100 °C.
 */
enum th_code th_psy_dew_point(double w_kg_kg, double pressure_pa, double *dew_c,
                              struct th_error *err);

#endif
