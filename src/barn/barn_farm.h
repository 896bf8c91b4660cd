/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What is wrong with the tanks, contracts, gas users and the price of a draft. */
#ifndef TURNHEAT_BARN_FARM_H
#define TURNHEAT_BARN_FARM_H

#include "barn_apply.h"

/** Checks them as the commands that use them will, every fault at the key it lies in. */
void th_barn_farm_review(struct th_apply *apply, const struct th_room *room);

#endif
