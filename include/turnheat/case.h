/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One room with its weather: what every report is made from. All pointers are borrowed. */
#ifndef TURNHEAT_CASE_H
#define TURNHEAT_CASE_H

#include "turnheat/borrow.h"
#include "turnheat/climate.h"
#include "turnheat/room.h"
#include "turnheat/weather.h"
#include "turnheat/winters.h"

struct th_case {
    const struct th_room *room;
    const struct th_weather *weather;
    const struct th_climate *climate;
    int first_year, last_year;          /**< seasons asked for */
    const struct th_borrowed *borrowed; /**< what its seasons miss and borrowed, see borrow.h */
    int n_borrowed;
};

/** The station of the weather by its name or number, else its first file without folders. */
const char *th_case_weather_name(const struct th_case *one);

/** TH_OK for a counted season; otherwise TH_ERR_COVERAGE with the file, the hours and the counts.
 */
enum th_code th_case_season_covered(const struct th_case *one, const struct th_season *season,
                                    struct th_error *err);

/** The error of a room none of whose seasons is counted; returns TH_ERR_COVERAGE. */
enum th_code th_case_uncovered(const struct th_case *one, const struct th_winters *winters,
                               struct th_error *err);

#endif
