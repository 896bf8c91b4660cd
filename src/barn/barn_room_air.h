/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The air of a room: catalogue flows, leakage, minimum curve. */
#ifndef TURNHEAT_BARN_ROOM_AIR_H
#define TURNHEAT_BARN_ROOM_AIR_H

#include "barn_apply.h"

/** Finishes `room->air`; the shell must be finished before. */
void th_barn_room_air(struct th_apply *apply, struct th_room *room);

#endif
