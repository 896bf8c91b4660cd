/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One room with its weather: what every report is made from. All pointers are borrowed. */
#ifndef TURNHEAT_CASE_H
#define TURNHEAT_CASE_H

#include "turnheat/climate.h"
#include "turnheat/room.h"
#include "turnheat/weather.h"

struct th_barn;

struct th_case {
    const struct th_barn *barn; /**< the file the room came from */
    const struct th_room *room;
    const struct th_weather *weather;
    const struct th_climate *climate;
    int first_year, last_year; /**< seasons asked for */
};

#endif
