/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What a person knows of a barn without looking anything up but a label or two: the lines of a
 * short barn file, in the order one would tell them, with an answer of an invented barn of each
 * kind.
 */
#ifndef TURNHEAT_BARN_QUESTIONS_H
#define TURNHEAT_BARN_QUESTIONS_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

enum th_new_kind { TH_NEW_CURTAIN, TH_NEW_SOLID, TH_NEW_NURSERY, TH_NEW_KINDS };

struct th_question {
    const char *section, *key;
    const char *ask;                  /**< what it is, in plain words */
    const char *where;                /**< where one reads it, or what to write; "" when plain */
    const char *answer[TH_NEW_KINDS]; /**< NULL where the kind has none */
};

/** Whether its answers only show how one looks: where the owner knows none, there is none. */
bool th_question_is_optional(const struct th_question *question);

/** Whether an answer can be read, as in the file: TH_ERR_INPUT or TH_ERR_RANGE says what was
 * expected. TH_ERR_MEMORY. */
enum th_code th_question_check(const struct th_question *question, const char *answer,
                               struct th_error *err);

/** The list, in the order of the file. */
const struct th_question *th_questions(size_t *n);

#endif
