/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The report of `turnheat weather`: what hourly files hold and how far to trust them. */
#ifndef TURNHEAT_WEATHER_REPORT_H
#define TURNHEAT_WEATHER_REPORT_H

#include "report.h"
#include "turnheat/weather_summary.h"

/** Adds everything told about `weather`, its hours and their summary. */
void th_weather_report(struct th_report *report, const struct th_weather *weather,
                       const struct th_climate *climate, const struct th_weather_summary *summary);

#endif
