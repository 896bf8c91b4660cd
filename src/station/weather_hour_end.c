/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"
#include "weather_forms.h"

#define MINUTES_DAY 1440
#define LONGEST_YEAR_H 8784

static bool runs_for_years(const struct th_weather *weather)
{
    for (size_t i = 1; i < weather->n; i++)
        if (weather->reports[i].minute <= weather->reports[i - 1].minute)
            return false;
    return weather->n > LONGEST_YEAR_H;
}

/* False on 29 February. */
static bool lay_in_typical_year(struct th_observation *report)
{
    const long day = report->minute / MINUTES_DAY - (report->minute % MINUTES_DAY < 0);
    const struct th_date date = th_date_of(day);
    if (date.month == 2 && date.day == 29)
        return false;
    report->minute += (th_day_number(TH_TYPICAL_YEAR, date.month, date.day) - day) * MINUTES_DAY;
    return true;
}

void th_weather_end_of_hour(struct th_weather *weather)
{
    weather->typical = !runs_for_years(weather);
    size_t kept = 0;
    for (size_t i = 0; i < weather->n; i++) {
        struct th_observation report = weather->reports[i];
        if (weather->typical && !lay_in_typical_year(&report))
            continue;
        report.minute += 60;
        weather->reports[kept++] = report;
    }
    weather->counts.leap_rows += weather->n - kept;
    weather->n = kept;
    if (weather->typical)
        weather->counts.out_of_order = 0;
    th_weather_last_file(weather)->first_minute += 60;
    th_weather_last_file(weather)->last_minute += 60;
    weather->clock = TH_CLOCK_STANDARD;
    snprintf(weather->clock_note, sizeof weather->clock_note,
             "local standard time, as this form has it; the label is the end of the hour");
}
