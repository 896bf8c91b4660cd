/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Heaters in the words people use for them. */
#ifndef TURNHEAT_HEATER_TEXT_H
#define TURNHEAT_HEATER_TEXT_H

#include "turnheat/room.h"

/** How the units of a heater are run: "all on or off at once", "two-stage" … Never NULL. */
const char *th_control_text(enum th_control control);

#endif
