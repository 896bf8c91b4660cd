/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "files.h"

#include <errno.h>
#include <string.h>

FILE *th_files_open(const struct th_files *files, const char *name)
{
    if (!files)
        return fopen(name, "rb");
    for (size_t i = 0; i < files->n; i++)
        if (strcmp(files->files[i].name, name) == 0)
            return fmemopen((char *)files->files[i].bytes, files->files[i].size, "rb");
    errno = ENOENT;
    return NULL;
}
