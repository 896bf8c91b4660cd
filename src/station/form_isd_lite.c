/* SPDX-License-Identifier: GPL-3.0-or-later */
/* NOAA ISD-Lite (its format note): 12 whole numbers a row between blanks, no names, UTC, missing
   -9999. Field 7 is sea-level pressure and is not used. */
#include "weather_forms.h"

#include <stdlib.h>
#include <string.h>

#define FIELDS 12

static bool recognise(const struct th_weather_head *head)
{
    const char *text = head->first;
    long field[FIELDS], minute;
    for (int i = 0; i < FIELDS; i++) {
        char *end;
        field[i] = strtol(text, &end, 10);
        if (end == text || (*end != '\0' && *end != ' '))
            return false;
        text = end;
    }
    return text[strspn(text, " ")] == '\0' &&
           th_minute_of(field[0], field[1], field[2], field[3] * 60, &minute);
}

/* Files are named USAF-WBAN-YEAR; the station is the part before the year. */
static void station_of_path(const char *path, struct th_station *station)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    const size_t usaf = strspn(name, "0123456789ABCDEFabcdef");
    if (usaf != 6 || name[6] != '-' || strspn(name + 7, "0123456789") != 5 || name[12] != '-' ||
        strspn(name + 13, "0123456789") != 4)
        return;
    snprintf(station->id, sizeof station->id, "%.12s", name);
}

const struct th_weather_form th_form_isd_lite = {
    .name = "isd-lite",
    .recognise = recognise,
    .delimiter = ' ',
    .station_of_path = station_of_path,
    .fields_min = FIELDS,
    .fields_max = FIELDS,
    .whole = true,
    .time_parts = true,
    .clock = TH_CLOCK_UTC,
    .clock_note = "UTC, as this form has it",
    .units_note = "in tenths, as this form has them; its sea-level pressure is not used",
    .columns = {{TH_TEMP_C, .place = 4, .unit = TH_UNIT_C, .parts = 10, .missing = -9999},
                {TH_DEW_C, .place = 5, .unit = TH_UNIT_C, .parts = 10, .missing = -9999},
                {TH_WIND_M_S, .place = 8, .unit = TH_UNIT_M_S, .parts = 10, .missing = -9999}}};
