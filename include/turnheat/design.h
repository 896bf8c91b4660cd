/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Design temperatures for a room: those given in its [site], and those of its weather. */
#ifndef TURNHEAT_DESIGN_H
#define TURNHEAT_DESIGN_H

#include "turnheat/case.h"

/** Where a design temperature comes from. */
enum th_design_from {
    TH_DESIGN_GIVEN,
    TH_DESIGN_WEATHER,
    TH_DESIGN_GENERATED /**< simulated hours of generated winters, whose cold tail is too mild */
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

/** Finds both. Errors as th_weather_summarise(). */
enum th_code th_design_of(const struct th_case *one, struct th_design *design,
                          struct th_error *err);

#endif
