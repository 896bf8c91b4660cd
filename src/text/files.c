/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "files.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* Files read, by device and inode. */
static struct identity {
    dev_t device;
    ino_t inode;
} * files_read;
static size_t n_read;

bool th_file_was_read(const struct stat *file)
{
    for (size_t i = 0; i < n_read; i++)
        if (files_read[i].device == file->st_dev && files_read[i].inode == file->st_ino)
            return true;
    return false;
}

static bool remember(FILE *file)
{
    struct stat status;
    if (fstat(fileno(file), &status) != 0 || th_file_was_read(&status))
        return true;
    struct identity *more = realloc(files_read, (n_read + 1) * sizeof *more);
    if (!more)
        return false;
    files_read = more;
    files_read[n_read++] = (struct identity){status.st_dev, status.st_ino};
    return true;
}

void th_files_forget(void)
{
    free(files_read);
    files_read = NULL;
    n_read = 0;
}

FILE *th_file_open(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file || remember(file))
        return file;
    fclose(file);
    errno = ENOMEM;
    return NULL;
}

FILE *th_files_open(const struct th_files *files, const char *name)
{
    if (!files)
        return th_file_open(name);
    for (size_t i = 0; i < files->n; i++)
        if (strcmp(files->files[i].name, name) == 0)
            return fmemopen((char *)files->files[i].bytes, files->files[i].size, "rb");
    errno = ENOENT;
    return NULL;
}
