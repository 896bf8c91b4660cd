/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How far a room coasts past the point where its heaters stop: the facts every report shares. */
#ifndef TURNHEAT_OVERSHOOT_TEXT_H
#define TURNHEAT_OVERSHOOT_TEXT_H

#include "report.h"
#include "turnheat/room.h"

/** Adds the overshoot taken for `room`, the outdoor temperature it is told for, and whether it was
 * measured. Errors as th_engine_init(). */
enum th_code th_report_overshoot(struct th_report *report, const struct th_room *room,
                                 struct th_error *err);

#endif
