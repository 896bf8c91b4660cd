/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Propane tanks: what is delivered and when, whether they run dry, and whether they make vapour
 * fast enough in the cold. Volumes are US gallons (the unit propane is sold in), heat is in W.
 */
#ifndef TURNHEAT_TANK_H
#define TURNHEAT_TANK_H

#include "turnheat/error.h"
#include "turnheat/price.h"
#include "turnheat/room.h"
#include <stdbool.h>
#include <stddef.h>

/** Groups of tanks on one farm. */
#define TH_TANKS_MAX 8
#define TH_USE_WEEKS_MAX 53
/** Delivery weekdays: bit 0 = Monday … bit 6 = Sunday. */
#define TH_WEEKDAYS_MON_FRI 0x1Fu
#define TH_WEEKDAYS_ALL 0x7Fu

/** A group of equal tanks piped together, as in `[tank N]`. */
struct th_tank {
    char name[TH_NAME_MAX];
    int count;              /**< equal tanks, 1…40 */
    double capacity_gal;    /**< water capacity of one, > 0 */
    double diameter_m;      /**< outer; 0 = from th_tank_size() */
    double length_m;        /**< outer, over the heads; 0 = from th_tank_size() */
    double fill_share;      /**< filled to this share (0.80, 29 CFR 1910.110) */
    double start_share;     /**< level at the first day of a season, ≤ fill_share (0.50) */
    double reserve_share;   /**< kept for surprises, part of the computed reorder level (0.20) */
    double reorder_share;   /**< order at this level; 0 = computed, th_tank_reorder_gal() */
    int lead_days;          /**< from order to delivery, 0…30 (3) */
    unsigned weekdays;      /**< days the truck comes (Monday to Friday) */
    double truck_gal;       /**< most in one drop, > 0 (2,400) */
    double min_drop_gal;    /**< least in one drop, ≥ 0 (200) */
    double kept_full_share; /**< each fill brings the gauge to it; 0: not said */
    double use_share;       /**< of the gas this group supplies; 0 = by capacity among the groups */
};

/** Another user of the same tanks and contract (grain dryer, shop, house), as in `[use N]`. */
struct th_use {
    char name[TH_NAME_MAX];
    int from_month, from_day;          /**< first day of the first week, every season */
    int n_weeks;                       /**< 1…TH_USE_WEEKS_MAX */
    double week_gal[TH_USE_WEEKS_MAX]; /**< gallons of each week, ≥ 0 */
    double rate_w; /**< gas drawn while running, for the vapour check; 0 = the week's mean */
};

/** What a simulation of day steps found. Gallons: start + delivered + short = used + end. */
struct th_tank_run {
    double start_gal;
    double used_gal;      /**< asked for, met or not */
    double delivered_gal; /**< X */
    double end_gal;
    double lowest_gal; /**< lowest level after a day's use, before its delivery */
    int run_out_days;  /**< days on which the tanks could not give what was asked */
    double short_gal;  /**< asked for on those days and not there */
    size_t n_deliveries;
};

/** How the tanks' vapour stands against the gas demand. `worst_*` are at the lowest ratio. */
struct th_vapour_check {
    size_t hours_short;     /**< hours with demand above capacity */
    size_t hours_over_half; /**< hours whose 24 h mean demand is above half the capacity */
    double worst_ratio;     /**< least capacity over demand; 0 if none was asked */
    size_t worst_hour;      /**< index of that hour */
    double worst_demand_w;
    double worst_capacity_w;
    bool asked; /**< there was any demand at all */
};

/** Fills in the values named in brackets above: one tank of 1,000 gal. */
void th_tank_defaults(struct th_tank *tank);

/** Checks ranges; TH_ERR_RANGE names the key. */
enum th_code th_tank_check(const struct th_tank *tank, struct th_error *err);

/** Checks ranges; TH_ERR_RANGE names the key. */
enum th_code th_use_check(const struct th_use *use, struct th_error *err);

/** Gallons `use` takes on day number `day`: a seventh of its week's, 0 outside its weeks. */
double th_use_day_gal(const struct th_use *use, long day);

/** Gas `use` draws on that day, W: rate_w while it has gallons, else the day's mean. */
double th_use_day_w(const struct th_use *use, long day, double hhv_j_gal);

/**
 * Outer size of a tank of about `capacity_gal`: 250 gal 30 × 93 in, 500 37.5 × 120, 1,000 41 × 192,
 * 1,990 47 × 288 (from memory), between them linear; TH_ERR_RANGE below 200 and above 2,200 gal.
 */
enum th_code th_tank_size(double capacity_gal, double *diameter_m, double *length_m,
                          struct th_error *err);

/**
 * Share of water capacity that may be filled: filling density (mass of gas over mass of water the
 * tank holds) ÷ (specific gravity × volume factor to 40 °F). 29 CFR 1910.110(b)(19)(v)(d).
 */
double th_tank_fill_share(double filling_density, double specific_gravity, double volume_factor);

/**
 * Vapour one tank makes at `level_share` and air temperature, W: D·L·K·M Btu/h, D and L outer
 * inches, K 45/60/70/80/90/100 at 10/20/30/40/50/60 % and linear to 0 below (from memory, one
 * published cross-check), M = max(0, (°F + 20)/20). The tank's sizes must be known.
 */
double th_tank_vapour_w(const struct th_tank *tank, double level_share, double out_c);

/** The first day from day number `day` on that the truck comes. */
long th_tank_truck_day(const struct th_tank *tank, long day);

/** Days from order to delivery at the worst: lead days and the longest wait for a weekday. */
int th_tank_longest_lead(const struct th_tank *tank);

/**
 * Reorder level of the group, gal: reorder_share of the capacity when given; else the reserve and
 * the 95th percentile of the use over th_tank_longest_lead() days among all such windows of
 * `day_gal` (give the days of the heating season), at most the fill level. TH_ERR_INPUT with fewer
 * than 10 windows.
 */
enum th_code th_tank_reorder_gal(const struct th_tank *tank, size_t n_days, const double *day_gal,
                                 double *reorder_gal, struct th_error *err);

/**
 * Runs the group through `n_days` days from day number `first_day`: each day its use, then the
 * deliveries due. An order goes out when level + ordered ≤ reorder; it arrives lead_days later or
 * on the next delivery weekday, and waits further while there is room for less than min_drop_gal.
 * `start_gal` is the level before the first day. `deliveries` (n_days long, may be NULL) takes the
 * days' deliveries, `level_gal` (n_days long, may be NULL) the level after each day's use.
 */
enum th_code th_tank_run(const struct th_tank *tank, double reorder_gal, double start_gal,
                         long first_day, size_t n_days, const double *day_gal,
                         struct th_delivery *deliveries, double *level_gal, struct th_tank_run *run,
                         struct th_error *err);

/**
 * Compares hourly demand with the group's vapour. `level_gal` has a level for each 24 hours.
 * The 24 h mean is that of the hour and the 23 before (fewer at the start).
 */
void th_tank_vapour_check(const struct th_tank *tank, size_t n_hours, const double *demand_w,
                          const double *out_c, const double *level_gal,
                          struct th_vapour_check *check);

/**
 * Days the group lasts without a delivery from `level_gal` in the coldest stretch: the fewest full
 * days over all starts; `*start` is that first day's index. When no stretch empties it, `*days` is
 * n_days and `*emptied` false.
 */
void th_tank_days_of_supply(size_t n_days, const double *day_gal, double level_gal, size_t *days,
                            size_t *start, bool *emptied);

#endif
