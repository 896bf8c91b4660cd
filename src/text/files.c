/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "files.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* A file on the disk, under whatever name. */
struct th_file_identity {
    dev_t device;
    ino_t inode;
    char *name; /* as it was opened */
};

bool th_files_have_read(const struct th_files *files, const struct stat *file)
{
    for (size_t i = 0; files && i < files->n_read; i++)
        if (files->read[i].device == file->st_dev && files->read[i].inode == file->st_ino)
            return true;
    return false;
}

static bool remember(struct th_files *files, FILE *file, const char *path)
{
    struct stat status;
    if (fstat(fileno(file), &status) != 0 || th_files_have_read(files, &status))
        return true;
    struct th_file_identity *const more =
        realloc(files->read, (files->n_read + 1) * sizeof *files->read);
    if (!more)
        return false;
    files->read = more;
    struct th_file_identity *const read = &files->read[files->n_read];
    read->device = status.st_dev;
    read->inode = status.st_ino;
    read->name = strdup(path);
    files->n_read += read->name != NULL;
    return read->name != NULL;
}

static FILE *open_on_disk(struct th_files *files, const char *path)
{
    FILE *const file = fopen(path, "rb");
    if (!file || !files || remember(files, file, path))
        return file;
    fclose(file);
    errno = ENOMEM;
    return NULL;
}

FILE *th_files_open(struct th_files *files, const char *name)
{
    if (!files || !files->held)
        return open_on_disk(files, name);
    for (size_t i = 0; i < files->n_held; i++) {
        const struct th_file *const file = &files->held[i];
        if (strcmp(file->name, name) == 0)
            return fmemopen((char *)file->bytes, file->size, "rb");
    }
    errno = ENOENT;
    return NULL;
}

enum th_code th_files_open_told(struct th_files *files, const char *name, FILE **file,
                                struct th_error *err)
{
    *file = th_files_open(files, name);
    if (*file)
        return TH_OK;
    if (errno == ENOMEM)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_fail(err, TH_ERR_READ, "cannot be opened: %s", strerror(errno));
    th_error_place(err, name, 0, 0);
    return TH_ERR_READ;
}

const char *th_files_read_name(const struct th_files *files, size_t index)
{
    return files->read[index].name;
}

void th_files_finish(struct th_files *files)
{
    for (size_t i = 0; i < files->n_read; i++)
        free(files->read[i].name);
    free(files->read);
    files->read = NULL;
    files->n_read = 0;
}
