/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Dates as plain integers. A day number counts days from 1970-01-01, an hour number hours from
 * 1970-01-01 00:00 local standard time; both may be negative. Proleptic Gregorian calendar.
 */
#ifndef TURNHEAT_CALENDAR_H
#define TURNHEAT_CALENDAR_H

#include <stdbool.h>

struct th_date {
    int year, month, day; /**< month 1…12, day 1…31 */
};

/** Day number of a date. */
long th_day_number(int year, int month, int day);

/** Date of a day number. */
struct th_date th_date_of(long day_number);

/** Whether the date exists. */
bool th_date_valid(int year, int month, int day);

/** "Jan" … "Dec" for 0 … 11. */
const char *th_month_name(int month);

/** A season, and a fuel year, runs from 1 July and is named by the year it starts in. */
#define TH_SEASON_MONTH 7

/** Day number of 1 July of `year`, on which its season starts. */
long th_season_first_day(int year);

/** Year of the season that holds this month of `year`. */
int th_season_of_month(int year, int month);

/** Day number containing hour `hour_number` (floor division by 24). */
long th_day_of_hour(long hour_number);

/** Hour of day, 0…23. */
int th_hour_of_day(long hour_number);

#endif
