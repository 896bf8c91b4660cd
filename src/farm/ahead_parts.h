/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: looking ahead from a day, in parts. Days are counted from `before` days ahead of the
 * first day, back to the oldest reading of a gauge. */
#ifndef TURNHEAT_FARM_AHEAD_PARTS_H
#define TURNHEAT_FARM_AHEAD_PARTS_H

#include "turnheat/ahead.h"

/** A winter of the plan that goes on from the date. */
struct th_ahead_winter {
    int year;      /**< its place among the plan's */
    long farm_row; /**< its place in the outlook, -1 without */
    size_t first;  /**< day of its fuel year that day 0 is */
    double barns_gal[TH_FUEL_YEAR_DAYS], uses_gal[TH_FUEL_YEAR_DAYS];
};

/** What one case did: a winter, a farm and a path of prices. */
struct th_ahead_case {
    const struct th_ahead_winter *winter;
    double scale;       /**< of the barns' gallons */
    double given_scale; /**< the same with the barns as their files have them */
    double posted_usd_gal[TH_PRICE_PERIODS];
    double day_gal[TH_FUEL_YEAR_DAYS];
    size_t n_deliveries;
    struct th_delivery deliveries[TH_TANKS_MAX * TH_FUEL_YEAR_DAYS]; /**< in order of day */
};

struct th_ahead_work {
    const struct th_plan *plan;
    const struct th_ahead_in *in;
    size_t before, n_days; /**< n_days with those before */
    size_t n_winters, n_farms, n_cases;
    struct th_ahead_winter *winters;
    /* Of every day ahead: its month's place among those ahead, and its period of prices. */
    int month_place[TH_FUEL_YEAR_DAYS], period[TH_FUEL_YEAR_DAYS];
    struct th_price_paths paths; /**< without a price none */
    struct th_ahead_case *now;   /**< the case at work */
    size_t order[TH_CONTRACTS_MAX];
    /* Of every case, to be sorted: rows of n_cases. */
    double *used_gal, *bought_gal, *spot_gal, *usd, *week_gal, *month_gal;
};

/** Finds the winters and makes room. Close in any case. */
enum th_code th_ahead_open(struct th_ahead_work *work, struct th_ahead *ahead,
                           struct th_error *err);

/** Frees what the work holds. */
void th_ahead_close(struct th_ahead_work *work);

/** Sets out case `i`: its use by day and its prices. */
void th_ahead_case_begin(struct th_ahead_work *work, size_t i);

/** Gallons group `tank` holds before the first day in the case at work, for planning. */
double th_ahead_start_gal(const struct th_ahead_work *work, int tank, double scale);

/** The trucks of the case at work. */
enum th_code th_ahead_trucks(struct th_ahead_work *work, struct th_error *err);

/** Contract and spot gallons of the case and what is paid, into row `i` and the means. */
void th_ahead_pay(struct th_ahead_work *work, size_t i, struct th_ahead *ahead);

/** When each group must be ordered for. */
enum th_code th_ahead_orders(struct th_ahead_work *work, struct th_ahead *ahead,
                             struct th_error *err);

#endif
