/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Help texts made from the tables of commands and options. */
#ifndef TURNHEAT_HELP_H
#define TURNHEAT_HELP_H

#include "options.h"
#include <stdio.h>

/** What turnheat is for, in one line. */
#define TH_PURPOSE "how much propane a pig barn burns over a turn"

/** `turnheat --help`: the commands, the common options, the exit statuses. */
void th_help_program(FILE *out, const struct th_command *const *commands);

/** `turnheat COMMAND --help`: usage, what it does, its options, an example. */
void th_help_command(FILE *out, const struct th_command *command);

#endif
