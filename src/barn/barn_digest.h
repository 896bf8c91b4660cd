/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Which barn file a fit to fills was made from. */
#ifndef TURNHEAT_BARN_DIGEST_H
#define TURNHEAT_BARN_DIGEST_H

#include "barn_text.h"
#include "turnheat/room.h"

/**
 * Digest of what a fit rests on: the sections of the room itself, and its tables. Turns, weather,
 * prices and what is bought may change without it. With `sets` what --set gives counts too.
 */
void th_barn_digest(const struct th_barn_text *text, const struct th_room *room, bool sets,
                    char digest[TH_NAME_MAX]);

/** The first section that differs between two digests, such as "air"; NULL when none does. */
const char *th_barn_digest_differs(const char *now, const char *then);

#endif
