/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"

#include "display.h"
#include "fuel_unit.h"

#include <time.h>

/* The weather by name and the seasons it is used for. */
static void about_weather(struct th_report *report, const struct th_case *one)
{
    const char *const name = th_case_weather_name(one);
    int first, last;
    th_season_range(one->climate, &first, &last);
    first = first < one->first_year ? one->first_year : first;
    last = last > one->last_year ? one->last_year : last;
    if (one->climate->typical)
        th_report_about(report, "Weather: %s, a typical year", name);
    else
        th_report_about(report, "Weather: %s, seasons %d-%02d to %d-%02d", name, first,
                        (first + 1) % 100, last, (last + 1) % 100);
}

static void about_price(struct th_report *report, const struct th_room *room)
{
    if (room->fuel.has_price)
        th_report_about(report, "Fuel at $%.2f a %s", room->fuel.price,
                        th_fuel_unit(&room->fuel)->unit);
}

void th_about(struct th_report *report, const struct th_case *cases, int n)
{
    const time_t now = time(NULL);
    struct tm today;
    for (int i = 0; i < n; i++)
        th_report_about(report, "%s", cases[i].room->name);
    for (int i = 0; i < n; i++)
        about_weather(report, &cases[i]);
    for (int i = 0; i < n; i++)
        about_price(report, cases[i].room);
    if (localtime_r(&now, &today))
        th_report_about(report, "%s %d, %d", th_month_name(today.tm_mon), today.tm_mday,
                        today.tm_year + 1900);
}
