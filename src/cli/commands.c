/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"

/* To add a command, declare it here, list it below and name its file in meson.build. */

const struct th_command *const th_commands[] = {
    NULL,
};
