/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/psychro.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>

#define TRIPLE_POINT_C 0.01
#define LOWEST_C (-100.0)
#define HIGHEST_C 100.0
#define ITERATIONS_MAX 100

double th_psy_pressure(double elevation_m)
{
    return 101325.0 * pow(1.0 - 2.25577e-5 * elevation_m, 5.2559);
}

static double log_saturation_pressure(double temp_c)
{
    const double t = temp_c + TH_PSY_KELVIN;
    if (temp_c <= TRIPLE_POINT_C)
        return -5.6745359e3 / t + 6.3925247 +
               t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13))) +
               4.1635019 * log(t);
    return -5.8002206e3 / t + 1.3914993 +
           t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8)) + 6.5459673 * log(t);
}

double th_psy_saturation_pressure(double temp_c)
{
    return exp(log_saturation_pressure(temp_c));
}

double th_psy_humidity_ratio(double temp_c, double rh, double pressure_pa)
{
    const double vapour_pa = rh * th_psy_saturation_pressure(temp_c);
    return TH_PSY_RATIO * vapour_pa / (pressure_pa - vapour_pa);
}

double th_psy_saturation_ratio(double temp_c, double pressure_pa)
{
    return th_psy_humidity_ratio(temp_c, 1.0, pressure_pa);
}

static double vapour_pressure(double w_kg_kg, double pressure_pa)
{
    return pressure_pa * w_kg_kg / (TH_PSY_RATIO + w_kg_kg);
}

double th_psy_relative_humidity(double temp_c, double w_kg_kg, double pressure_pa)
{
    return vapour_pressure(w_kg_kg, pressure_pa) / th_psy_saturation_pressure(temp_c);
}

double th_psy_volume(double temp_c, double w_kg_kg, double pressure_pa)
{
    return TH_PSY_R_AIR * (temp_c + TH_PSY_KELVIN) * (1.0 + TH_PSY_VOLUME_FACTOR * w_kg_kg) /
           pressure_pa;
}

extern inline double th_psy_density(double temp_c, double pressure_pa);

double th_psy_enthalpy(double temp_c, double w_kg_kg)
{
    return TH_PSY_CP_AIR * temp_c + w_kg_kg * (2.501e6 + TH_PSY_CP_VAPOUR * temp_c);
}

static double dew_point_gap(double temp_c, void *log_target)
{
    return log_saturation_pressure(temp_c) - *(const double *)log_target;
}

static int solve_dew_point(gsl_root_fsolver *solver, double log_target, double *dew_c)
{
    gsl_function f = {.function = dew_point_gap, .params = &log_target};
    int status = gsl_root_fsolver_set(solver, &f, LOWEST_C, HIGHEST_C);
    if (status != GSL_SUCCESS)
        return status;
    for (int i = 0; i < ITERATIONS_MAX; i++) {
        status = gsl_root_fsolver_iterate(solver);
        if (status != GSL_SUCCESS)
            return status;
        *dew_c = gsl_root_fsolver_root(solver);
        status = gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                        gsl_root_fsolver_x_upper(solver), 1e-9, 0.0);
        if (status != GSL_CONTINUE)
            return status;
    }
    return GSL_EMAXITER;
}

enum th_code th_psy_dew_point(double w_kg_kg, double pressure_pa, double *dew_c,
                              struct th_error *err)
{
    const double target = w_kg_kg > 0.0 ? log(vapour_pressure(w_kg_kg, pressure_pa)) : GSL_NAN;
    if (!(target > log_saturation_pressure(LOWEST_C) &&
          target < log_saturation_pressure(HIGHEST_C)))
        return th_fail(err, TH_ERR_RANGE, "no dew point for humidity ratio %g at %g Pa", w_kg_kg,
                       pressure_pa);
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const int status = solve_dew_point(solver, target, dew_c);
    gsl_root_fsolver_free(solver);
    if (status != GSL_SUCCESS)
        return th_fail(err, TH_ERR_NUMERIC, "the dew point did not converge");
    return TH_OK;
}
