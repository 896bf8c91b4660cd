/* SPDX-License-Identifier: GPL-3.0-or-later */
/** All that is wrong or doubtful in the files of one run, with the line it stands in. */
#ifndef TURNHEAT_ISSUES_H
#define TURNHEAT_ISSUES_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stdio.h>

/** So many are listed; the rest are only counted. */
#define TH_ISSUES_MAX 50

/** Where something stands. Strings are borrowed and copied when an issue is added. */
struct th_place {
    const char *file;   /**< NULL when not in a file */
    long line;          /**< from 1; 0 when the file as a whole is meant */
    int column;         /**< byte in the line from 1; 0 when the line as a whole is meant */
    const char *source; /**< the line itself, NULL when there is none to show */
};

struct th_issue {
    char *text; /**< file:line:column: message, then the line and a caret if known */
};

/** Owns its texts. All zero is empty. */
struct th_issues {
    int n_errors; /**< may exceed TH_ISSUES_MAX: only the first are kept */
    struct th_issue errors[TH_ISSUES_MAX];
    int n_warnings;
    struct th_issue warnings[TH_ISSUES_MAX];
    bool memory_short; /**< a text was lost for want of memory */
    char scope[80];    /**< put before every message, as in "choice two: " */
};

/** Whether as many errors are listed as there ever will be: further ones need no words. */
bool th_issues_are_full(const struct th_issues *issues);

/** Adds an error (printf style) at `place`, which may be NULL. */
void th_issues_error(struct th_issues *issues, const struct th_place *place, const char *format,
                     ...) __attribute__((format(printf, 3, 4)));

/** Takes back the warnings after the first `n`. */
void th_issues_drop_warnings(struct th_issues *issues, int n);

/** Adds a warning; the source line is not shown with it. */
void th_issues_warning(struct th_issues *issues, const struct th_place *place, const char *format,
                       ...) __attribute__((format(printf, 3, 4)));

/** Writes the errors of `n` lists, a line or three each, and how many were left out; the same text
 * once: rooms may share a file. */
void th_issues_print_errors(const struct th_issues *lists, int n, FILE *out);

/** Writes the warnings of `n` lists, a line each and the same text once. */
void th_issues_print_warnings(const struct th_issues *lists, int n, FILE *out);

/** Frees the texts and empties the list; NULL and a second call are allowed. */
void th_issues_finish(struct th_issues *issues);

#endif
