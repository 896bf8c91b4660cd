/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Files by name: on the disk, or bytes in memory where there is no disk (a browser page). */
#ifndef TURNHEAT_FILES_H
#define TURNHEAT_FILES_H

#include "turnheat/error.h"

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

/** The files one run can name, and those it has read; all zero is the disk, nothing read. Every
 * reader takes a pointer to one; NULL is the disk, and nothing is remembered. */
struct th_files {
    size_t n_held;
    const struct th_file *held; /**< borrowed; NULL: names are paths on the disk */
    size_t n_read;
    struct th_file_identity *read; /**< owned */
};

/** Opens `name` to be read. NULL and errno, as fopen(), when there is none; to be closed with
 * fclose(). */
FILE *th_files_open(struct th_files *files, const char *name);

/** The same with the reason in `err`, which names the file: TH_ERR_READ or TH_ERR_MEMORY. */
enum th_code th_files_open_told(struct th_files *files, const char *name, FILE **file,
                                struct th_error *err);

/** Whether the file on the disk was opened by th_files_open(), under whatever name: it must not be
 * written over. */
bool th_files_have_read(const struct th_files *files, const struct stat *file);

/** The name by which file `index` < n_read was opened on the disk. */
const char *th_files_read_name(const struct th_files *files, size_t index);

/** Frees what was remembered. */
void th_files_finish(struct th_files *files);

#endif
