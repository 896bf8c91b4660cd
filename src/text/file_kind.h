/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files that are no plain text, told by their first bytes. */
#ifndef TURNHEAT_FILE_KIND_H
#define TURNHEAT_FILE_KIND_H

#include <stddef.h>

/** What a file that begins with the `n` bytes at `head` is, and what to do with it, as a sentence
 * for an error; NULL when nothing is known against its being text. */
const char *th_not_plain_text(const char *head, size_t n);

#endif
