/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files by name: on the disk, or bytes in memory where there is no disk (a browser page). */
#ifndef TURNHEAT_FILES_H
#define TURNHEAT_FILES_H

#include <stddef.h>
#include <stdio.h>

/** A file held in memory. Both pointers are borrowed. */
struct th_file {
    const char *name;
    const char *bytes;
    size_t size;
};

/** The files that can be named. */
struct th_files {
    size_t n;
    const struct th_file *files;
};

/** Opens `name` to be read: among `files`, or on the disk when `files` is NULL. NULL and errno, as
 * fopen(), when there is none; to be closed with fclose(). */
FILE *th_files_open(const struct th_files *files, const char *name);

#endif
