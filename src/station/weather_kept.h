/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Weather from one run of the program to the next, where whoever runs it keeps some: the workers
 * of a browser page do (weather_kept_team.c), a computer does not (weather_kept.c). */
#ifndef TURNHEAT_WEATHER_KEPT_H
#define TURNHEAT_WEATHER_KEPT_H

#include "turnheat/weather.h"

/** Room for the text `how`. */
#define TH_WEATHER_HOW_MAX 512

/** Whether an earlier run kept what it made of the file `path`, which is still the same, in the way
 * that `how` tells; NULL for `path`: of no file. `weather`, empty before, then is that. */
bool th_weather_recall(const char *path, const char *how, struct th_weather *weather);

/** Gives `weather` to be kept, as it is now. */
void th_weather_keep(const char *path, const char *how, const struct th_weather *weather);

#endif
