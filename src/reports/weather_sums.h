/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Months of weather added up. */
#ifndef TURNHEAT_WEATHER_SUMS_H
#define TURNHEAT_WEATHER_SUMS_H

#include "turnheat/weather_summary.h"

/** Hours by what is known of them, the mean as °C h, the coldest and the warmest hour (infinite
 * where none is known). */
struct th_weather_sum {
    double hours, observed, filled, missing, known, temp_c_h;
    double low_c, high_c;
    struct th_degree_days degree_days;
};

/** A calendar month (1 … 12) of all years. */
struct th_weather_sum th_months_sum(const struct th_weather_summary *summary, int month);

/** A calendar year. */
struct th_weather_sum th_year_sum(const struct th_weather_summary *summary, int year);

/** The fuel season that starts on 1 July of `year`. */
struct th_weather_sum th_season_sum(const struct th_weather_summary *summary, int year);

#endif
