/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A barn file written by question and answer. */
#ifndef TURNHEAT_ASK_H
#define TURNHEAT_ASK_H

#include "turnheat/error.h"
#include <stdio.h>

/**
 * Asks on `out` what barn_questions.h lists and reads the answers from `in`, a line each: an empty
 * one takes the value in brackets, ? explains, what cannot be read is asked again. The file at
 * `path` holds all that was answered after every answer, so that nothing typed is lost, however the
 * questions end. `kind` NULL is asked first. TH_ERR_USAGE for an unknown kind; TH_ERR_WRITE;
 * TH_ERR_MEMORY.
 */
enum th_code th_ask(FILE *in, FILE *out, const char *kind, const char *path, struct th_error *err);

#endif
