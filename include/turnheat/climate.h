/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Hourly outdoor conditions ready for the engine: gaps filled or marked, moisture as humidity
 * ratio, pressure as station pressure. Made from a struct th_weather by th_climate_init().
 */
#ifndef TURNHEAT_CLIMATE_H
#define TURNHEAT_CLIMATE_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

enum th_hour_state {
    TH_HOUR_MISSING,
    TH_HOUR_OBSERVED,
    TH_HOUR_FILLED,
    TH_HOUR_BORROWED /**< of the same date of another year, see th_climate_borrow() */
};

struct th_climate_hour {
    double out_c;       /**< dry bulb */
    double mean24_c;    /**< mean of this and the 23 hours before */
    double w_kg_kg;     /**< humidity ratio, kg water per kg dry air */
    double pressure_pa; /**< station pressure */
    double wind_m_s;    /**< at the 10 m mast */
    enum th_hour_state state;
};

/** What the hours hold, as far as filling goes. */
enum th_climate_part {
    TH_PART_TEMP,     /**< `missing` hours stay missing */
    TH_PART_HUMIDITY, /**< `missing` hours take TH_DEFAULT_RH */
    TH_PART_PRESSURE, /**< `missing` hours take the standard atmosphere at the site */
    TH_PART_WIND,     /**< `missing` hours take the mean of the series, or calm if there is none */
    TH_PARTS
};

/** Where the hours of one part come from; the four add up to the hours of the series. */
struct th_fill {
    size_t observed;
    size_t interpolated; /**< gaps of 1–3 h */
    size_t neighbour;    /**< gaps of 4–24 h, from the days before and after */
    size_t missing;
};

/** The year a typical year is laid out in; it and the next have 365 days. */
#define TH_TYPICAL_YEAR 2001

/**
 * `n` hours from hour number `first_hour` (calendar.h). A typical year starts on 1 January of
 * TH_TYPICAL_YEAR, has 8760 hours and repeats for ever.
 */
struct th_climate {
    bool typical;
    long first_hour;
    size_t n;
    struct th_climate_hour *hours;
    struct th_fill fill[TH_PARTS];
    size_t extra_reports; /**< reports besides the one nearest to each hour */
    size_t impossible;    /**< temperatures beyond belief, taken as not observed */
    long shift_min;       /**< added to the files' minutes to get local standard time */
};

/** The hour numbered `hour_number`, or NULL when it lies outside the series or is missing. */
const struct th_climate_hour *th_climate_at(const struct th_climate *climate, long hour_number);

/** The same, and NULL too when the hour is borrowed from another year. */
const struct th_climate_hour *th_climate_own(const struct th_climate *climate, long hour_number);

/** Writes the temperatures of the hours there are from `first_hour` to before `end_hour`; a typical
 * year wraps. Returns how many. */
size_t th_climate_temps(const struct th_climate *climate, long first_hour, long end_hour,
                        double *temps_c);

/** Whether the hours were generated from monthly statistics, as the years of normals.h tell: no
 * such winter was measured. */
bool th_climate_generated(const struct th_climate *climate);

/** Largest share of filled hours with which a turn is still run (our judgement). */
#define TH_FILLED_SHARE_MAX 0.02

/** How far a span of hours is covered. */
struct th_span_cover {
    long first_hour, hours; /**< span asked for */
    long filled;
    long borrowed;
    long missing;
    long first_missing, last_missing; /**< hour numbers, when missing > 0 */
    bool usable; /**< nothing missing and at most TH_FILLED_SHARE_MAX of the hours filled */
};

/** Coverage of `hours` hours from hour number `first_hour`; a typical year wraps. */
struct th_span_cover th_climate_coverage(const struct th_climate *climate, long first_hour,
                                         long hours);

/**
 * Makes `out`: the hours of `actual` before `from_hour`, then up to `end_hour` those of the same
 * date `years_back` years earlier (29 February takes 28 February where there is none). Hours the
 * earlier year does not hold stay missing. TH_ERR_RANGE unless the series is actual, `from_hour`
 * lies in it and `years_back` ≥ 1; TH_ERR_MEMORY. Finish `out` with th_climate_finish().
 */
enum th_code th_climate_continue(struct th_climate *out, const struct th_climate *actual,
                                 long from_hour, long end_hour, int years_back,
                                 struct th_error *err);

/**
 * Gives the missing hours from `first_hour` to before `end_hour` those that `from`, the same series
 * or a longer one, has of the same date `years_back` years earlier, later when below 0 (29 February
 * takes 28 February where there is none), as TH_HOUR_BORROWED. The series grows where they lie
 * outside it. Hours that year does not hold stay missing. TH_ERR_RANGE for a typical year;
 * TH_ERR_MEMORY.
 */
enum th_code th_climate_borrow(struct th_climate *climate, const struct th_climate *from,
                               long first_hour, long end_hour, int years_back,
                               struct th_error *err);

/** Makes `slice`, to be finished, of what `climate` holds from `first_hour` to before `end_hour`.
 * TH_ERR_MEMORY. */
enum th_code th_climate_slice(struct th_climate *slice, const struct th_climate *climate,
                              long first_hour, long end_hour, struct th_error *err);

/** Frees the hours; NULL and a second call are allowed. */
void th_climate_finish(struct th_climate *climate);

#endif
