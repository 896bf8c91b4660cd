/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tank.h"

#include "turnheat/table.h"
#include "turnheat/units.h"

#include <math.h>

#define SMALLEST_GAL 200.0
#define LARGEST_GAL 2200.0

/* Outer sizes of common tanks, from memory. */
static const struct th_table diameter_in = {
    .n = 4, .x = {250, 500, 1000, 1990}, .y = {30, 37.5, 41, 47}};
static const struct th_table length_in = {
    .n = 4, .x = {250, 500, 1000, 1990}, .y = {93, 120, 192, 288}};

/* Wetted-surface factor by level in per cent, from memory; makers' charts print 70 at 30 %. */
static const struct th_table level_factor = {
    .n = 7, .x = {0, 10, 20, 30, 40, 50, 60}, .y = {0, 45, 60, 70, 80, 90, 100}};

enum th_code th_tank_size(double capacity_gal, double *diameter_m, double *length_m,
                          struct th_error *err)
{
    if (!(capacity_gal >= SMALLEST_GAL && capacity_gal <= LARGEST_GAL))
        return th_fail(err, TH_ERR_RANGE,
                       "the size of a %g-gal tank is not in the table (200 to 2,200 gal); give its "
                       "diameter and length",
                       capacity_gal);
    *diameter_m = th_table_at(&diameter_in, capacity_gal) * TH_M_PER_IN;
    *length_m = th_table_at(&length_in, capacity_gal) * TH_M_PER_IN;
    return TH_OK;
}

double th_tank_fill_share(double filling_density, double specific_gravity, double volume_factor)
{
    return filling_density / (specific_gravity * volume_factor);
}

double th_tank_vapour_w(const struct th_tank *tank, double level_share, double out_c)
{
    const double air_factor = fmax(0.0, (th_f_from_c(out_c) + 20.0) / 20.0);
    const double btu_h = tank->diameter_m / TH_M_PER_IN * (tank->length_m / TH_M_PER_IN) *
                         th_table_at(&level_factor, 100.0 * level_share) * air_factor;
    return btu_h * TH_W_PER_BTUH;
}

static void note_hour(size_t hour, double demand_w, double capacity_w,
                      struct th_vapour_check *check)
{
    if (demand_w <= 0.0)
        return;
    const double ratio = capacity_w / demand_w;
    check->hours_short += demand_w > capacity_w;
    if (check->asked && ratio >= check->worst_ratio)
        return;
    check->asked = true;
    check->worst_ratio = ratio;
    check->worst_hour = hour;
    check->worst_demand_w = demand_w;
    check->worst_capacity_w = capacity_w;
}

void th_tank_vapour_check(const struct th_tank *tank, size_t n_hours, const double *demand_w,
                          const double *out_c, const double *level_gal,
                          struct th_vapour_check *check)
{
    const double full_gal = tank->count * tank->capacity_gal;
    double day_sum_w = 0.0;
    *check = (struct th_vapour_check){0};
    for (size_t h = 0; h < n_hours; h++) {
        const double level_share = level_gal[h / 24] / full_gal;
        const double capacity_w = tank->count * th_tank_vapour_w(tank, level_share, out_c[h]);
        note_hour(h, demand_w[h], capacity_w, check);
        day_sum_w += demand_w[h] - (h >= 24 ? demand_w[h - 24] : 0.0);
        const double mean_w = day_sum_w / (double)(h < 23 ? h + 1 : 24);
        /* The running sum leaves rounding behind when demand ends. */
        check->hours_over_half += mean_w > 0.5 * capacity_w + 1e-6;
    }
}
