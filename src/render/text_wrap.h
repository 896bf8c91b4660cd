/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Plain text laid out for a terminal: wrapped lines and padding, counted in code points. */
#ifndef TURNHEAT_TEXT_WRAP_H
#define TURNHEAT_TEXT_WRAP_H

#include <stdio.h>

/** The widest line of a text report. */
#define TH_TEXT_WIDTH 80

/**
 * Bytes of `text` that go on a line of `width` columns: up to the last space that fits, or cut
 * within a word longer than the line. 0 only for the empty text.
 */
size_t th_line_bytes(const char *text, int width);

/** What is left of `text` after its first `bytes`, without the spaces before it. */
const char *th_after_line(const char *text, size_t bytes);

/** Columns of the longest word of `text`. */
int th_longest_word(const char *text);

/** Lines `text` takes when wrapped at `width`, at least 1. */
int th_wrapped_lines(const char *text, int width);

/** Prints `n` copies of `text`. */
void th_repeat(FILE *out, const char *text, int n);

/** Prints `text` wrapped, ending each line; lines after the first are indented by `indent`. */
void th_wrap(FILE *out, const char *text, int indent, int width);

#endif
