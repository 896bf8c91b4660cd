/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Letters typed for digits. */
#ifndef TURNHEAT_MISTYPED_H
#define TURNHEAT_MISTYPED_H

#define TH_MISTYPED_CHARS 64

/**
 * The first letter at the start of `text` that stands where a digit belongs: an O in "2OO ft" or
 * "O", an l in "l00"; NULL where there is none. `told` is a message then.
 */
const char *th_mistyped_digit(const char *text, char told[TH_MISTYPED_CHARS]);

#endif
