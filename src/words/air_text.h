/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Words on the air of a room. */
#ifndef TURNHEAT_AIR_TEXT_H
#define TURNHEAT_AIR_TEXT_H

#include "report.h"
#include "turnheat/harm.h"
#include "turnheat/held_air.h"
#include "turnheat/room.h"
#include "turnheat/tally.h"

#define TH_CEILINGS_MAX 64

/** "3,000 ppm CO2 and 80 % humidity" */
const char *th_ceilings_words(char text[TH_CEILINGS_MAX], const struct th_air *air);

#define TH_HELD_AIR_MAX 640

/** What fans that hold both ceilings burn and ask of the heaters, as a sentence or two: the gallons
 * only where the heaters can heat that air, else what they lack and what to do before. */
const char *th_held_air_words(char text[TH_HELD_AIR_MAX], const struct th_room *room,
                              const struct th_held_air *held);

/**
 * Warns once where the air of a mean season is bad: hours, and what holding both ceilings takes;
 * `held` NULL where that was not looked at. Nothing otherwise.
 */
void th_report_bad_air(struct th_report *report, const struct th_room *room,
                       const struct th_tally *season, const struct th_held_air *held);

#define TH_MORE_HOURS_MAX 40

/** "18 more hours", "1 more hour". */
const char *th_more_hours(char text[TH_MORE_HOURS_MAX], double hours);

#define TH_AIR_ADDED_MAX 320

/** What is added over the ceilings in the worst turn: "18 more hours than today with CO2 over 3,000
 * ppm, 1 with CO2 over 5,000 ppm (the limit for people)"; `than` "today". */
const char *th_air_added_words(char text[TH_AIR_ADDED_MAX], const char *than,
                               const struct th_air *air, const struct th_hardship *added);

#endif
