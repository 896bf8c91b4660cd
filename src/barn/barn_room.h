/* SPDX-License-Identifier: GPL-3.0-or-later */
/** From a draft to a room that has passed all checks. */
#ifndef TURNHEAT_BARN_ROOM_H
#define TURNHEAT_BARN_ROOM_H

#include "barn_apply.h"

/**
 * Works out what the draft of `apply` leaves open (areas, R of layers, catalogue air flows, tables,
 * defaults that follow from other values) and copies it to `room`. Errors become issues of `apply`.
 */
void th_barn_room_make(struct th_apply *apply, struct th_room *room);

/** th_room_review() with every finding at its place; sections that already had errors are left
 * out, since what is said of them may be wrong. */
void th_barn_room_review(struct th_apply *apply, const struct th_room *room);

#endif
