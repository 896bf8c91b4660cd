/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/combustion.h"

#include <gsl/gsl_const_mksa.h>

/* Molar masses, kg/mol (IUPAC 2021 conventional atomic weights). */
#define CARBON_KG 0.012011
#define HYDROGEN_KG 0.001008
#define OXYGEN_KG 0.015999
#define CO2_KG (CARBON_KG + 2.0 * OXYGEN_KG)
#define WATER_KG (2.0 * HYDROGEN_KG + OXYGEN_KG)
#define PROPANE_KG (3.0 * CARBON_KG + 8.0 * HYDROGEN_KG)

#define PROPANE_HHV_J (91500.0 * TH_J_PER_BTU)
#define PROPANE_LHV_J (84250.0 * TH_J_PER_BTU)
#define PROPANE_KG_GAL (4.2 * TH_KG_PER_LB)
#define THERM_J (1.0e5 * TH_J_PER_BTU)
#define METHANE_HHV_J_MOL 890.6e3

#define MOLAR_VOLUME_20C_M3                                                                        \
    (GSL_CONST_MKSA_MOLAR_GAS * (273.15 + 20.0) / GSL_CONST_MKSA_STD_ATMOSPHERE)

static struct th_combustion products(double mol_j, double carbons, double hydrogens)
{
    return (struct th_combustion){
        .water_kg_j = mol_j * hydrogens / 2.0 * WATER_KG,
        .co2_m3_j = mol_j * carbons * MOLAR_VOLUME_20C_M3,
        .co2_kg_j = mol_j * carbons * CO2_KG,
    };
}

struct th_combustion th_combustion_of(enum th_gas gas)
{
    struct th_combustion out;
    switch (gas) {
    case TH_NATURAL_GAS:
        out = products(1.0 / METHANE_HHV_J_MOL, 1.0, 4.0);
        out.hhv_j = THERM_J;
        out.lhv_share = 0.90;
        break;
    case TH_PROPANE:
    default:
        out = products(PROPANE_KG_GAL / PROPANE_KG / PROPANE_HHV_J, 3.0, 8.0);
        out.hhv_j = PROPANE_HHV_J;
        out.lhv_share = PROPANE_LHV_J / PROPANE_HHV_J;
        break;
    }
    return out;
}
