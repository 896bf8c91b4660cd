/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/psychro.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <math.h>
#include <stdio.h>

#define PSYCHROLIB "npm psychrolib 1.1.1, tests/data/psychro_values.csv"

struct state {
    double temp_c, rh, elevation_m, pressure_pa, w_kg_kg, enthalpy_j_kg, volume_m3_kg, dew_c;
};

static int near(double ours, double theirs, double relative)
{
    return fabs(ours - theirs) <= relative * fabs(theirs);
}

static double dew_c_of(double w_kg_kg, double pressure_pa)
{
    double dew_c = NAN;
    ck_assert_int_eq(th_psy_dew_point(w_kg_kg, pressure_pa, &dew_c, NULL), TH_OK);
    return dew_c;
}

/* Our values of a state that agree: 1e-4 relative, enthalpy at least 0.1 J/g, dew point 0.01 °F. */
static int agreeing(const struct state *s)
{
    const double w = th_psy_humidity_ratio(s->temp_c, s->rh, s->pressure_pa);
    const double h = th_psy_enthalpy(s->temp_c, w);
    const double h_allowed = 1e-4 * fmax(fabs(s->enthalpy_j_kg), 1000.0);
    return near(w, s->w_kg_kg, 1e-4) + (fabs(h - s->enthalpy_j_kg) <= h_allowed) +
           near(th_psy_volume(s->temp_c, w, s->pressure_pa), s->volume_m3_kg, 1e-4) +
           (fabs(dew_c_of(w, s->pressure_pa) - s->dew_c) <= 0.01 * TH_K_PER_F);
}

START_TEST(agrees_with_frozen_values)
{
    FILE *file = fopen("tests/data/psychro_values.csv", "r");
    ck_assert_msg(file != NULL, "tests/data/psychro_values.csv is missing");
    char line[256];
    struct state s;
    int values = 0, agree = 0, pressures = 0;
    while (fgets(line, sizeof line, file)) {
        if (sscanf(line, "%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf", &s.temp_c, &s.rh, &s.elevation_m,
                   &s.pressure_pa, &s.w_kg_kg, &s.enthalpy_j_kg, &s.volume_m3_kg, &s.dew_c) != 8)
            continue;
        values += 4;
        agree += agreeing(&s);
        pressures += near(th_psy_pressure(s.elevation_m), s.pressure_pa, 1e-6);
    }
    fclose(file);
    ck_assert_int_eq(values, 200);
    validate("A1", VALIDATE_CHECK, PSYCHROLIB,
             "of 200 values (w, h, v within 1e-4, dew point 0.01 °F), those that agree", 200.0,
             agree, 0.0, "values");
    validate("A1", VALIDATE_CHECK, PSYCHROLIB,
             "of 50 standard-atmosphere pressures, those within 1e-6", 50.0, pressures, 0.0,
             "values");
}
END_TEST

/* psychrolib in US units: dry bulb °F, RH, psia; then lb/lb, Btu/lb, ft³/lb, dew point °F. */
static const struct us_row {
    double t_f, rh, psia, w, h, v, dew_f;
} us_rows[] = {
    {70, 0.50, 14.6960, 0.007783, 25.3000, 13.5201, 50.528},
    {75, 0.65, 14.6960, 0.012060, 31.1974, 13.7404, 62.445},
    {32, 0.90, 14.6960, 0.003395, 11.3299, 12.4627, 29.708},
    {0, 0.80, 14.1943, 0.000649, 0.6888, 12.0104, -4.220},
    {-20, 0.70, 14.1943, 0.000190, -4.6003, 11.4793, -26.140},
};

/*
 * Half the last digit printed, or 1e-4 where the US form's own constants are rounded more coarsely.
 * Its enthalpy counts from 0 °F and takes 0.240 Btu/lb °F, 0.12 % below the SI form's 1,006 J/kg K.
 */
START_TEST(agrees_with_rows_in_us_units)
{
    const struct us_row row = us_rows[_i];
    const double temp_c = th_c_from_f(row.t_f);
    const double pressure_pa = row.psia * TH_PA_PER_PSI;
    const double w = th_psy_humidity_ratio(temp_c, row.rh, pressure_pa);
    ck_assert_double_eq_tol(w, row.w, fmax(0.5e-6, 1e-4 * row.w));
    const double volume = th_psy_volume(temp_c, w, pressure_pa) * TH_KG_PER_LB / TH_M3_PER_FT3;
    ck_assert_double_eq_tol(volume, row.v, 1e-4 * row.v);
    ck_assert_double_eq_tol(th_f_from_c(dew_c_of(w, pressure_pa)), row.dew_f, 0.01);
    const double h = (th_psy_enthalpy(temp_c, w) - th_psy_enthalpy(th_c_from_f(0.0), 0.0)) *
                     TH_KG_PER_LB / TH_J_PER_BTU;
    ck_assert_double_eq_tol(h, row.h, 0.0015 * fmax(fabs(row.h), 1.0));
}
END_TEST

