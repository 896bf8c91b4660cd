/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Names of a barn file as someone reads them who has not seen it. */
#ifndef TURNHEAT_TITLE_TEXT_H
#define TURNHEAT_TITLE_TEXT_H

#include "turnheat/room.h"

#define TH_TITLE_MAX (TH_NAME_MAX + 16)

/** The name "concrete" as "Concrete (wall)", where `what` is "wall" and not said by the name;
 * `what` may be NULL. Returns `text`. */
const char *th_title_text(char text[TH_TITLE_MAX], const char *name, const char *what);

#endif
