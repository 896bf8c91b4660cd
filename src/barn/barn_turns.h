/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The turns of a room from those written down. */
#ifndef TURNHEAT_BARN_TURNS_H
#define TURNHEAT_BARN_TURNS_H

#include "barn_apply.h"

/** Copies the turns, each as often as it says; complains about repeats without a year or too
 * many. */
void th_barn_turns(struct th_apply *apply, struct th_room *room);

#endif