/* Canadian bulletin 87:06, 1987: round figures, taken as right to half their last digit. */
START_TEST(agrees_with_bulletin)
{
    const double sea_level = th_psy_pressure(0.0);
    const char *source = "Canadian bulletin 87:06, 1987";
    validate("A2", VALIDATE_CHECK, source, "water in saturated air at -25 °C", 0.4,
             1e3 * th_psy_saturation_ratio(-25.0, sea_level), 0.05, "g/kg");
    validate("A2", VALIDATE_CHECK, source, "water in air at 15 °C, 75 % RH", 8.0,
             1e3 * th_psy_humidity_ratio(15.0, 0.75, sea_level), 0.5, "g/kg");
}
END_TEST

/* Saturation pressure of pure water; another formulation, so right to 0.1 % only. */
static const struct steam_row {
    double temp_c, pressure_pa;
    const char *what;
} steam_rows[] = {
    {-20.0, 103.26, "saturation pressure over ice at -20 °C"},
    {0.01, 611.657, "saturation pressure at the triple point"},
    {20.0, 2339.3, "saturation pressure at 20 °C"},
    {40.0, 7384.9, "saturation pressure at 40 °C"},
    {99.9743, 101325.0, "saturation pressure at the normal boiling point"},
};

START_TEST(agrees_with_steam_table)
{
    const struct steam_row row = steam_rows[_i];
    validate("A3", VALIDATE_CHECK, "IAPWS steam and ice tables, from memory", row.what,
             row.pressure_pa, th_psy_saturation_pressure(row.temp_c), 1e-3 * row.pressure_pa, "Pa");
}
END_TEST

START_TEST(agrees_with_standard_atmosphere)
{
    const char *source = "ICAO standard atmosphere, from memory";
    validate("A4", VALIDATE_CHECK, source, "pressure at 1,000 m", 89874.6, th_psy_pressure(1000.0),
             0.0005 * 89874.6, "Pa");
    validate("A4", VALIDATE_CHECK, source, "pressure at 3,000 m", 70108.5, th_psy_pressure(3000.0),
             0.0005 * 70108.5, "Pa");
    validate("A5", VALIDATE_CHECK, "physical tables, from memory", "dry air at 20 °C, 1 atm",
             1.2041, 1.0 / th_psy_volume(20.0, 0.0, 101325.0), 0.0005, "kg/m3");
}
END_TEST

START_TEST(dew_point_inverts_saturation)
{
    for (double temp_c = -60.0; temp_c <= 40.0; temp_c += 0.37) {
        const double w = th_psy_saturation_ratio(temp_c, 95000.0);
        ck_assert_double_eq_tol(dew_c_of(w, 95000.0), temp_c, 1e-3);
    }
}
END_TEST

START_TEST(relative_humidity_inverts_humidity_ratio)
{
    for (double rh = 0.05; rh <= 1.0; rh += 0.05) {
        const double w = th_psy_humidity_ratio(-12.0, rh, 98000.0);
        ck_assert_double_eq_tol(th_psy_relative_humidity(-12.0, w, 98000.0), rh, 1e-12);
    }
}
END_TEST

START_TEST(saturation_pressure_rises_everywhere)
{
    double below_pa = 0.0;
    for (double temp_c = -100.0; temp_c <= 100.0; temp_c += 0.05) {
        const double pressure_pa = th_psy_saturation_pressure(temp_c);
        ck_assert_double_gt(pressure_pa, below_pa);
        below_pa = pressure_pa;
    }
}
END_TEST

START_TEST(refuses_dew_points_that_do_not_exist)
{
    double dew_c = 7.0;
    struct th_error err;
    const double wrong[] = {0.0, -0.001, 1e-12, NAN, INFINITY};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        ck_assert_int_eq(th_psy_dew_point(wrong[i], 101325.0, &dew_c, &err), TH_ERR_RANGE);
    ck_assert_int_eq(err.code, TH_ERR_RANGE);
    ck_assert_double_eq(dew_c, 7.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("psychro");
    TCase *tc = tcase_create("psychro");
    tcase_add_test(tc, agrees_with_frozen_values);
    tcase_add_loop_test(tc, agrees_with_rows_in_us_units, 0, sizeof us_rows / sizeof us_rows[0]);
    tcase_add_test(tc, agrees_with_bulletin);
    tcase_add_loop_test(tc, agrees_with_steam_table, 0, sizeof steam_rows / sizeof steam_rows[0]);
    tcase_add_test(tc, agrees_with_standard_atmosphere);
    tcase_add_test(tc, dew_point_inverts_saturation);
    tcase_add_test(tc, relative_humidity_inverts_humidity_ratio);
    tcase_add_test(tc, saturation_pressure_rises_everywhere);
    tcase_add_test(tc, refuses_dew_points_that_do_not_exist);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
