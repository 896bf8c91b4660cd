/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A barn file named on the command line. */
#ifndef TURNHEAT_GIVEN_BARN_H
#define TURNHEAT_GIVEN_BARN_H

#include "barn.h"
#include "options.h"

/**
 * Reads operand `index` with --farm and --set. What is wrong or doubtful goes to the operand's list
 * of issues; a code other than TH_OK comes with such, or with a text in `err`. Finish `barn` in any
 * case.
 */
enum th_code th_barn_given(const struct th_arguments *arguments, size_t index, struct th_barn *barn,
                           struct th_error *err);

#endif
