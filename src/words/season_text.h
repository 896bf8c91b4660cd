/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Names of seasons, months and spreads as every report writes them. */
#ifndef TURNHEAT_SEASON_TEXT_H
#define TURNHEAT_SEASON_TEXT_H

#include "turnheat/season.h"

#define TH_SEASON_NAME_MAX 16

/** "2017-18", or "typical". */
void th_season_name(const struct th_season *season, char name[TH_SEASON_NAME_MAX]);

/** "Jan" … "Dec" for 0 … 11. */
const char *th_month_name(int month);

/** Position in a fuel season, July first: the month (0…11) at place 0…11. */
int th_season_month(int place);

#endif
