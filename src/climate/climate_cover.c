/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"
#include "turnheat/weather.h"

#include <stdio.h>

/* The file whose span holds the hour; between files, the last one that begins before it. */
const struct th_weather_file *th_weather_file_at(const struct th_weather *weather,
                                                 const struct th_climate *climate, long hour_number)
{
    const struct th_weather_file *best = weather->n_files ? &weather->files[0] : NULL;
    const long minute = hour_number * 60 - climate->shift_min;
    for (size_t i = 0; i < weather->n_files; i++) {
        const struct th_weather_file *file = &weather->files[i];
        if (!file->has_span || file->first_minute - 30 > minute)
            continue;
        if (minute <= file->last_minute + 30)
            return file;
        if (!best->has_span || file->first_minute > best->first_minute)
            best = file;
    }
    return best;
}

static void format_hour(char *text, size_t size, long hour_number, bool typical)
{
    const struct th_date d = th_date_of(th_day_of_hour(hour_number));
    const int hour = th_hour_of_day(hour_number);
    if (typical)
        snprintf(text, size, "%02d-%02d %02d:00", d.month, d.day, hour);
    else
        snprintf(text, size, "%d-%02d-%02d %02d:00", d.year, d.month, d.day, hour);
}

enum th_code th_climate_require(const struct th_climate *climate, const struct th_weather *weather,
                                long first_hour, long hours, struct th_error *err)
{
    const struct th_span_cover cover = th_climate_coverage(climate, first_hour, hours);
    if (cover.usable)
        return TH_OK;
    const struct th_weather_file *file =
        weather
            ? th_weather_file_at(weather, climate, cover.missing ? cover.first_missing : first_hour)
            : NULL;
    char from[32], to[32];
    format_hour(from, sizeof from, cover.first_missing, climate->typical);
    format_hour(to, sizeof to, cover.last_missing, climate->typical);
    if (cover.missing)
        th_fail(err, TH_ERR_COVERAGE, "%s of %s hours are missing, the first %s, the last %s",
                th_whole((double)cover.missing).text, th_whole((double)hours).text, from, to);
    else
        th_fail(err, TH_ERR_COVERAGE, "%s of %s hours had to be filled; at most %g %% may be",
                th_whole((double)cover.filled).text, th_whole((double)hours).text,
                100.0 * TH_FILLED_SHARE_MAX);
    th_error_place(err, file ? file->name : NULL, 0, 0);
    return TH_ERR_COVERAGE;
}
