/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "season_text.h"

#include "turnheat/calendar.h"

#include <stdio.h>

void th_year_name(int year, bool typical, char name[TH_SEASON_NAME_MAX])
{
    if (typical)
        snprintf(name, TH_SEASON_NAME_MAX, "typical");
    else
        snprintf(name, TH_SEASON_NAME_MAX, "%d-%02d", year, (year + 1) % 100);
}

void th_season_name(const struct th_season *season, char name[TH_SEASON_NAME_MAX])
{
    th_year_name(season->year, season->typical, name);
}

int th_season_month(int place)
{
    return (place + TH_SEASON_MONTH - 1) % 12;
}

void th_day_text(long day, char text[TH_DAY_TEXT_MAX])
{
    const struct th_date date = th_date_of(day);
    snprintf(text, TH_DAY_TEXT_MAX, "%s %d, %d", th_month_name(date.month - 1), date.day,
             date.year);
}

void th_weekday_text(long day, char text[TH_DAY_TEXT_MAX])
{
    static const char *const names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    const long monday = th_day_number(2001, 1, 1);
    char date[TH_DAY_TEXT_MAX - 6];
    th_day_text(day, text);
    snprintf(date, sizeof date, "%.17s", text);
    snprintf(text, TH_DAY_TEXT_MAX, "%s, %s", names[((day - monday) % 7 + 7) % 7], date);
}
