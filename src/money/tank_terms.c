/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/tank.h"

#include "parameters_farm.h"

#include "turnheat/calendar.h"

void th_tank_defaults(struct th_tank *tank)
{
    *tank = (struct th_tank){0};
    th_parameters_start(&th_parameters_tank, tank);
}

static enum th_code too_high(struct th_error *err, const char *key, double share,
                             const struct th_tank *tank)
{
    return th_fail(err, TH_ERR_RANGE,
                   "%s = %.3g %% is above the level tanks are filled to, fill = %.3g %%", key,
                   100.0 * share, 100.0 * tank->fill_share);
}

static enum th_code check_levels(const struct th_tank *tank, struct th_error *err)
{
    if (tank->start_share > tank->fill_share)
        return too_high(err, "start", tank->start_share, tank);
    if (tank->reserve_share > tank->fill_share)
        return too_high(err, "reserve", tank->reserve_share, tank);
    if (tank->reorder_share > tank->fill_share)
        return too_high(err, "reorder", tank->reorder_share, tank);
    return TH_OK;
}

enum th_code th_tank_check(const struct th_tank *tank, struct th_error *err)
{
    enum th_code code = th_parameters_check(&th_parameters_tank, tank, err);
    if (code == TH_OK)
        code = check_levels(tank, err);
    if (code != TH_OK)
        return code;
    if (tank->weekdays == 0 || (tank->weekdays & ~TH_WEEKDAYS_ALL))
        return th_fail(err, TH_ERR_RANGE, "weekdays must name at least one day of the week");
    if (tank->min_drop_gal > tank->truck_gal)
        return th_fail(err, TH_ERR_RANGE, "min_drop = %.0f gal is more than truck = %.0f gal holds",
                       tank->min_drop_gal, tank->truck_gal);
    if (tank->min_drop_gal > tank->fill_share * tank->capacity_gal * tank->count)
        return th_fail(err, TH_ERR_RANGE, "min_drop = %.0f gal is more than the tanks can take",
                       tank->min_drop_gal);
    return TH_OK;
}

enum th_code th_use_check(const struct th_use *use, struct th_error *err)
{
    if (!th_date_valid(2001, use->from_month, use->from_day))
        return th_fail(err, TH_ERR_RANGE,
                       "from is no day of every year; expected another than 29 February");
    if (use->n_weeks < 1 || use->n_weeks > TH_USE_WEEKS_MAX)
        return th_fail(err, TH_ERR_RANGE, "weeks has %d weeks; 1 to %d are allowed", use->n_weeks,
                       TH_USE_WEEKS_MAX);
    for (int i = 0; i < use->n_weeks; i++)
        if (!(use->week_gal[i] >= 0.0 && use->week_gal[i] <= 1e6))
            return th_fail(err, TH_ERR_RANGE, "weeks: week %d must take 0 to 1,000,000 gal", i + 1);
    return th_parameters_check(&th_parameters_use, use, err);
}
