/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Small files for tests, each in a folder of its own under the one for temporary files. */
#ifndef TURNHEAT_SCRATCH_H
#define TURNHEAT_SCRATCH_H

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/** A file of ours, removed by scratch_remove(). */
struct scratch {
    char path[256];
};

/** Writes `size` bytes to a new file called `name`. */
static inline struct scratch scratch_bytes(const char *name, const char *bytes, size_t size)
{
    struct scratch s;
    const char *const folder = getenv("TMPDIR");
    snprintf(s.path, sizeof s.path, "%s/turnheat-test-XXXXXX", folder ? folder : ".");
    ck_assert_ptr_nonnull(mkdtemp(s.path));
    const size_t used = strlen(s.path);
    snprintf(s.path + used, sizeof s.path - used, "/%s", name);
    FILE *const file = fopen(s.path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(bytes, 1, size, file), size);
    ck_assert_int_eq(fclose(file), 0);
    return s;
}

static inline struct scratch scratch_text(const char *name, const char *text)
{
    return scratch_bytes(name, text, strlen(text));
}

static inline void scratch_remove(struct scratch *s)
{
    unlink(s->path);
    *strrchr(s->path, '/') = '\0';
    rmdir(s->path);
}

#endif
