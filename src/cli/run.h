/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Running a command. */
#ifndef TURNHEAT_RUN_H
#define TURNHEAT_RUN_H

#include "options.h"

/** The whole program over a list of commands ended by NULL; returns the exit status. */
int th_run(const struct th_command *const *commands, int argc, char **argv);

#endif
