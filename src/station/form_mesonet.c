/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Airport reports as mesonet archives give them: station,valid,tmpf,dwpf,relh,sknt,… Names may
   carry blanks; M, null or nothing for missing. The file does not say what clock it was cut in.
   Altimeter setting and sea-level pressure are not station pressure and are not used. */
#include "weather_forms.h"

#include <string.h>

/* Whether a folded line of names has this one, blanks and quotes apart. */
static bool has_name(const char *names, const char *name)
{
    const size_t length = strlen(name);
    for (const char *at = strstr(names, name); at; at = strstr(at + 1, name)) {
        const char *before = at;
        while (before > names && strchr(" \t\"", before[-1]))
            before--;
        const char *after = at + length + strspn(at + length, " \t\"");
        if ((before == names || before[-1] == ',') && (*after == ',' || *after == '\0'))
            return true;
    }
    return false;
}

static bool recognise(const struct th_weather_head *head)
{
    return has_name(head->names, "station") && has_name(head->names, "valid") &&
           (has_name(head->names, "tmpf") || has_name(head->names, "tmpc"));
}

static const char *const missing[] = {"M", "null", NULL};

const struct th_weather_form th_form_mesonet = {
    .name = "mesonet",
    .recognise = recognise,
    .delimiter = ',',
    .comments = true,
    .named = true,
    .missing = missing,
    .station_column = "station",
    .time = {"valid"},
    .time_text = "YYYY-MM-DD HH:MM",
    .clock = TH_CLOCK_UNKNOWN,
    .units_note = "as the column names say; altimeter and sea-level pressure are not used",
    .columns = {{TH_TEMP_C, "tmpc", .unit = TH_UNIT_C},
                {TH_TEMP_C, "tmpf", .unit = TH_UNIT_F},
                {TH_DEW_C, "dwpc", .unit = TH_UNIT_C},
                {TH_DEW_C, "dwpf", .unit = TH_UNIT_F},
                {TH_RH, "relh", .unit = TH_UNIT_PERCENT},
                {TH_WIND_M_S, "sknt", .unit = TH_UNIT_KNOT},
                {TH_WIND_M_S, "sped", .unit = TH_UNIT_MPH}}};
