/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The commands there are. */
#ifndef TURNHEAT_COMMANDS_H
#define TURNHEAT_COMMANDS_H

#include "options.h"

/** All commands in the order they are shown; NULL ends the list. */
extern const struct th_command *const th_commands[];

#endif
