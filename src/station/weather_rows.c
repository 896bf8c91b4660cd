/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the forms read with: rows, their errors, one station of several. */
#include "weather_forms.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum th_code th_weather_fail(const struct th_lines *lines, long line, struct th_error *err,
                             const char *format, ...)
{
    char text[400];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    th_fail(err, TH_ERR_READ, "%s", text);
    th_error_place(err, lines->path, line, 0);
    return TH_ERR_READ;
}

static void count_row(struct th_weather *weather)
{
    weather->counts.rows++;
    th_weather_last_file(weather)->rows++;
}

enum th_code th_weather_rows(struct th_csv *csv, struct th_weather *weather, th_row_fn row,
                             void *context, struct th_error *err)
{
    for (;;) {
        bool more;
        enum th_code code = th_csv_next(csv, &more, err);
        if (code || !more)
            return code;
        struct th_observation report = {0};
        char why[96];
        why[0] = '\0';
        count_row(weather);
        const enum th_row kind = row(csv, context, &report, why);
        if (kind == TH_ROW_REFUSED)
            th_weather_refuse_row(weather, csv->line, why);
        else if (kind == TH_ROW_REPORT)
            code = th_weather_add(weather, &report, err);
        if (code)
            return code;
    }
}

bool th_one_station_takes(struct th_one_station *one, struct th_station *station, const char *id)
{
    if (one->wanted && strcmp(id, one->wanted) != 0)
        return false;
    if (!station->id[0])
        snprintf(station->id, sizeof station->id, "%.31s", id);
    if (strncmp(station->id, id, sizeof station->id - 1) == 0)
        return true;
    snprintf(one->other, sizeof one->other, "%.31s", id);
    return false;
}

enum th_code th_one_station_check(const struct th_one_station *one,
                                  const struct th_station *station, const struct th_lines *lines,
                                  struct th_error *err)
{
    if (!one->other[0])
        return TH_OK;
    return th_weather_fail(lines, 0, err,
                           "found stations %s and %s; take one of them with --station", station->id,
                           one->other);
}
