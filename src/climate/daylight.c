/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/daylight.h"

#include "turnheat/calendar.h"

#include <limits.h>

#define MINUTES_DAY 1440
#define CHANGE_MINUTE 120

/* Day number of Sunday number `nth` (from 1) of a month, or of the last one when nth is 0.
   1970-01-01 was a Thursday. */
static long sunday(int year, int month, int nth)
{
    const long first = nth ? th_day_number(year, month, 1) : th_day_number(year, month + 1, 1) - 7;
    const long weekday = ((first + 4) % 7 + 7) % 7;
    return first + (7 - weekday) % 7 + (nth ? 7L * (nth - 1) : 0);
}

/* Energy Policy Act of 2005, section 110 (from 2007): second Sunday of March to first Sunday of
   November. Before: first (until 1986 last) Sunday of April to last Sunday of October (from
   memory). */
static void daylight_days(int year, long *spring, long *autumn)
{
    if (year >= 2007) {
        *spring = sunday(year, 3, 2);
        *autumn = sunday(year, 11, 1);
        return;
    }
    *spring = sunday(year, 4, year >= 1987 ? 1 : 0);
    *autumn = sunday(year, 10, 0);
}

static long day_of(long minute)
{
    return minute / MINUTES_DAY - (minute % MINUTES_DAY < 0);
}

static bool in_doubled_hour(long minute)
{
    const long day = day_of(minute);
    const long of_day = minute - day * MINUTES_DAY;
    long spring, autumn;
    daylight_days(th_date_of(day).year, &spring, &autumn);
    return day == autumn && of_day >= CHANGE_MINUTE - 60 && of_day < CHANGE_MINUTE;
}

/* In the hour that autumn doubles, only the first pass is daylight time. */
static bool is_daylight(long minute, bool second_pass)
{
    const long day = day_of(minute);
    const long of_day = minute - day * MINUTES_DAY;
    long spring, autumn;
    daylight_days(th_date_of(day).year, &spring, &autumn);
    if (day == autumn)
        return of_day < CHANGE_MINUTE - (second_pass ? 60 : 0);
    if (day == spring)
        return of_day >= CHANGE_MINUTE;
    return day > spring && day < autumn;
}

static void correct_spans(struct th_weather *weather)
{
    for (size_t i = 0; i < weather->n_files; i++) {
        struct th_weather_file *file = &weather->files[i];
        file->first_minute -= is_daylight(file->first_minute, false) ? 60 : 0;
        file->last_minute -= is_daylight(file->last_minute, true) ? 60 : 0;
    }
}

/* The second pass begins where a time of the doubled hour is not later than the one before it. */
void th_weather_standard_time(struct th_weather *weather)
{
    bool second_pass = false;
    long last = LONG_MIN;
    for (size_t i = 0; i < weather->n; i++) {
        const long minute = weather->reports[i].minute;
        second_pass = in_doubled_hour(minute) && (second_pass || minute <= last);
        last = minute;
        weather->reports[i].minute -= is_daylight(minute, second_pass) ? 60 : 0;
    }
    correct_spans(weather);
    weather->clock = TH_CLOCK_STANDARD;
}

/* An hour repeated in autumn, or none reported in the hour that spring skips though the hours on
   both sides are. */
bool th_weather_looks_daylight(const struct th_weather *weather)
{
    long spring = 0, autumn = 0, year_ends = LONG_MIN, year_begins = 0;
    for (size_t i = 1; i < weather->n; i++) {
        const long before = weather->reports[i - 1].minute;
        const long minute = weather->reports[i].minute;
        if (minute < year_begins || minute >= year_ends) {
            const int year = th_date_of(day_of(minute)).year;
            daylight_days(year, &spring, &autumn);
            year_begins = th_day_number(year, 1, 1) * MINUTES_DAY;
            year_ends = th_day_number(year + 1, 1, 1) * MINUTES_DAY;
        }
        const long skipped = spring * MINUTES_DAY + CHANGE_MINUTE;
        const long doubled = autumn * MINUTES_DAY + CHANGE_MINUTE - 60;
        if (minute < before && minute >= doubled && before < doubled + 60)
            return true;
        if (before < skipped && before >= skipped - 60 && minute >= skipped + 60 &&
            minute < skipped + 120)
            return true;
    }
    return false;
}
