/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Running a command and delivering what it made. */
#ifndef TURNHEAT_RUN_H
#define TURNHEAT_RUN_H

#include "options.h"
#include "render.h"

/** The whole program over a list of commands ended by NULL; returns the exit status. */
int th_run(const struct th_command *const *commands, int argc, char **argv);

/**
 * Prints the report on standard output as --json or --csv ask, as text otherwise, and writes the
 * file of --html. Does not free the report. What th_report_write() and th_output_commit() return.
 */
enum th_code th_deliver(const struct th_arguments *arguments, const struct th_report *report,
                        struct th_error *err);

/** Prints an error as "file:line:column: text", or "turnheat: text" when it has no place. */
void th_print_error(FILE *out, const struct th_error *err);

#endif
