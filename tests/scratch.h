/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Small files for tests, made in a directory for temporary files. */
#ifndef TURNHEAT_SCRATCH_H
#define TURNHEAT_SCRATCH_H

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#define SCRATCH_PATH_MAX 256

/** Writes `n` bytes to a new file and gives its path. The test removes it. */
static inline void scratch_write(char path[SCRATCH_PATH_MAX], const char *bytes, size_t n)
{
    const char *const folder = getenv("TMPDIR");
    snprintf(path, SCRATCH_PATH_MAX, "%s/turnheat-test-XXXXXX", folder ? folder : ".");
    const int descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    FILE *const file = fdopen(descriptor, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(bytes, 1, n, file), n);
    ck_assert_int_eq(fclose(file), 0);
}

#endif
