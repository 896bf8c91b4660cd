/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Dates of the year as people write them. */
#ifndef TURNHEAT_MONTH_DAY_H
#define TURNHEAT_MONTH_DAY_H

#include <stdbool.h>

/**
 * Reads "11-05", "11/5", "11/5/26", "2026-11-05", "15/11", "Nov 5", "5 November 2026" or
 * "Nov. 5th, 2026" as 100 × month + day; a year is read and not kept here. Numbers alone are month
 * and day, unless the first can only be a day. False for anything else and for days no year has.
 */
bool th_month_day_read(const char *text, int *month_day);

/** The same of a date that may tell its year, 0 in `year` where it does not: "11/5/26" is of 2026.
 */
bool th_month_day_year_read(const char *text, int *month_day, int *year);

/** A date with its year as a day number of turnheat/calendar.h. */
bool th_date_read(const char *text, long *day);

/**
 * Whether `text` is parted by / or . and could be month and day or day and month ("03/04"): then
 * both, as 100 × month + day.
 */
bool th_month_day_two_readings(const char *text, int *month_first, int *day_first);

#endif
