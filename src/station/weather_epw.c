/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EPW: 8 heading lines, then 35 comma fields a row; °C, %, Pa, m/s; hour 1–24 local standard time,
   the minute (0 or 60) says nothing. Missing: 99.9, 99.9, 999, 999999, 999. */
#include "weather_forms.h"

#include <stdlib.h>
#include <string.h>

#define HEADING_LINES 8

enum slot { YEAR, MONTH, DAY, HOUR, DRY, DEW, RH, PRESSURE, WIND };

struct column {
    int index;
    enum slot slot;
};

static const struct column columns[] = {{0, YEAR}, {1, MONTH}, {2, DAY},      {3, HOUR}, {6, DRY},
                                        {7, DEW},  {8, RH},    {9, PRESSURE}, {21, WIND}};

struct reading {
    enum slot slot;
    enum th_quantity quantity;
    double missing; /* this and above */
    double scale;
    const char *what;
};

static const struct reading readings[] = {
    {DRY, TH_TEMP_C, 99.9, 1.0, "dry bulb"},
    {DEW, TH_DEW_C, 99.9, 1.0, "dew point"},
    {RH, TH_RH, 999.0, 0.01, "relative humidity"},
    {PRESSURE, TH_PRESSURE_PA, 999999.0, 1.0, "station pressure"},
    {WIND, TH_WIND_M_S, 999.0, 1.0, "wind speed"},
};

static bool recognise(const struct th_weather_head *head)
{
    return strncmp(head->names, "location,", 9) == 0;
}

static bool row_time(struct th_csv *csv, struct th_observation *report, char *why)
{
    long year, month, day, hour;
    if (th_field_whole(csv->field[YEAR], &year) && th_field_whole(csv->field[MONTH], &month) &&
        th_field_whole(csv->field[DAY], &day) && th_field_whole(csv->field[HOUR], &hour) &&
        hour >= 1 && hour <= 24 && th_minute_of(year, month, day, (hour - 1) * 60, &report->minute))
        return true;
    snprintf(why, 96, "found \"%.8s,%.8s,%.8s,%.8s\"; expected year, month, day, hour 1-24",
             csv->field[YEAR], csv->field[MONTH], csv->field[DAY], csv->field[HOUR]);
    return false;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    (void)context;
    if (!row_time(csv, report, why))
        return TH_ROW_REFUSED;
    if (csv->columns < 10) {
        snprintf(why, 96, "found %zu fields; expected 35", csv->columns);
        return TH_ROW_REFUSED;
    }
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
        const struct reading *r = &readings[i];
        if (th_field_reading(csv->field[r->slot], r->what, report, r->quantity, r->scale, why) ==
            TH_ROW_REFUSED)
            return TH_ROW_REFUSED;
        if (th_observation_has(report, r->quantity) &&
            report->value[r->quantity] >= r->missing * r->scale)
            report->has &= ~(1u << r->quantity);
    }
    return TH_ROW_REPORT;
}

/* LOCATION,city,state,country,source,WMO,lat,lon,time zone,elevation. */
static enum th_code read_location(struct th_csv *csv, struct th_weather *weather,
                                  struct th_error *err)
{
    struct th_station *station = &weather->station;
    bool more;
    for (int column = 1; column <= 9; column++)
        th_csv_keep(csv, column, column);
    const enum th_code code = th_csv_next(csv, &more, err);
    if (code)
        return code;
    if (!more || csv->columns < 10)
        return th_weather_fail(csv->lines, 1, err,
                               "found %zu fields; expected LOCATION with place and elevation",
                               csv->columns);
    snprintf(station->id, sizeof station->id, "%.31s", csv->field[5]);
    snprintf(station->name, sizeof station->name, "%.60s, %.30s", csv->field[1], csv->field[2]);
    station->has_place = th_field_number(csv->field[6], &station->lat_deg) &&
                         th_field_number(csv->field[7], &station->lon_deg);
    station->has_utc_offset = th_field_number(csv->field[8], &station->utc_offset_h);
    station->has_elevation = th_field_number(csv->field[9], &station->elevation_m);
    memset(csv->slot_of, -1, sizeof csv->slot_of);
    return TH_OK;
}

static enum th_code skip_heading(struct th_lines *lines, struct th_error *err)
{
    while (lines->line < HEADING_LINES) {
        char *text;
        size_t length;
        const enum th_code code = th_lines_next(lines, &text, &length, err);
        if (code)
            return code;
        if (!text)
            return th_weather_fail(lines, lines->line, err,
                                   "the file ends within its 8 heading lines");
    }
    return TH_OK;
}

static enum th_code read_all(struct th_csv *csv, struct th_weather *weather, struct th_error *err)
{
    enum th_code code = read_location(csv, weather, err);
    if (!code)
        code = skip_heading(csv->lines, err);
    if (code)
        return code;
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        th_csv_keep(csv, columns[i].index, columns[i].slot);
    code = th_weather_rows(csv, weather, row, NULL, err);
    if (!code)
        th_weather_end_of_hour(weather);
    return code;
}

static enum th_code read(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err)
{
    (void)options;
    struct th_csv csv;
    enum th_code code = th_csv_open(&csv, lines, ',', err);
    if (code)
        return code;
    snprintf(weather->units_note, sizeof weather->units_note,
             "°C, %%, Pa and m/s, as this form has them");
    code = read_all(&csv, weather, err);
    th_csv_close(&csv);
    return code;
}

const struct th_weather_reader th_reader_epw = {TH_FORM_EPW, recognise, read};
