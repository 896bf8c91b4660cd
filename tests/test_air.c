/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/air.h"
#include "turnheat/herd.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>
#include <stdio.h>

#define SEA_LEVEL_PA 101325.0

/* Heat, W, to warm dry air by `rise_k` that leaves as `flow_m3_s` at `room_c`, at sea level. */
static double heat_w(double flow_m3_s, double room_c, double rise_k)
{
    return th_air_dry_kg_s(flow_m3_s, room_c, 0.0, 0.0, SEA_LEVEL_PA) * TH_PSY_CP_AIR * rise_k;
}

START_TEST(minimum_air_is_as_tabulated)
{
    const struct {
        double from_lb, to_lb, cfm;
    } classes[] = {{12, 30, 2}, {30, 75, 3}, {75, 150, 7}, {150, 300, 10}};
    const struct th_table *steps = th_air_minimum_steps();
    ck_assert_int_eq(th_table_check(steps, NULL), TH_OK);
    for (int i = 0; i < 4; i++) {
        char what[80];
        snprintf(what, sizeof what, "minimum air from %g lb", classes[i].from_lb);
        const double from = th_table_at(steps, classes[i].from_lb * TH_KG_PER_LB);
        const double below = th_table_at(steps, (classes[i].to_lb - 0.01) * TH_KG_PER_LB);
        validate("B3", VALIDATE_CHECK, "MWPS-32 as tabulated by Univ. of Minnesota Extension", what,
                 classes[i].cfm, from / TH_M3S_PER_CFM, 1e-9, "cfm");
        ck_assert_double_eq(below, from);
    }
    ck_assert_double_eq_tol(th_table_at(steps, 3.0), 2.0 * TH_M3S_PER_CFM, 1e-12);
}
END_TEST

/* The curve runs through the classes: below a class where it starts, above it where it ends, and
 * over a turn (default growth, 165 days) within 5 % of it (our judgement of "the same air"). */
START_TEST(smooth_minimum_rises_and_keeps_to_the_classes)
{
    const struct th_table *smooth = th_air_minimum_smooth();
    double smooth_sum = 0.0, steps_sum = 0.0;
    ck_assert_int_eq(th_table_check(smooth, NULL), TH_OK);
    for (int i = 1; i < smooth->n; i++)
        ck_assert_double_gt(smooth->y[i], smooth->y[i - 1]);
    for (int day = 0; day < 165; day++) {
        const double kg = th_herd_gompertz_kg(day);
        const double curve = th_table_at(smooth, kg),
                     step = th_table_at(th_air_minimum_steps(), kg);
        ck_assert_msg(curve > 0.70 * step && curve < 1.75 * step, "day %d: %g of %g", day, curve,
                      step);
        smooth_sum += curve;
        steps_sum += step;
    }
    ck_assert_double_eq_tol(smooth_sum / steps_sum, 1.0, 0.05);
}
END_TEST

