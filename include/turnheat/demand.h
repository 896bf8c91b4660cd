/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Gas demand of a whole farm by hour and day: all rooms, and the other users of the tanks. */
#ifndef TURNHEAT_DEMAND_H
#define TURNHEAT_DEMAND_H

#include "turnheat/case.h"
#include "turnheat/runs.h"
#include "turnheat/tank.h"

/** Longest fuel year, days. */
#define TH_FUEL_YEAR_DAYS 366

/** One fuel year, 1 July to 30 June. */
struct th_fuel_year {
    int year;
    bool usable;    /**< every room finds its season counted */
    long first_day; /**< 1 July (day number) */
    size_t n_days;
    double *day_gal;    /**< n_days: barns and other users */
    double *hour_w;     /**< 24 × n_days: gas demand of barns and other users */
    double *hour_out_c; /**< 24 × n_days: outdoors */
    double barns_gal, uses_gal;
    double month_gal[12]; /**< January first, barns and other users */
};

/** What one room (of one copy) burned in each season the weather touches. */
struct th_demand_room {
    int first_year, n;
    double *season_j;     /**< NaN where not counted */
    struct th_tally mean; /**< of the counted seasons */
};

/** All years of a farm. Owns them. */
struct th_demand {
    bool typical; /**< of a typical year, whose number means nothing */
    int n;
    int n_usable;
    struct th_fuel_year *years;
    int n_rooms;
    struct th_demand_room *rooms; /**< in the order of the cases */
    struct th_tally books;        /**< of all seasons behind it, one of each room */
};

/**
 * Runs all rooms over the seasons of the first case and adds the `uses`. All rooms must burn
 * propane and share one climate (TH_ERR_INPUT otherwise); TH_ERR_COVERAGE when no year is usable;
 * otherwise as th_runs_winters(). Finish `demand` in any case.
 */
enum th_code th_demand_run(struct th_runs *runs, const struct th_case *cases, int n,
                           const struct th_use *uses, int n_uses, struct th_demand *demand,
                           struct th_error *err);

/** Gas of the season that starts in `year`, J; NaN when it is not counted or not touched. */
double th_demand_season_j(const struct th_demand_room *room, int year);

/** Place in a fuel year of the date of `day`, which may be of another year; 28 February where there
 * is no 29th. */
long th_fuel_year_place(const struct th_fuel_year *year, long day);

/** Frees; NULL and a second call are allowed. */
void th_demand_finish(struct th_demand *demand);

#endif
