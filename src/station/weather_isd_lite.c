/* SPDX-License-Identifier: GPL-3.0-or-later */
/* NOAA ISD-Lite: blank-separated whole numbers, no header, UTC, tenths, missing -9999. Field 7 is
   sea-level pressure and is not used. */
#include "weather_forms.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define FIELDS 12
#define MISSING (-9999)

enum { YEAR, MONTH, DAY, HOUR, TEMP, DEW, WIND = 8 };

static int split(const char *text, long *field)
{
    int n = 0;
    for (; n < FIELDS; n++) {
        char *end;
        field[n] = strtol(text, &end, 10);
        if (end == text)
            break;
        if (*end != '\0' && *end != ' ')
            return -1;
        text = end;
    }
    return text[strspn(text, " ")] == '\0' ? n : -1;
}

static bool recognise(const struct th_weather_head *head)
{
    long field[FIELDS];
    long minute;
    return split(head->first, field) == FIELDS &&
           th_minute_of(field[YEAR], field[MONTH], field[DAY], field[HOUR] * 60, &minute);
}

static void set_tenths(struct th_observation *report, enum th_quantity quantity, long tenths)
{
    if (tenths != MISSING)
        th_observation_set(report, quantity, (double)tenths / 10.0);
}

static bool row(const char *text, struct th_observation *report, char *why)
{
    long field[FIELDS];
    const int n = split(text, field);
    if (n != FIELDS) {
        snprintf(why, 96, "found \"%.36s\"; expected 12 whole numbers", text);
        return false;
    }
    if (field[HOUR] > 23 ||
        !th_minute_of(field[YEAR], field[MONTH], field[DAY], field[HOUR] * 60, &report->minute)) {
        snprintf(why, 96, "found \"%.13s\"; expected a year, month, day and hour 00-23", text);
        return false;
    }
    set_tenths(report, TH_TEMP_C, field[TEMP]);
    set_tenths(report, TH_DEW_C, field[DEW]);
    set_tenths(report, TH_WIND_M_S, field[WIND]);
    return true;
}

/* Files are named USAF-WBAN-YEAR; the station is the part before the year. */
static void station_from_name(const char *path, struct th_station *station)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    const size_t usaf = strspn(name, "0123456789ABCDEFabcdef");
    if (usaf != 6 || name[6] != '-' || strspn(name + 7, "0123456789") != 5 || name[12] != '-' ||
        strspn(name + 13, "0123456789") != 4)
        return;
    snprintf(station->id, sizeof station->id, "%.12s", name);
}

static enum th_code read_rows(struct th_lines *lines, struct th_weather *weather,
                              struct th_error *err)
{
    for (;;) {
        char *text;
        size_t length;
        enum th_code code = th_lines_next(lines, &text, &length, err);
        if (code || !text)
            return code;
        if (strspn(text, " ") == length)
            continue;
        struct th_observation report = {0};
        char why[96];
        th_weather_count_row(weather);
        if (row(text, &report, why))
            code = th_weather_add(weather, &report, err);
        else
            th_weather_refuse_row(weather, lines->line, why);
        if (code)
            return code;
    }
}

static enum th_code read(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err)
{
    (void)options;
    station_from_name(lines->path, &weather->station);
    weather->clock = TH_CLOCK_UTC;
    snprintf(weather->clock_note, sizeof weather->clock_note, "UTC, as this form has it");
    snprintf(weather->units_note, sizeof weather->units_note,
             "tenths of °C and of m/s, as this form has them; its sea-level pressure is not used");
    return read_rows(lines, weather, err);
}

const struct th_weather_reader th_reader_isd_lite = {TH_FORM_ISD_LITE, recognise, read};
