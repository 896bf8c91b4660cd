/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Names of seasons, months and spreads as every report writes them. */
#ifndef TURNHEAT_SEASON_TEXT_H
#define TURNHEAT_SEASON_TEXT_H

#include "display.h" /* the months' names */
#include "turnheat/season.h"

#define TH_SEASON_NAME_MAX 16

/** "2017-18" for a season that starts in 2017, or "typical". */
void th_year_name(int year, bool typical, char name[TH_SEASON_NAME_MAX]);

/** The same of a season. */
void th_season_name(const struct th_season *season, char name[TH_SEASON_NAME_MAX]);

/** What stands below a table of seasons in which some have no numbers. */
#define TH_UNCOVERED_SEASONS                                                                       \
    "A season without numbers is one whose turns the weather does not cover whole."

#define TH_DAY_TEXT_MAX 24

/** "Jan 15, 2026" of a day number. */
void th_day_text(long day, char text[TH_DAY_TEXT_MAX]);

/** "Thu, Jan 15, 2026": for a day on which something is to be done. */
void th_weekday_text(long day, char text[TH_DAY_TEXT_MAX]);

/** Position in a fuel season, July first: the month (0…11) at place 0…11. */
int th_season_month(int place);

#endif
