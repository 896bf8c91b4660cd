/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The files that a page takes along, under names that lead nowhere outside it. */
#ifndef TURNHEAT_PAGE_FILES_H
#define TURNHEAT_PAGE_FILES_H

#include "turnheat/error.h"
#include <stddef.h>

/** A file on the disk and what the page calls it. */
struct th_page_file {
    char *path;       /**< from the root, without . and .. */
    const char *name; /**< the part of `path` below the folder that all files have in common */
    char *text;       /**< owned: what travels in place of what is on the disk, where not NULL */
};

/** Owns its files; all zero is an empty list. */
struct th_page_files {
    size_t n;
    struct th_page_file *list;
};

/** Adds the file at `path` unless it is there; tells by `index` which it is.
 * TH_ERR_READ where the present folder is not known, TH_ERR_MEMORY. */
enum th_code th_page_files_add(struct th_page_files *files, const char *path, size_t *index,
                               struct th_error *err);

/** Gives the files their names, when all were added. */
void th_page_files_name(struct th_page_files *files);

/** Frees; a second call is allowed. */
void th_page_files_finish(struct th_page_files *files);

#endif
