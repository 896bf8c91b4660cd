/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Heating degree-days: counted from hours in four ways, and estimated from monthly statistics.
 */
#ifndef TURNHEAT_DEGREE_DAYS_H
#define TURNHEAT_DEGREE_DAYS_H

#include "turnheat/climate.h"
#include "turnheat/error.h"

/** Fewest hours with a temperature for a day to count (our judgement). */
#define TH_DAY_HOURS_MIN 18

/** Degree-days of a span, K·day but for the one that is defined in °F. */
struct th_degree_days {
    double hourly_k_d;   /**< Σ max(0, base − T)/24 over the hours there are */
    double mean_k_d;     /**< by the mean of the day's hours */
    double midrange_k_d; /**< by (highest + lowest)/2 of the day's hours */
    double nws_f_d; /**< as the US National Weather Service counts: highest and lowest in whole °F,
                         their mean rounded half up to whole °F */
    long hours;     /**< hours with a temperature */
    long days;      /**< days with at least TH_DAY_HOURS_MIN of them */
};

/**
 * Counts degree-days below `base_c` over `hours` hours from hour number `first_hour`, which should
 * begin a day. A day is 00:00–23:00, in a typical year the 24 hours its file labels 01:00–24:00.
 * Missing hours add nothing.
 */
struct th_degree_days th_degree_days_count(const struct th_climate *climate, long first_hour,
                                           long hours, double base_c);

/**
 * Schoenau & Kehrig 1990 as in ASHRAE Handbook Fundamentals, "Energy Estimating and Modeling
 * Methods", estimation of degree-days: daily means normally distributed with mean `mean` and
 * standard deviation `sd` over `days` days. Temperatures all in °F or all in °C; the result is in
 * the same degrees × days. TH_ERR_RANGE unless sd > 0 and days > 0.
 */
enum th_code th_hdd_schoenau_kehrig(double base, double mean, double sd, double days,
                                    double *degree_days, struct th_error *err);

/** The same for cooling degree-days above `base`. */
enum th_code th_cdd_schoenau_kehrig(double base, double mean, double sd, double days,
                                    double *degree_days, struct th_error *err);

/**
 * Erbs, Klein & Beckman 1983 (from memory, checked for consistency): heating degree-days, °F·day,
 * of a month of `days` days with mean `mean_f` where the twelve monthly means have the standard
 * deviation `sd_year_f`, °F. TH_ERR_RANGE unless days > 0 and the estimated spread is positive.
 */
enum th_code th_hdd_erbs(double base_f, double mean_f, double sd_year_f, double days,
                         double *degree_days_f, struct th_error *err);

#endif
