/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Hourly weather out, as a plain table th_weather_read() reads. */
#ifndef TURNHEAT_WEATHER_WRITE_H
#define TURNHEAT_WEATHER_WRITE_H

#include "turnheat/weather.h"
#include <stdio.h>

/**
 * Writes `weather` as time,temp_c,dew_point_c,wind_m_s, temperatures and wind to one decimal, after
 * the line of remark `# remark` (no line ends in it). Write errors are left to whoever closes
 * `out`.
 */
void th_weather_write(const struct th_weather *weather, const char *remark, FILE *out);

#endif
