/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The parts of th_room_review(). Private to the core. */
#ifndef TURNHEAT_ROOM_CHECK_H
#define TURNHEAT_ROOM_CHECK_H

#include "parameters_rows.h"
#include "turnheat/room.h"

void th_find_error(struct th_findings *f, const char *section, const char *key, const char *format,
                   ...) __attribute__((format(printf, 4, 5)));

void th_find_warning(struct th_findings *f, const char *section, const char *key,
                     const char *format, ...) __attribute__((format(printf, 4, 5)));

/** An error for each value that lies outside the range of its row; says whether all fit. */
bool th_find_ranges(struct th_findings *f, const char *section, const struct th_parameters *list,
                    const void *values);

/** Fans, inlets, leakage and first stage. */
void th_check_air(const struct th_room *room, struct th_findings *f);

/** Heaters, zone heat and the room's answer to them. */
void th_check_heat(const struct th_room *room, struct th_findings *f);

/** Pigs' heat, set points and the pigs on the floor on every day of every turn. */
void th_check_pigs(const struct th_room *room, struct th_findings *f);

/** Turns: dates, lengths, overlaps. */
void th_check_turns(const struct th_room *room, struct th_findings *f);

#endif
