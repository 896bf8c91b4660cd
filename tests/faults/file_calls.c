/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file_calls.h"

#include <errno.h>
#include <stdio.h>

static enum file_call failing;
static int left;

/* Meson asks for large files, which renames fopen(). */
FILE *__real_fopen64(const char *path, const char *mode);
FILE *__wrap_fopen64(const char *path, const char *mode);
int __real_fflush(FILE *file);
int __wrap_fflush(FILE *file);
int __real_fclose(FILE *file);
int __wrap_fclose(FILE *file);
int __real_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);

void files_fail_once(enum file_call call, int nth)
{
    failing = call;
    left = nth;
}

bool files_have_failed(void)
{
    return failing != FILE_NONE && left <= 0;
}

static bool fails(enum file_call call, int reason)
{
    if (call != failing || --left != 0)
        return false;
    errno = reason;
    return true;
}

/* A folder opens as a file does, but cannot be read as one. */
FILE *__wrap_fopen64(const char *path, const char *mode)
{
    if (fails(FILE_OPEN, EMFILE))
        return NULL;
    return __real_fopen64(mode[0] == 'r' && fails(FILE_READ, 0) ? "." : path, mode);
}

int __wrap_fflush(FILE *file)
{
    return fails(FILE_FLUSH, ENOSPC) ? EOF : __real_fflush(file);
}

int __wrap_fclose(FILE *file)
{
    const int closed = __real_fclose(file);
    return fails(FILE_CLOSE, ENOSPC) ? EOF : closed;
}

int __wrap_rename(const char *from, const char *to)
{
    return fails(FILE_RENAME, EIO) ? -1 : __real_rename(from, to);
}
