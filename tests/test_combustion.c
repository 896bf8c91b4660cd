/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/combustion.h"
#include "turnheat/psychro.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>

#define MBTU_J (1e6 * TH_J_PER_BTU)
#define LATENT_25C_J_KG 2.442e6 /* steam tables, from memory */

START_TEST(a_gallon_of_propane)
{
    const struct th_combustion gas = th_combustion_of(TH_PROPANE);
    /* "12.6–12.7": right to half the last digit on either side. */
    validate("D1", VALIDATE_CHECK, "EIA CO2 coefficients 2016 (12.70) and stoichiometry (12.6)",
             "CO2 from a gallon of propane, 12.6-12.7", 12.65,
             gas.co2_kg_j * gas.hhv_j / TH_KG_PER_LB, 0.10, "lb");
    validate("D1", VALIDATE_CHECK, "stoichiometry", "water from a gallon of propane", 6.86,
             gas.water_kg_j * gas.hhv_j / TH_KG_PER_LB, 0.005, "lb");
    validate("D2", VALIDATE_CHECK, "AFDC; Agriculture 11(7):588, 2021 measured 92.4-100.9 %",
             "sensible share of unvented propane heat", 0.92, gas.lhv_share, 0.005, "share");
}
END_TEST

/* 36.38 ft³ of vapour a gallon makes three times as much CO2; at 60 °F, into 300 cfm. */
START_TEST(burner_air_bounds_carbon_dioxide)
{
    const struct th_combustion gas = th_combustion_of(TH_PROPANE);
    const double at_60f = (273.15 + th_c_from_f(60.0)) / 293.15;
    const double co2_m3_s = gas.co2_m3_j * at_60f * 1e5 * TH_W_PER_BTUH;
    validate("D3", VALIDATE_CHECK, "Ontario clause 7.36.1 (rule); stoichiometry",
             "CO2 rise at full duty, 300 cfm per 100,000 Btu/h propane", 6624.0,
             1e6 * co2_m3_s / (300.0 * TH_M3S_PER_CFM), 0.02 * 6624.0, "ppm");
}
END_TEST

START_TEST(carbon_dioxide_agrees_with_the_coefficients)
{
    const char *source = "EIA CO2 coefficients, from memory";
    validate("D4", VALIDATE_CHECK, source, "CO2 from propane", 62.88,
             th_combustion_of(TH_PROPANE).co2_kg_j * MBTU_J, 0.02 * 62.88, "kg/MBtu");
    validate("D4", VALIDATE_CHECK, source, "CO2 from natural gas", 52.91,
             th_combustion_of(TH_NATURAL_GAS).co2_kg_j * MBTU_J, 0.02 * 52.91, "kg/MBtu");
}
END_TEST

/* The higher value exceeds the lower by the heat of the water's condensation: two sets of printed
 * numbers that must agree, to 0.5 % of the higher value. */
START_TEST(lower_value_leaves_the_water_as_vapour)
{
    const struct th_combustion propane = th_combustion_of(TH_PROPANE);
    const struct th_combustion natural = th_combustion_of(TH_NATURAL_GAS);
    validate("D5", VALIDATE_CHECK, "water formed × latent heat at 25 °C",
             "lower over higher heating value, propane", 1.0 - propane.water_kg_j * LATENT_25C_J_KG,
             propane.lhv_share, 0.005, "share");
    validate("D5", VALIDATE_CHECK, "water formed × latent heat at 25 °C",
             "lower over higher heating value, natural gas",
             1.0 - natural.water_kg_j * LATENT_25C_J_KG, natural.lhv_share, 0.005, "share");
}
END_TEST

/* A kilogram of propane, 50.33 MJ (2,219.2 kJ/mol, physical tables, from memory), has 3 × 44.01 /
 * 44.10 kg CO2; the gallon's round 91,500 Btu and 4.2 lb agree to 1.5 %. A cubic foot of methane
 * at 60 °F holds 1,010 Btu (from memory); natural gas with its ethane 1,037, within 3 %. */
START_TEST(heating_values_agree_with_physical_tables)
{
    const struct th_combustion gas = th_combustion_of(TH_PROPANE);
    const double propane_kg_j = gas.co2_kg_j * 44.10 / (3.0 * 44.01);
    validate("D6", VALIDATE_CHECK, "physical tables, from memory", "propane, higher heating value",
             50.33, 1e-6 / propane_kg_j, 0.015 * 50.33, "MJ/kg");
    validate("D6", VALIDATE_CHECK, "pure methane, physical tables, from memory",
             "natural gas, higher heating value", 1010.0,
             TH_COMBUSTION_NATURAL_J_M3 * TH_M3_PER_FT3 / TH_J_PER_BTU, 0.03 * 1010.0, "Btu/ft3");
}
END_TEST

/* A burner alone lifts CO2 by the same amount whatever the flow: heat and CO2 both scale with it.
 * "About 2,350 ppm at 100 °F", derived; right to half its last digit but one, 2 %. */
START_TEST(burner_alone_makes_the_same_rise_at_any_flow)
{
    const struct th_combustion gas = th_combustion_of(TH_PROPANE);
    const double heat_j_m3 =
        TH_PSY_CP_AIR * 100.0 * TH_K_PER_F / th_psy_volume(20.0, 0.0, 101325.0);
    validate("D7", VALIDATE_CHECK, "derived", "CO2 rise from propane alone heating air by 100 °F",
             2350.0, 1e6 * gas.co2_m3_j * heat_j_m3 / gas.lhv_share, 0.02 * 2350.0, "ppm");
}
END_TEST

/* What goes in comes out: C3H8 + 5 O2 → 3 CO2 + 4 H2O; hydrogen and carbon of the gas by mass. */
START_TEST(atoms_are_kept)
{
    const struct th_combustion gas = th_combustion_of(TH_PROPANE);
    const double carbon = gas.co2_kg_j * 12.011 / 44.009;
    const double hydrogen = gas.water_kg_j * 2.016 / 18.015;
    ck_assert_double_eq_tol((carbon + hydrogen) * gas.hhv_j, 4.2 * TH_KG_PER_LB, 1e-9);
    ck_assert_double_eq_tol(gas.co2_m3_j / gas.co2_kg_j, 1.0 / 1.8296,
                            1e-4); /* CO2, kg/m³, 20 °C */
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("combustion");
    TCase *tc = tcase_create("combustion");
    tcase_add_test(tc, a_gallon_of_propane);
    tcase_add_test(tc, burner_air_bounds_carbon_dioxide);
    tcase_add_test(tc, carbon_dioxide_agrees_with_the_coefficients);
    tcase_add_test(tc, lower_value_leaves_the_water_as_vapour);
    tcase_add_test(tc, heating_values_agree_with_physical_tables);
    tcase_add_test(tc, burner_alone_makes_the_same_rise_at_any_flow);
    tcase_add_test(tc, atoms_are_kept);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
