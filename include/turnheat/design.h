/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Design temperatures for a room: those given in its [site], and those of its weather. */
#ifndef TURNHEAT_DESIGN_H
#define TURNHEAT_DESIGN_H

#include "turnheat/case.h"

/** Where a design temperature comes from. */
enum th_design_from {
    TH_DESIGN_GIVEN,
    TH_DESIGN_WEATHER,
    TH_DESIGN_GENERATED, /**< simulated hours of generated winters, whose cold tail is too mild */
    TH_DESIGN_DATES /**< the weather around each date of the turns, never colder than the year's */
};

/** Outdoor temperatures, °C, that 99 and 99.6 % of the hours of whole years lie above. */
struct th_design_day {
    enum th_design_from from;
    bool has_99, has_996;
    double out_99_c;  /**< the 99.6 % one where only that is given */
    double out_996_c; /**< 0 where not given */
};

/** What is given first, if anything is, then what the weather shows; the first decides. */
struct th_design {
    int n; /**< 1 or 2 */
    struct th_design_day days[2];
};

/** Finds both. Errors as th_weather_dry_bulbs(). */
enum th_code th_design_of(const struct th_case *one, struct th_design *design,
                          struct th_error *err);

/** Days of a year without 29 February, which counts as the 28th. */
#define TH_DESIGN_DATES_N 365

/** Place of a date among them, 1 January 0. */
int th_design_date(int month, int day);

/**
 * The temperature, °C, that 99 % of the hours within 15 days of each date lie above, over all years
 * of the weather (our own measure, no standard); NaN where it holds none of them. TH_ERR_MEMORY.
 */
enum th_code th_design_dates(const struct th_climate *climate, double out_c[TH_DESIGN_DATES_N],
                             struct th_error *err);

#endif
