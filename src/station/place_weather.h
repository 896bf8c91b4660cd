/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Winters generated for a place, where a barn names no weather files. */
#ifndef TURNHEAT_PLACE_WEATHER_H
#define TURNHEAT_PLACE_WEATHER_H

#include "issues.h"
#include "turnheat/room.h"
#include "turnheat/weather.h"

/** How many winters are generated, and from which seed: of 1 to 24 the one whose thirty winters
 * have degree-days nearest to the mean of all 24 at Mason City, Minneapolis and Goldsboro (0.2, 0.3
 * and 0.6 % off), so that chance adds little. Gallons had no part in the choice. */
#define TH_PLACE_SEASONS 30
#define TH_PLACE_SEED 22

/** Whether the two sites get the same generated winters. */
bool th_place_weather_same(const struct th_site *a, const struct th_site *b);

/**
 * Generates the winters of a site that has a latitude (room.h) into `weather`, and warns in
 * `issues` where the nearest place is far away. Errors as th_normals_generate().
 */
enum th_code th_place_weather_make(const struct th_site *site, int seasons, unsigned long seed,
                                   struct th_weather *weather, struct th_issues *issues,
                                   struct th_error *err);

#endif
