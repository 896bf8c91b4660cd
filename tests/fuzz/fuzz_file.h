/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Fuzz targets get bytes; the readers under test open paths. The targets are linked with
 * --wrap=fopen, so that every path opened for reading gives the bytes set here: no file is written.
 */
#ifndef TURNHEAT_FUZZ_FILE_H
#define TURNHEAT_FUZZ_FILE_H

#include <stddef.h>
#include <stdint.h>

/** What libFuzzer calls. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/** The bytes that files opened from now on hold; they are borrowed. */
void fuzz_file_set(const uint8_t *data, size_t size);

/** Gives every opening of exactly `path` this text instead; both are borrowed, NULL ends it. */
void fuzz_file_fix(const char *path, const char *text);

#endif
