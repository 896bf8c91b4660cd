/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files by name: on the disk, or bytes in memory where there is no disk (a browser page). */
#ifndef TURNHEAT_FILES_H
#define TURNHEAT_FILES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <sys/stat.h>

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

/** fopen(path, "rb"), remembered for th_file_was_read(). */
FILE *th_file_open(const char *path);

/** Whether this process has opened the file by th_file_open(), under whatever name. Knowing what
 * may not be written over is the one thing about input files that outlives their reading. */
bool th_file_was_read(const struct stat *file);

/** Forgets them, when all is written. */
void th_files_forget(void);

#endif
