/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Weather on wall-clock time that follows the US daylight rule. */
#ifndef TURNHEAT_DAYLIGHT_H
#define TURNHEAT_DAYLIGHT_H

#include "turnheat/weather.h"

/**
 * Turns wall-clock time that follows the US daylight rule into standard time; the reports must be
 * in file order. th_weather_order() calls it for TH_CLOCK_DAYLIGHT.
 */
void th_weather_standard_time(struct th_weather *weather);

/**
 * Whether the times, in file order, repeat or skip an hour where US daylight time changes. A gap
 * in the readings can look the same, so this is a hint, not a proof.
 */
bool th_weather_looks_daylight(const struct th_weather *weather);

#endif