/* Between the points of the curve, interpolated by hand: lb, cfm. */
START_TEST(smooth_minimum_by_hand)
{
    const double rows[][2] = {{10, 2.0},   {17, 2.1},  {25.5, 2.45}, {40, 3.25}, {62.5, 4.5},
                              {93.5, 6.1}, {131, 7.6}, {175, 8.7},   {230, 9.6}, {300, 10.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double flow = th_table_at(th_air_minimum_smooth(), rows[i][0] * TH_KG_PER_LB);
        ck_assert_double_eq_tol(flow / TH_M3S_PER_CFM, rows[i][1], 1e-9);
    }
}
END_TEST

START_TEST(warming_air_takes_the_published_heat)
{
    validate("C1", VALIDATE_CHECK, "Kansas State Swine Day 1976", "500 cfm heated 30 °F, to 70 °F",
             16000.0,
             heat_w(500.0 * TH_M3S_PER_CFM, th_c_from_f(70.0), 30.0 * TH_K_PER_F) / TH_W_PER_BTUH,
             0.02 * 16000.0, "Btu/h");
    const double m3_h = 2000.0 / (heat_w(1.0, 20.0, 10.0)) * TH_S_PER_H;
    validate("C2", VALIDATE_CHECK,
             "Qp + Qs = dT (Ks + 0.333 V), The Pig Site, Ventilation: cost of treatment? (web)",
             "air at 20 °C that 2 kW warm by 10 °C", 600.0, m3_h, 0.02 * 600.0, "m3/h");
    const double day_btu =
        heat_w(2000.0 * TH_M3S_PER_CFM, th_c_from_f(70.0), 70.0 * TH_K_PER_F) / TH_W_PER_BTUH * 24;
    validate("C3", VALIDATE_CHECK, "Univ. of Georgia 2008, 20(11)",
             "2,000 cfm warmed 70 °F for a day, 100,000 Btu/gal, all of it heat", 36.0,
             day_btu / 1e5, 0.02 * 36.0, "gal");
}
END_TEST

/* Round trip: the dry air found, leaving with the room's own moisture, is the volume asked for. */
START_TEST(dry_air_carries_the_volume_asked_for)
{
    for (double water_kg_s = 0.0; water_kg_s < 0.05; water_kg_s += 0.01) {
        for (double w_out = 0.0; w_out < 0.012; w_out += 0.003) {
            const double flow_m3_s = 2.3, temp_c = 24.0, pressure_pa = 97000.0;
            const double dry = th_air_dry_kg_s(flow_m3_s, temp_c, w_out, water_kg_s, pressure_pa);
            const double room_w = w_out + water_kg_s / dry;
            ck_assert_double_eq_tol(dry * th_psy_volume(temp_c, room_w, pressure_pa), flow_m3_s,
                                    1e-12);
        }
    }
    ck_assert_double_eq(th_air_dry_kg_s(0.001, 20.0, 0.0, 1.0, SEA_LEVEL_PA), 0.0);
    ck_assert_double_eq(th_air_dry_kg_s(0.0, 20.0, 0.0, 0.0, SEA_LEVEL_PA), 0.0);
}
END_TEST

/* Check J2: the same volume carries less air at 1,000 ft. */
START_TEST(thin_air_carries_less)
{
    const double high_pa = th_psy_pressure(1000.0 * TH_M_PER_FT);
    const double low = th_air_dry_kg_s(1.0, 20.0, 0.005, 0.001, th_psy_pressure(0.0));
    const double high = th_air_dry_kg_s(1.0, 20.0, 0.005, 0.001, high_pa);
    validate("J2", VALIDATE_CHECK, "standard atmosphere",
             "air mass in the same flow, 1,000 ft against sea level", -3.6,
             100.0 * (high / low - 1.0), 0.05, "%");
}
END_TEST

START_TEST(catalogue_air_swells_in_a_warm_room_up_high)
{
    /* 0.075 lb/ft³ is dry air at 70 °F and sea level (0.0749) rounded to two digits. */
    const double at_70f = th_air_standard_to_room(1.0, th_c_from_f(70.0), 0.0, SEA_LEVEL_PA);
    ck_assert_double_eq_tol(at_70f, 1.0, 0.0005 / 0.075);
    const double room =
        th_air_standard_to_room(1.0, 28.0, 0.008, th_psy_pressure(1000.0 * TH_M_PER_FT));
    const double dry = th_air_dry_kg_s(room, 28.0, 0.008, 0.0, th_psy_pressure(304.8));
    ck_assert_double_eq_tol(dry / TH_AIR_STANDARD_KG_M3, 1.0, 1e-12);
    ck_assert_double_gt(room, at_70f);
}
END_TEST

/* ASHRAE prints the coefficients twice, each rounded for itself: cfm from in², °F and mph, one
 * storey, stack 0.0150 and wind 0.0119…0.0012 by class (from memory). They agree to 2 %. */
START_TEST(leakage_agrees_with_the_us_form)
{
    const double wind_us[] = {0.0119, 0.0092, 0.0065, 0.0039, 0.0012};
    const double leak_cm2 = 107.0 * 2.54 * 2.54;
    for (int shelter = 1; shelter <= 5; shelter++) {
        char what[80];
        snprintf(what, sizeof what, "leakage, 107 in2, 30 °F, 6 mph, shelter class %d", shelter);
        const double us_cfm = 107.0 * sqrt(0.0150 * 30.0 + wind_us[shelter - 1] * 36.0);
        const double flow =
            th_air_leak_m3_s(leak_cm2, shelter, 30.0 * TH_K_PER_F, 6.0 * TH_M_S_PER_MPH);
        validate("C9", VALIDATE_CHECK, "ASHRAE Fundamentals, US coefficients, from memory", what,
                 us_cfm, flow / TH_M3S_PER_CFM, 0.02 * us_cfm, "cfm");
    }
}
END_TEST

START_TEST(leakage_has_its_limits)
{
    ck_assert_double_eq(th_air_leak_m3_s(500.0, 2, 0.0, 0.0), 0.0);
    ck_assert_double_eq(th_air_leak_m3_s(500.0, 2, -9.0, 3.0),
                        th_air_leak_m3_s(500.0, 2, 9.0, 3.0));
    ck_assert_double_eq(th_air_leak_m3_s(500.0, 0, 9.0, 3.0), th_air_leak_m3_s(500.0, 1, 9.0, 3.0));
    ck_assert_double_eq(th_air_leak_m3_s(500.0, 9, 9.0, 3.0), th_air_leak_m3_s(500.0, 5, 9.0, 3.0));
    for (int shelter = 1; shelter < 5; shelter++)
        ck_assert_double_gt(th_air_leak_m3_s(500.0, shelter, 9.0, 3.0),
                            th_air_leak_m3_s(500.0, shelter + 1, 9.0, 3.0));
}
END_TEST

/* New swine buildings, 1.0–1.4 air changes at 20 Pa (ASHRAE Trans. 101(1) no. 3869), under an 8 ft
 * ceiling: the default 1.1 cm² per m² of floor lies between them. */
START_TEST(leakage_area_from_a_blower_door)
{
    const double per_m2 = th_air_leak_cm2_from_ach20(1.2, 8.0 * TH_M_PER_FT, 1.2);
    validate("C10", VALIDATE_CHECK,
             "our default, derived from ASHRAE Trans. 101(1) no. 3869, 1.0-1.4 ACH at 20 Pa",
             "leakage at 4 Pa per floor area, 1.2 ACH, 8 ft ceiling", 1.1, per_m2, 0.05, "cm2/m2");
    /* By hand: what a sharp hole of that area lets through at 4 Pa, carried to 20 Pa. */
    const double at_4pa_m3_s = per_m2 * 1e-4 * sqrt(2.0 * 4.0 / 1.2);
    const double ach20 = at_4pa_m3_s * pow(20.0 / 4.0, 0.65) / (8.0 * TH_M_PER_FT) * TH_S_PER_H;
    ck_assert_double_eq_tol(ach20, 1.2, 1e-12);
}
END_TEST

START_TEST(inlet_opening)
{
    const double inlet_m2 = th_air_inlet_m2(600.0 * TH_M3S_PER_CFM, TH_AIR_INLET_M_S);
    validate("E6", VALIDATE_CHECK,
             "Minnesota pork producers, ventilation column (web), second-hand",
             "inlet for 600 cfm at 800 ft/min", 0.75, inlet_m2 / TH_M2_PER_FT2, 1e-9, "ft2");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("air");
    TCase *tc = tcase_create("air");
    tcase_add_test(tc, minimum_air_is_as_tabulated);
    tcase_add_test(tc, smooth_minimum_rises_and_keeps_to_the_classes);
    tcase_add_test(tc, smooth_minimum_by_hand);
    tcase_add_test(tc, warming_air_takes_the_published_heat);
    tcase_add_test(tc, dry_air_carries_the_volume_asked_for);
    tcase_add_test(tc, thin_air_carries_less);
    tcase_add_test(tc, catalogue_air_swells_in_a_warm_room_up_high);
    tcase_add_test(tc, leakage_agrees_with_the_us_form);
    tcase_add_test(tc, leakage_has_its_limits);
    tcase_add_test(tc, leakage_area_from_a_blower_door);
    tcase_add_test(tc, inlet_opening);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
