/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tank.h"

#include "parameters_farm.h"

#include "turnheat/calendar.h"

#include <math.h>

void th_tank_defaults(struct th_tank *tank)
{
    *tank = (struct th_tank){0};
    th_parameters_start(&th_parameters_tank, tank);
}

static bool in_range(double value, double low, double high)
{
    return isfinite(value) && value >= low && value <= high;
}

static enum th_code check_levels(const struct th_tank *tank, struct th_error *err)
{
    if (!in_range(tank->fill_share, 0.05, 1.0))
        return th_fail(err, TH_ERR_RANGE, "fill_share must be 0.05 to 1");
    if (!in_range(tank->start_share, 0.0, tank->fill_share))
        return th_fail(err, TH_ERR_RANGE, "start_share must be 0 to fill_share");
    if (!in_range(tank->reserve_share, 0.0, tank->fill_share))
        return th_fail(err, TH_ERR_RANGE, "reserve_share must be 0 to fill_share");
    if (!in_range(tank->reorder_share, 0.0, tank->fill_share))
        return th_fail(err, TH_ERR_RANGE, "reorder_share must be 0 to fill_share");
    return TH_OK;
}

static enum th_code check_truck(const struct th_tank *tank, struct th_error *err)
{
    if (tank->lead_days < 0 || tank->lead_days > 30)
        return th_fail(err, TH_ERR_RANGE, "lead_days must be 0 to 30");
    if (tank->weekdays == 0 || (tank->weekdays & ~TH_WEEKDAYS_ALL))
        return th_fail(err, TH_ERR_RANGE, "weekdays must name at least one day of the week");
    if (!in_range(tank->truck_gal, 1.0, 1e6))
        return th_fail(err, TH_ERR_RANGE, "truck must hold 1 to 1,000,000 gal");
    if (!in_range(tank->min_drop_gal, 0.0, tank->truck_gal))
        return th_fail(err, TH_ERR_RANGE, "min_drop must be 0 up to the truck's load");
    if (tank->min_drop_gal > tank->fill_share * tank->capacity_gal * tank->count)
        return th_fail(err, TH_ERR_RANGE, "min_drop is more than the tanks can take");
    return TH_OK;
}

enum th_code th_tank_check(const struct th_tank *tank, struct th_error *err)
{
    if (tank->count < 1 || tank->count > 40)
        return th_fail(err, TH_ERR_RANGE, "count must be 1 to 40");
    if (!in_range(tank->capacity_gal, 1.0, 1e6))
        return th_fail(err, TH_ERR_RANGE, "capacity must be 1 to 1,000,000 gal");
    if (!in_range(tank->diameter_m, 0.0, 10.0) || !in_range(tank->length_m, 0.0, 50.0))
        return th_fail(err, TH_ERR_RANGE, "diameter must be 0 to 10 m and length 0 to 50 m");
    if (!in_range(tank->use_share, 0.0, 1.0))
        return th_fail(err, TH_ERR_RANGE, "use_share must be 0 to 1");
    const enum th_code code = check_levels(tank, err);
    return code ? code : check_truck(tank, err);
}

enum th_code th_use_check(const struct th_use *use, struct th_error *err)
{
    if (!th_date_valid(2001, use->from_month, use->from_day))
        return th_fail(err, TH_ERR_RANGE, "the first day of a use does not exist in every year");
    if (use->n_weeks < 1 || use->n_weeks > TH_USE_WEEKS_MAX)
        return th_fail(err, TH_ERR_RANGE, "a use has %d weeks; 1 to %d are allowed", use->n_weeks,
                       TH_USE_WEEKS_MAX);
    for (int i = 0; i < use->n_weeks; i++)
        if (!in_range(use->week_gal[i], 0.0, 1e6))
            return th_fail(err, TH_ERR_RANGE, "week %d must take 0 to 1,000,000 gal", i + 1);
    if (!in_range(use->rate_w, 0.0, 1e8))
        return th_fail(err, TH_ERR_RANGE, "rate must be 0 to 100,000 kW");
    return TH_OK;
}
