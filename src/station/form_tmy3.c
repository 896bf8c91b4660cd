/* SPDX-License-Identifier: GPL-3.0-or-later */
/* TMY3 CSV (NREL/TP-581-43156): a line on the station, a line of names, hourly rows in local
   standard time labelled with the end of the hour. Missing -9900 (from memory). Two releases differ
   in the number of columns, so columns are found by name. */
#include "weather_forms.h"

#include <string.h>

static bool recognise(const struct th_weather_head *head)
{
    return strncmp(head->second, "Date (MM/DD/YYYY)", 17) == 0 ||
           (strstr(head->second, "MM/DD/YYYY") && strstr(head->second, "Dry-bulb (C)"));
}

const struct th_weather_form th_form_tmy3 = {
    .name = "tmy3",
    .recognise = recognise,
    .delimiter = ',',
    .heading_lines = 1,
    .station = {.fields = 7,
                .id = 0,
                .name = 1,
                .state = 2,
                .utc_offset = 3,
                .latitude = 4,
                .longitude = 5,
                .elevation = 6},
    .named = true,
    .time = {"date (mm/dd/yyyy)", "time (hh:mm)"},
    .time_text = "a date MM/DD/YYYY and a time HH:MM",
    .ends_hour = true,
    .units_note = "as the column names say",
    .columns = {{TH_TEMP_C, "dry-bulb (c)", .unit = TH_UNIT_C, .missing = -9900},
                {TH_DEW_C, "dew-point (c)", .unit = TH_UNIT_C, .missing = -9900},
                {TH_RH, "rhum (%)", .unit = TH_UNIT_PERCENT, .missing = -9900},
                {TH_PRESSURE_PA, "pressure (mbar)", .unit = TH_UNIT_HPA, .missing = -9900},
                {TH_WIND_M_S, "wspd (m/s)", .unit = TH_UNIT_M_S, .missing = -9900}}};
