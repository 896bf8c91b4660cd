/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Many hourly winters from twelve months of statistics, for places without station files. Daily
 * mean = smooth monthly normal + first-order autoregressive anomaly + an offset for the whole
 * season, without which winters would differ too little among themselves. Real seasons are better
 * where there are any: the cold tail of real winters is longer than that of normal deviates.
 */
#ifndef TURNHEAT_NORMALS_H
#define TURNHEAT_NORMALS_H

#include "turnheat/error.h"
#include "turnheat/weather.h"

/** Standard deviation of the season offset where none is known, K: 1.5 °F (derived from winters at
 * Milwaukee). */
#define TH_SEASON_OFFSET_SD_K (1.5 * 5.0 / 9.0)
/** Wind where none is given, m/s (our judgement; 10 mph is usual on the plains in winter). */
#define TH_NORMAL_WIND_M_S 4.5

/** Most seasons generated at once. */
#define TH_NORMAL_SEASONS_MAX 100

/** First year of generated series, so far off that none is taken for a real one. */
#define TH_NORMAL_FIRST_YEAR 2101

/** Statistics of a calendar month. */
struct th_month_normal {
    double mean_c;  /**< of the daily means, -60…45 */
    double sd_k;    /**< of the daily means about mean_c, years together, 0.1…20 */
    double lag1;    /**< autocorrelation of daily means from day to day, 0…0.95 */
    double range_k; /**< mean of the daily highest minus lowest, 0…30 */
    bool has_dew;
    double dew_c; /**< mean dew point, not above mean_c */
    bool has_wind;
    double wind_m_s; /**< mean, 0…20 */
};

struct th_normals {
    char place[96];
    bool
        spread_of_places; /**< the means are the place's own, the rest is of known places near by */
    bool has_season_offset;
    double season_offset_k; /**< standard deviation of whole seasons about the normal, 0…5 */
    struct th_month_normal month[12]; /**< January first */
};

/** TH_ERR_RANGE naming the month when a value lies outside its range. */
enum th_code th_normals_check(const struct th_normals *normals, struct th_error *err);

/**
 * Generates `seasons` seasons (1 July – 30 June) from 1 July of TH_NORMAL_FIRST_YEAR, and the hours
 * up to the following 31 December so that turns begun in the last season can end. Hourly, local
 * standard time, rounded to 0.1 °C and 0.1 m/s. The same seed gives the same series on any machine.
 * `weather` need not be initialised. TH_ERR_RANGE for normals that fail th_normals_check() or
 * seasons outside 1…TH_NORMAL_SEASONS_MAX; TH_ERR_MEMORY. On error `weather` is empty.
 */
enum th_code th_normals_generate(const struct th_normals *normals, int seasons, unsigned long seed,
                                 struct th_weather *weather, struct th_error *err);

#endif
