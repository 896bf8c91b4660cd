/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Whether bytes are plain text, and texts of others made fit to be shown. */
#ifndef TURNHEAT_UTF8_H
#define TURNHEAT_UTF8_H

#include <stddef.h>

/**
 * How many of the `n` bytes are well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates, at
 * most U+10FFFF) without control characters other than the tab. `n` when all are.
 */
size_t th_utf8_good_text(const char *bytes, size_t n);

/**
 * Copies `text` making it harmless: bad UTF-8, control and direction-changing characters become
 * U+FFFD, line ends and tabs a space. `out` holds at least 3 × strlen(text) + 1 bytes.
 */
void th_make_harmless(char *out, const char *text);

#endif
