/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What fills taught of a room, in words. */
#ifndef TURNHEAT_FITTED_TEXT_H
#define TURNHEAT_FITTED_TEXT_H

#include "report.h"
#include "turnheat/room.h"

/** Adds a paragraph where the room's file holds what its fills taught. */
void th_report_fitted(struct th_report *report, const struct th_room *room);

#endif
