/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The reports of `turnheat weather`: what hourly files hold and how far to trust them; the places
 * with known weather. */
#ifndef TURNHEAT_WEATHER_REPORT_H
#define TURNHEAT_WEATHER_REPORT_H

#include "report.h"
#include "turnheat/weather_summary.h"

/** Adds everything told about `weather`, its hours and their summary. */
void th_weather_report(struct th_report *report, const struct th_weather *weather,
                       const struct th_climate *climate, const struct th_weather_summary *summary);

/** All places whose name or state holds `word`, without regard to case; all with NULL. */
void th_places_report_named(struct th_report *report, const char *word);

/** The ten places nearest to a point, with their distance. */
void th_places_report_near(struct th_report *report, double latitude_deg, double longitude_deg);

#endif
