/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Gas: the heat, water and CO₂ a unit of it gives when burned completely. */
#ifndef TURNHEAT_COMBUSTION_H
#define TURNHEAT_COMBUSTION_H

#include "turnheat/room.h"
#include "turnheat/units.h"

/** Natural gas, higher heating value, J/m³ at 60 °F: 1,037 Btu/ft³ (EIA), to turn J into volume. */
#define TH_COMBUSTION_NATURAL_J_M3 (1037.0 * TH_J_PER_BTU / TH_M3_PER_FT3)

struct th_combustion {
    double hhv_j;      /**< higher heating value per unit sold: gallon of propane, therm */
    double lhv_share;  /**< lower over higher heating value */
    double water_kg_j; /**< water formed, kg per J of higher heating value */
    double co2_m3_j;   /**< CO₂ formed, m³ at 20 °C and 1 atm (ideal gas) per J */
    double co2_kg_j;   /**< the same as mass */
};

/**
 * Propane: C₃H₈, 4.2 lb and 91,500 Btu (EIA) a US gallon, of which 84,250 Btu (AFDC) are the lower
 * value. Natural gas: 100,000 Btu a therm; products per J taken as those of pure methane at
 * 890.6 kJ/mol (from memory), lower value 0.90. Products follow from stoichiometry.
 */
struct th_combustion th_combustion_of(enum th_gas gas);

#endif
