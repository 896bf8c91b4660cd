/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Posted propane prices through a season: paths of the wholesale price by month, correlated with
 * how much the season takes. Prices in dollars per US gallon.
 *
 * Wholesale of month m, t years after today: W = mean · exp(s √t z − s² t / 2), so that its mean is
 * today's price carried along the month index (mean = today's · index of m / index of today); z is
 * standard normal, its path over the months a random walk. Posted (retail) = fixed margin +
 * wholesale, doubled in the weeks of tight supply. With the season's gallons as normal score g: z =
 * ρ g + √(1 − ρ²) z0 (Gaussian copula), so z and g have the Pearson correlation ρ in every month.
 */
#ifndef TURNHEAT_PRICE_H
#define TURNHEAT_PRICE_H

#include "turnheat/error.h"
#include <stddef.h>

#define TH_PRICE_MONTHS 12
/** Twelve ordinary months, then the same twelve in the weeks of tight supply. */
#define TH_PRICE_PERIODS 24

/** Gallons put into the tanks on one day (day number as in calendar.h). */
struct th_delivery {
    long day;
    double gal;
};

/** One season's deliveries, in order of day. Memory belongs to the caller. */
struct th_winter {
    int season_year; /**< the season starts on 1 July of this year */
    size_t n;
    const struct th_delivery *deliveries;
};

struct th_price_model {
    double posted_usd_gal; /**< today's retail price, > margin */
    double margin_usd_gal; /**< fixed, retail less wholesale, ≥ 0 */
    int today_month; /**< of today's price, 1…12: July to March in the season, April to June before
                        it; months of the season already gone keep today's wholesale level */
    double sigma_year;                   /**< of ln wholesale over one year, 0…2 (0.34) */
    double rho;                          /**< with the season's gallons, −1…1 (0.3) */
    double month_index[TH_PRICE_MONTHS]; /**< January first, > 0 */
    int tight_month, tight_day;          /**< first day of tight supply (15 January) */
    int tight_days;                      /**< (42) */
    double tight_factor;                 /**< on retail, ≥ 1 (2) */
};

/** Standard normal paths and the winters' scores. Owns memory: init and finish. */
struct th_price_paths {
    struct th_price_model model;
    size_t n_paths;
    double *z;       /**< n_paths × TH_PRICE_MONTHS, calendar month order, before correlation */
    double *tight_u; /**< n_paths, 0…1: the path has tight supply when below its probability */
    size_t n_winters;
    double *score; /**< normal score of each winter's gallons */
    double *kept;  /**< posted prices by winter, path and month, see th_price_paths_keep() */
};

/**
 * σ 0.34 (from 284 monthly Gulf-coast prices 1992–2016), ρ 0.3 (judgement), tight supply retail × 2
 * for six weeks from 15 January (Midwest residential 2.08 → 4.20 $/gal Dec 2013 – Jan 2014, EIA),
 * margin 0.90 $/gal (judgement), month index th_price_month_index(). No price is set.
 */
void th_price_defaults(struct th_price_model *model);

/** Checks the ranges above; TH_ERR_RANGE names the value. */
enum th_code th_price_check(const struct th_price_model *model, struct th_error *err);

/**
 * Wholesale month index, January first: 1.011 in January, 0.950 in June, 1.051 in October, between
 * them a monotone (Steffen) curve (judgement: only those three months are from data).
 */
void th_price_month_index(double index[TH_PRICE_MONTHS]);

/** Period of a day: calendar month (0 = January), plus TH_PRICE_MONTHS in tight weeks. */
int th_price_period(const struct th_price_model *model, long day);

/**
 * Draws `n_paths` paths (Sobol points with a shift drawn from `seed`; the same on every machine)
 * and scores the winters by their total gallons. TH_ERR_RANGE, TH_ERR_MEMORY.
 */
enum th_code th_price_paths_init(struct th_price_paths *paths, const struct th_price_model *model,
                                 size_t n_paths, unsigned long seed, size_t n_winters,
                                 const double *season_gal, struct th_error *err);

/**
 * Posted prices of path `path` in winter `winter`. `tight_chance` is the probability of tight
 * supply: 0 keeps it out, 1 puts it into every path.
 */
void th_price_posted(const struct th_price_paths *paths, size_t path, size_t winter,
                     double tight_chance, double posted_usd_gal[TH_PRICE_PERIODS]);

/**
 * Works out the prices of all paths and winters once, for whoever asks for them again and again;
 * nothing where that would be more than 16 MB, or where memory is short: they are then worked out
 * each time, with the same result.
 */
void th_price_paths_keep(struct th_price_paths *paths);

/** Frees; NULL and a second call are allowed. */
void th_price_paths_finish(struct th_price_paths *paths);

#endif
