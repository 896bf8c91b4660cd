/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What went wrong in a run, in words. */
#ifndef TURNHEAT_TOLD_H
#define TURNHEAT_TOLD_H

#include "options.h"

#include <stdio.h>

/** An exit status with its meaning. */
struct th_exit {
    int status;
    const char *meaning;
};

/** The exit statuses, from 0 on. */
extern const struct th_exit th_exits[];
extern const size_t th_n_exits;

/** The exit status for a result. */
int th_exit_status(enum th_code code);

/** Prints what files hold or are called so that it cannot steer the terminal; of a long text its
 * first part. */
void th_print_harmless(FILE *out, const char *text);

/** Long enough for every line of th_error_line(). */
#define TH_ERROR_LINE_MAX 3200

/** The error as "file:line:column: text", or "turnheat: text" when it has no place; harmless to a
 * terminal. */
void th_error_line(char line[TH_ERROR_LINE_MAX], const struct th_error *err);

/** Lets an error about a file that is known to be something else than was expected say so. */
void th_name_other_file(const struct th_arguments *arguments, struct th_error *err);

/** Prints the issues of all operands on standard error; warnings only where there is no error. */
void th_print_issues(const struct th_arguments *arguments);

#endif
