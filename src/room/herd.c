/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/herd.h"

#include "bounds.h"
#include "turnheat/table.h"
#include "turnheat/units.h"

#include <gsl/gsl_math.h>

#define GOMPERTZ_FINAL_KG (485.72 * TH_KG_PER_LB)
#define GOMPERTZ_START 3.62068
#define GOMPERTZ_PER_DAY 0.010827

#define WEANED_UP_TO_KG 15.0
#define GROWING_FROM_KG 25.0

static const struct th_table intake_ratio = {
    .n = 7,
    .x = {6.0, 9.0, 18.0, 37.5, 62.5, 87.5, 117.5},
    .y = {1.81, 2.44, 2.95, 3.11, 2.99, 2.75, 2.45},
};

double th_herd_gompertz_kg(double curve_day)
{
    return GOMPERTZ_FINAL_KG * exp(-GOMPERTZ_START * exp(-GOMPERTZ_PER_DAY * curve_day));
}

double th_herd_gompertz_day(double mass_kg)
{
    if (!(mass_kg > 0.0 && mass_kg < GOMPERTZ_FINAL_KG))
        return GSL_NAN;
    return -log(log(GOMPERTZ_FINAL_KG / mass_kg) / GOMPERTZ_START) / GOMPERTZ_PER_DAY;
}

double th_herd_intake_ratio(double mass_kg)
{
    return th_table_at(&intake_ratio, mass_kg);
}

/* Maintenance, and of what is eaten above it the part that is not stored as growth. */
static double heat_from_maintenance(double maintenance_w, double mass_kg)
{
    const double heat_share = 1.0 - (0.47 + 0.003 * mass_kg);
    return maintenance_w * (1.0 + heat_share * (th_herd_intake_ratio(mass_kg) - 1.0));
}

double th_herd_heat20_w(double mass_kg)
{
    const double weaned_w = heat_from_maintenance(7.4 * pow(mass_kg, 0.66), mass_kg);
    const double growing_w = heat_from_maintenance(5.09 * pow(mass_kg, 0.75), mass_kg);
    const double growing_share = (mass_kg - WEANED_UP_TO_KG) / (GROWING_FROM_KG - WEANED_UP_TO_KG);
    return weaned_w + th_within(growing_share, 0.0, 1.0) * (growing_w - weaned_w);
}

extern inline void th_herd_heat(double heat20_w, double temp_c, double k_s, double *sensible_w,
                                double *latent_w);

double th_herd_activity(double a, double least_hour, double hour_of_day)
{
    return 1.0 - a * sin(2.0 * M_PI / 24.0 * (hour_of_day + 6.0 - least_hour));
}
