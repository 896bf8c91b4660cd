/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Surfaces from the shape of the room, where the file does not list them itself. */
#ifndef TURNHEAT_BARN_SHAPE_H
#define TURNHEAT_BARN_SHAPE_H

#include "barn_apply.h"

/**
 * Adds to `room`, whose own surfaces are there, those that [room] curtain_height, concrete_height,
 * walls, doors and ceiling say, in this order, areas rounded to whole ft². A surface of the file
 * takes the place of that of its kind. Errors go to `apply`.
 */
void th_barn_shape_surfaces(struct th_apply *apply, struct th_room *room);

#endif
