/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What heater controls are called in reports. */
#ifndef TURNHEAT_HEATER_TEXT_H
#define TURNHEAT_HEATER_TEXT_H

#include "turnheat/room.h"

/** "on/off together", "lead-lag" …; never NULL. */
const char *th_control_text(enum th_control control);

#endif
