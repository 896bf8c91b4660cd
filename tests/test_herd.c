/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/herd.h"
#include "turnheat/room.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>

#define CIGR "CIGR 4th report, Pedersen & Sällvik 2002"

/* Total and sensible heat, W/kg, averaged over pigs of 5 to 8 kg. */
static void weaned_heat_w_kg(double temp_c, double *total, double *sensible)
{
    const int n = 31;
    *total = *sensible = 0.0;
    for (int i = 0; i < n; i++) {
        const double mass_kg = 5.0 + 3.0 * i / (n - 1);
        double sensible_w, latent_w;
        th_herd_heat(th_herd_heat20_w(mass_kg), temp_c, 1.0, &sensible_w, &latent_w);
        *total += (sensible_w + latent_w) / mass_kg / n;
        *sensible += sensible_w / mass_kg / n;
    }
}

/*
 * Harmon, Xin & Shao 1997, Trans. ASAE 40(6):1693–1698: calorimeter, weaned pigs. The temperature
 * held in the trial was on average 1.1 °C under the named start temperature. 15 %: the spread of
 * such measurements between trials and breeds.
 */
START_TEST(weaned_pigs_give_the_measured_heat)
{
    const char *source = "Harmon, Xin & Shao 1997, Trans. ASAE 40(6):1693-1698";
    double total, sensible;
    weaned_heat_w_kg(28.9 - 1.1, &total, &sensible);
    validate("B1", VALIDATE_CHECK, source, "pigs 5-8 kg started at 28.9 °C, total heat", 5.66,
             total, 0.15 * 5.66, "W/kg");
    validate("B1", VALIDATE_CHECK, source, "pigs 5-8 kg started at 28.9 °C, sensible heat", 2.71,
             sensible, 0.15 * 2.71, "W/kg");
    weaned_heat_w_kg(24.4 - 1.1, &total, &sensible);
    validate("B1", VALIDATE_CHECK, source, "pigs 5-8 kg started at 24.4 °C, total heat", 5.87,
             total, 0.15 * 5.87, "W/kg");
    validate("B1", VALIDATE_CHECK, source, "pigs 5-8 kg started at 24.4 °C, sensible heat", 3.22,
             sensible, 0.15 * 3.22, "W/kg");
}
END_TEST

/*
 * A pig burning at a respiratory quotient of 1.0 to 1.1 (feed starch, with growth): Brouwer's heat
 * 16.18 kJ/L O2 + 5.02 kJ/L CO2 at 0 °C (1965, from memory). The middle, 1.05; the house figure
 * also holds some CO2 from manure. 10 %.
 */
START_TEST(carbon_dioxide_follows_the_heat)
{
    struct th_room room;
    th_room_defaults(&room);
    const double kj_per_litre_co2 = 16.18 / 1.05 + 5.02;
    const double m3_h_kw = 3600.0 / kj_per_litre_co2 / 1000.0 * (293.15 / 273.15);
    validate("B2", VALIDATE_CHECK, "Pedersen et al. 2008, CIGR Ejournal 1205",
             "CO2 for 1 kW of heat at 20 °C, a room's default", 0.185, room.pigs.co2_m3_h_kw, 0.0,
             "m3/h");
    validate("B2", VALIDATE_CHECK, "Brouwer 1965, respiratory quotient 1.05, from memory",
             "CO2 for 1 kW of heat, from the pig's gas exchange", m3_h_kw, room.pigs.co2_m3_h_kw,
             0.10 * m3_h_kw, "m3/h");
}
END_TEST

/* The close-outs the curve was fitted to; a fit of three points by three numbers, to 1 %. */
START_TEST(growth_passes_through_the_closeouts)
{
    const char *source = "close-outs of about 25,000 US and Canadian groups, 2008-2011";
    const double placed = th_herd_gompertz_day(12.9 * TH_KG_PER_LB);
    validate("B4", VALIDATE_CHECK, source,
             "weight 46 days after placing at 12.9 lb (fit: drawn through it)", 53.8,
             th_herd_gompertz_kg(placed + 46.0) / TH_KG_PER_LB, 0.538, "lb");
    validate("B4", VALIDATE_CHECK, source,
             "weight 165 days after placing at 12.9 lb (fit: drawn through it)", 264.8,
             th_herd_gompertz_kg(placed + 165.0) / TH_KG_PER_LB, 2.648, "lb");
}
END_TEST

START_TEST(growth_inverts)
{
    for (double day = -20.0; day < 300.0; day += 7.3)
        ck_assert_double_eq_tol(th_herd_gompertz_day(th_herd_gompertz_kg(day)), day, 1e-9);
    ck_assert(isnan(th_herd_gompertz_day(0.0)));
    ck_assert(isnan(th_herd_gompertz_day(-1.0)));
    ck_assert(isnan(th_herd_gompertz_day(221.0)));
}
END_TEST

/* One pig by hand, no blend: 60 kg, n = 3.002 between 37.5 (3.11) and 62.5 kg (2.99);
 * maintenance 5.09 × 60^0.75 = 109.7 W; total 109.7 × (1 + 0.35 × 2.002) = 186.6 W (CIGR 2002). */
