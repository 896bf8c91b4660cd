/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files packed with gzip (RFC 1952), unpacked piece by piece through zlib. */
#ifndef TURNHEAT_UNPACK_H
#define TURNHEAT_UNPACK_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

struct th_unpack;

/** Whether a file that begins so is packed. */
bool th_is_packed(const char *head, size_t n);

/** An unpacker that has the first `n` ≤ 64 KiB bytes of the file already; NULL for want of memory.
 */
struct th_unpack *th_unpack_new(const char *head, size_t n);

/** Unpacks `room` bytes, fewer only at the end of the file. TH_ERR_READ for a damaged or shortened
 * file, or one that unpacks to more than a gigabyte; the caller names the place. TH_ERR_MEMORY. */
enum th_code th_unpack_read(struct th_unpack *unpack, FILE *file, char *out, size_t room,
                            size_t *got, struct th_error *err);

/** Frees; NULL is allowed. */
void th_unpack_free(struct th_unpack *unpack);

#endif
