/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Gas demand of a whole farm by hour and day: all rooms, and the other users of the tanks. */
#ifndef TURNHEAT_FARM_DEMAND_H
#define TURNHEAT_FARM_DEMAND_H

#include "turnheat/case.h"
#include "turnheat/tank.h"

/** Longest fuel year, days. */
#define TH_FUEL_YEAR_DAYS 366

/** One fuel year, 1 July to 30 June. */
struct th_fuel_year {
    int year;
    bool usable;    /**< every room's turns that touch it are covered */
    long first_day; /**< 1 July (day number) */
    size_t n_days;
    double *day_gal; /**< n_days: barns and other users */
    double *hour_w;  /**< 24 × n_days: gas demand of barns and other users */
    double *hour_out_c;
    double barns_gal, uses_gal;
    double month_gal[12]; /**< January first, barns and other users */
};

struct th_farm_demand {
    int n;
    int n_usable;
    struct th_fuel_year *years;
};

/**
 * Runs all rooms over the seasons of the first case and adds the `uses`. All rooms must burn
 * propane and share one climate (TH_ERR_INPUT otherwise); TH_ERR_COVERAGE when no year is usable;
 * otherwise as th_winters_run().
 */
enum th_code th_farm_demand_run(struct th_farm_demand *demand, const struct th_case *cases, int n,
                                const struct th_use *uses, int n_uses, struct th_error *err);

/** Frees; NULL and a second call are allowed. */
void th_farm_demand_finish(struct th_farm_demand *demand);

#endif
