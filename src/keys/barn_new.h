/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Commented barn files to start from. */
#ifndef TURNHEAT_BARN_NEW_H
#define TURNHEAT_BARN_NEW_H

#include <stdbool.h>
#include <stdio.h>

/** The kinds there are: "curtain", "solid", "nursery"; NULL ends the list. */
extern const char *const th_barn_new_kinds[];

/**
 * Writes the short file of `kind` to `out`: what a person knows of a room, each line with what it
 * is and where one reads it (barn_questions.h), with an invented room's values or, unless NULL,
 * with the `answers` of its owner, one for each question; what is NULL among them is told to be
 * invented. False when the kind is not known.
 */
bool th_barn_new_write_short(const char *kind, const char *const *answers, FILE *out);

/**
 * Writes a barn file of `kind` to `out`: an invented room of usual size, every key with its
 * meaning, and every default with its source. False when the kind is not known.
 */
bool th_barn_new_write(const char *kind, FILE *out);

#endif
