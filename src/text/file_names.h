/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The files that one name stands for: a file, a folder, or a pattern. */
#ifndef TURNHEAT_FILE_NAMES_H
#define TURNHEAT_FILE_NAMES_H

#include "files.h"
#include "turnheat/error.h"

/** Owns its names. */
struct th_file_names {
    bool folder; /**< all files of a folder, whatever they are */
    size_t n;
    char **names;
};

/**
 * What `name` stands for, in alphabetical order: the file itself if there is one or nothing else
 * fits, all files of a folder but hidden ones, or those that fit a pattern with *, ? or []. In
 * memory a folder is what names have before their last slash. TH_ERR_READ when a folder cannot be
 * read or nothing fits a pattern, TH_ERR_MEMORY. Finish in any case.
 */
enum th_code th_file_names_of(const struct th_files *files, const char *name,
                              struct th_file_names *found, struct th_error *err);

/** Frees; a second call is allowed. */
void th_file_names_finish(struct th_file_names *found);

#endif
