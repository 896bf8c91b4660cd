/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What `turnheat weather` tells about hourly files: coverage by month, gaps, odd readings,
 * degree-days, the coldest hour and heating dry bulbs.
 */
#ifndef TURNHEAT_WEATHER_SUMMARY_H
#define TURNHEAT_WEATHER_SUMMARY_H

#include "turnheat/degree_days.h"
#include "turnheat/weather.h"

/** A day and longer without any change is more than calm weather does (our judgement). */
#define TH_STUCK_HOURS 24
/** A change of 15 °F in one hour is rare but real in a strong front: looked at, not refused. */
#define TH_SPIKE_K (15.0 * 5.0 / 9.0)

enum th_odd_kind { TH_ODD_STUCK, TH_ODD_SPIKE };

/** One odd reading among the observed hours. */
struct th_odd {
    enum th_odd_kind kind;
    long first_hour; /**< of the stuck stretch, or the hour after the jump */
    long hours;      /**< length of the stretch; 1 for a jump */
    double temp_c;   /**< of the stretch, or after the jump */
    double change_k; /**< of a jump */
};

/** One calendar month; in a typical year `year` is TH_TYPICAL_YEAR. */
struct th_month_cover {
    int year, month;
    long hours; /**< of the whole month */
    long observed, filled, missing;
    bool has_temp;
    double mean_c, low_c, high_c;      /**< of the hours with a temperature */
    struct th_degree_days degree_days; /**< at the summary's base */
};

/** One fuel season, 1 July – 30 June; a typical year is one season. */
struct th_season_cover {
    int year;                  /**< starts 1 July of this year */
    struct th_span_cover span; /**< usable: could carry a turn placed at any time */
    struct th_degree_days degree_days;
};

/** Heating dry bulbs: what 99 and 99.6 % of the hours of a year lie above. */
struct th_dry_bulbs {
    double out_99_c, out_996_c;
    bool whole_years; /**< from whole seasons only; else from all hours there are */
    size_t years;     /**< how many seasons they rest on */
};

struct th_weather_summary {
    double base_c; /**< of the degree-days */
    size_t n_months, n_seasons, n_odd;
    struct th_month_cover *months;
    struct th_season_cover *seasons;
    struct th_odd *odd;
    size_t stuck, spikes;
    struct th_degree_days degree_days; /**< all hours */
    double low_c;
    long low_hour;
    double high_c;
    struct th_dry_bulbs dry_bulbs;
    double mean_reports; /**< reports with a temperature per hour that has one */
};

/**
 * Describes `climate`; what was read and refused stands in struct th_weather. `base_c` is the base
 * of the degree-days. TH_ERR_COVERAGE when no hour has a temperature; TH_ERR_MEMORY. On error
 * `summary` is empty.
 */
enum th_code th_weather_summarise(const struct th_climate *climate, double base_c,
                                  struct th_weather_summary *summary, struct th_error *err);

/** Only the dry bulbs of it; the same errors. */
enum th_code th_weather_dry_bulbs(const struct th_climate *climate, struct th_dry_bulbs *bulbs,
                                  struct th_error *err);

/** Frees the lists; NULL and a second call are allowed. */
void th_weather_summary_finish(struct th_weather_summary *summary);

#endif