START_TEST(sixty_kilogram_pig_by_hand)
{
    ck_assert_double_eq_tol(th_herd_intake_ratio(60.0), 3.002, 1e-12);
    validate("B5", VALIDATE_CHECK, CIGR, "total heat of a 60 kg pig at 20 °C, worked by hand",
             186.6, th_herd_heat20_w(60.0), 0.1, "W");
}
END_TEST

/* NRC 2012 feed intakes reduced to n (from memory), interpolated by hand between the points. */
START_TEST(intake_ratio_by_hand)
{
    const double rows[][2] = {{5, 1.81},  {7.5, 2.125}, {13.5, 2.695}, {27.75, 3.03},
                              {50, 3.05}, {75, 2.87},   {102.5, 2.60}, {130, 2.45}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ck_assert_double_eq_tol(th_herd_intake_ratio(rows[i][0]), rows[i][1], 1e-9);
}
END_TEST

/* 25 kg at n 3.007: 56.91 W × (1 + 0.455 × 2.007) = 108.9 W; 15 kg at n 2.78: 44.21 W × (1 + 0.485
 * × 1.78) = 82.4 W; worked by hand from the two equations of CIGR 2002. */
START_TEST(blend_starts_and_ends_on_the_two_equations)
{
    ck_assert_double_eq_tol(th_herd_heat20_w(25.0), 108.9, 0.1);
    ck_assert_double_eq_tol(th_herd_heat20_w(15.0), 82.4, 0.1);
    const double step = 1e-6;
    const double joints[] = {15.0, 25.0};
    for (int i = 0; i < 2; i++)
        ck_assert_double_eq_tol(th_herd_heat20_w(joints[i] - step),
                                th_herd_heat20_w(joints[i] + step), 1e-3);
}
END_TEST

START_TEST(heavier_pigs_give_more_heat)
{
    for (double mass_kg = 4.0; mass_kg < 140.0; mass_kg += 0.5)
        ck_assert_double_gt(th_herd_heat20_w(mass_kg + 0.5), th_herd_heat20_w(mass_kg));
}
END_TEST

/* Check J2: physics. */
START_TEST(sensible_and_latent_add_up)
{
    for (double temp_c = -30.0; temp_c <= 60.0; temp_c += 0.25) {
        for (double k_s = 0.5; k_s <= 1.1; k_s += 0.1) {
            double sensible_w, latent_w;
            th_herd_heat(1000.0, temp_c, k_s, &sensible_w, &latent_w);
            ck_assert_double_ge(sensible_w, 0.0);
            ck_assert_double_ge(latent_w, 0.0);
            ck_assert_double_eq_tol(sensible_w + latent_w, 1000.0 + 12.0 * (20.0 - temp_c), 1e-9);
        }
    }
}
END_TEST

/* At 20 °C and house level: 0.85 × (800 − 152) = 550.8 W of 1000 (CIGR 2002 eq. 29 by hand). */
START_TEST(sensible_share_by_hand)
{
    double sensible_w, latent_w;
    th_herd_heat(1000.0, 20.0, 0.85, &sensible_w, &latent_w);
    ck_assert_double_eq_tol(sensible_w, 550.8, 1e-9);
    th_herd_heat(1000.0, 45.0, 0.85, &sensible_w, &latent_w);
    ck_assert_double_eq(sensible_w, 0.0);
}
END_TEST

/* In the range of rooms, colder rooms get more sensible heat: the balance has one root. */
START_TEST(sensible_heat_falls_with_temperature)
{
    double warmer_w = INFINITY;
    for (double temp_c = -10.0; temp_c <= 40.0; temp_c += 0.5) {
        double sensible_w, latent_w;
        th_herd_heat(1000.0, temp_c, 0.85, &sensible_w, &latent_w);
        ck_assert_double_le(sensible_w, warmer_w);
        warmer_w = sensible_w;
    }
}
END_TEST

START_TEST(activity_averages_to_one)
{
    double sum = 0.0;
    for (int hour = 0; hour < 24; hour++)
        sum += th_herd_activity(0.43, 1.7, hour + 0.5);
    ck_assert_double_eq_tol(sum / 24.0, 1.0, 1e-12);
    ck_assert_double_eq_tol(th_herd_activity(0.2, 1.7, 1.7), 0.8, 1e-12);
    ck_assert_double_eq_tol(th_herd_activity(0.2, 1.7, 13.7), 1.2, 1e-12);
    ck_assert_double_eq(th_herd_activity(0.0, 1.7, 9.0), 1.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("herd");
    TCase *tc = tcase_create("herd");
    tcase_add_test(tc, weaned_pigs_give_the_measured_heat);
    tcase_add_test(tc, carbon_dioxide_follows_the_heat);
    tcase_add_test(tc, growth_passes_through_the_closeouts);
    tcase_add_test(tc, growth_inverts);
    tcase_add_test(tc, sixty_kilogram_pig_by_hand);
    tcase_add_test(tc, intake_ratio_by_hand);
    tcase_add_test(tc, blend_starts_and_ends_on_the_two_equations);
    tcase_add_test(tc, heavier_pigs_give_more_heat);
    tcase_add_test(tc, sensible_and_latent_add_up);
    tcase_add_test(tc, sensible_share_by_hand);
    tcase_add_test(tc, sensible_heat_falls_with_temperature);
    tcase_add_test(tc, activity_averages_to_one);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
