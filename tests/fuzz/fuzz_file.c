/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fuzz_file.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

static const uint8_t *bytes;
static size_t n_bytes;
static const char *fixed_path, *fixed_text;

/* Meson asks for large files, which renames fopen(). */
FILE *__wrap_fopen(const char *path, const char *mode);
FILE *__wrap_fopen64(const char *path, const char *mode);

void fuzz_file_set(const uint8_t *data, size_t size)
{
    bytes = data;
    n_bytes = size;
}

void fuzz_file_fix(const char *path, const char *text)
{
    fixed_path = path;
    fixed_text = text;
}

FILE *__wrap_fopen(const char *path, const char *mode)
{
    if (mode[0] != 'r') {
        errno = EROFS;
        return NULL;
    }
    if (fixed_path && strcmp(path, fixed_path) == 0)
        return fmemopen((void *)(uintptr_t)fixed_text, strlen(fixed_text), "rb");
    /* fmemopen() takes no const; a stream opened for reading does not write. */
    return fmemopen((void *)(uintptr_t)bytes, n_bytes, "rb");
}

FILE *__wrap_fopen64(const char *path, const char *mode)
{
    return __wrap_fopen(path, mode);
}
