/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Heaters in the words people use for them. */
#ifndef TURNHEAT_HEATER_TEXT_H
#define TURNHEAT_HEATER_TEXT_H

#include "turnheat/room.h"

/** How the units of a heater are run: "all on or off at once", "two-stage" … Never NULL. */
const char *th_control_text(enum th_control control);

#define TH_TITLE_MAX (TH_NAME_MAX + 16)

/** The name "concrete" as "Concrete (wall)", where `what` is "wall" and not said by the name;
 * `what` may be NULL. Returns `text`. */
const char *th_title_text(char text[TH_TITLE_MAX], const char *name, const char *what);

#endif
