/* SPDX-License-Identifier: GPL-3.0-or-later */
/* TMY3 CSV (NREL/TP-581-43156): a line on the station, a line of names, hourly rows in local
   standard time labelled with the end of the hour. Missing -9900 (from memory). Two releases differ
   in the number of columns, so columns are found by name. */
#include "weather_forms.h"

#include <stdlib.h>
#include <stdio.h>
#include <string.h>

#define MISSING (-9900.0)

enum slot { DATE, TIME, DRY, DEW, RH, PRESSURE, WIND };

struct reading {
    enum slot slot;
    const char *name;
    bool required;
    enum th_quantity quantity;
    double scale;
};

static const struct reading readings[] = {
    {DRY, "dry-bulb (c)", true, TH_TEMP_C, 1.0},
    {DEW, "dew-point (c)", false, TH_DEW_C, 1.0},
    {RH, "rhum (%)", false, TH_RH, 0.01},
    {PRESSURE, "pressure (mbar)", false, TH_PRESSURE_PA, 100.0},
    {WIND, "wspd (m/s)", false, TH_WIND_M_S, 1.0},
};
#define READINGS (sizeof readings / sizeof readings[0])

static bool recognise(const struct th_weather_head *head)
{
    return strncmp(head->second, "Date (MM/DD/YYYY)", 17) == 0 ||
           (strstr(head->second, "MM/DD/YYYY") && strstr(head->second, "Dry-bulb (C)"));
}

static bool row_time(struct th_csv *csv, struct th_observation *report, char *why)
{
    char text[TH_CSV_FIELD_MAX * 2];
    struct th_stamp stamp;
    snprintf(text, sizeof text, "%s %s", csv->field[DATE], csv->field[TIME]);
    if (csv->field[TIME][0] && th_field_stamp(text, &stamp) && !stamp.has_zone) {
        report->minute = stamp.minute - 60;
        return true;
    }
    snprintf(why, 96, "found \"%.30s\"; expected a date MM/DD/YYYY and a time HH:MM", text);
    return false;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    (void)context;
    if (!row_time(csv, report, why))
        return TH_ROW_REFUSED;
    for (size_t i = 0; i < READINGS; i++) {
        const struct reading *r = &readings[i];
        if (th_field_reading(csv->field[r->slot], r->name, report, r->quantity, r->scale, why) ==
            TH_ROW_REFUSED)
            return TH_ROW_REFUSED;
        if (th_observation_has(report, r->quantity) &&
            report->value[r->quantity] <= MISSING * r->scale)
            report->has &= ~(1u << r->quantity);
    }
    return TH_ROW_REPORT;
}

/* id, "name", state, UTC offset, latitude, longitude, elevation. */
static enum th_code read_station(struct th_csv *csv, struct th_weather *weather,
                                 struct th_error *err)
{
    struct th_station *station = &weather->station;
    bool more;
    for (int column = 0; column < 7; column++)
        th_csv_keep(csv, column, column);
    const enum th_code code = th_csv_next(csv, &more, err);
    if (code)
        return code;
    if (!more || csv->columns < 7)
        return th_weather_fail(csv->lines, 1, err,
                               "found %zu fields; expected 7: station, name, state, UTC offset, "
                               "latitude, longitude, elevation",
                               csv->columns);
    snprintf(station->id, sizeof station->id, "%.31s", csv->field[0]);
    snprintf(station->name, sizeof station->name, "%.60s, %.30s", csv->field[1], csv->field[2]);
    station->has_utc_offset = th_field_number(csv->field[3], &station->utc_offset_h);
    station->has_place = th_field_number(csv->field[4], &station->lat_deg) &&
                         th_field_number(csv->field[5], &station->lon_deg);
    station->has_elevation = th_field_number(csv->field[6], &station->elevation_m);
    memset(csv->slot_of, -1, sizeof csv->slot_of);
    return TH_OK;
}

static enum th_code read_all(struct th_csv *csv, struct th_weather *weather, struct th_error *err)
{
    enum th_code code = read_station(csv, weather, err);
    if (!code)
        code = th_csv_read_names(csv, err);
    if (!code)
        code = th_csv_keep_named(csv, "date (mm/dd/yyyy)", DATE, true, err);
    if (!code)
        code = th_csv_keep_named(csv, "time (hh:mm)", TIME, true, err);
    for (size_t i = 0; i < READINGS && !code; i++)
        code =
            th_csv_keep_named(csv, readings[i].name, readings[i].slot, readings[i].required, err);
    if (!code)
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
             "°C, %%, mbar and m/s, as the column names say");
    code = read_all(&csv, weather, err);
    th_csv_close(&csv);
    return code;
}

const struct th_weather_reader th_reader_tmy3 = {TH_FORM_TMY3, recognise, read};
