/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EPW (the open data dictionary): 8 heading lines, then 35 comma fields a row; hour 1–24 local
   standard time, the minute (0 or 60) says nothing. */
#include "weather_forms.h"

#include <string.h>

static bool recognise(const struct th_weather_head *head)
{
    return strncmp(head->names, "location,", 9) == 0;
}

const struct th_weather_form th_form_epw = {
    .name = "epw",
    .recognise = recognise,
    .delimiter = ',',
    .heading_lines = 8,
    .station = {.fields = 10,
                .id = 5,
                .name = 1,
                .state = 2,
                .latitude = 6,
                .longitude = 7,
                .utc_offset = 8,
                .elevation = 9},
    .fields_min = 10,
    .time_parts = true,
    .first_hour = 1,
    .ends_hour = true,
    .units_note = "as this form has them",
    .columns = {{TH_TEMP_C, .place = 6, .unit = TH_UNIT_C, .missing = 99.9},
                {TH_DEW_C, .place = 7, .unit = TH_UNIT_C, .missing = 99.9},
                {TH_RH, .place = 8, .unit = TH_UNIT_PERCENT, .missing = 999},
                {TH_PRESSURE_PA, .place = 9, .unit = TH_UNIT_PA, .missing = 999999},
                {TH_WIND_M_S, .place = 21, .unit = TH_UNIT_M_S, .missing = 999}}};
