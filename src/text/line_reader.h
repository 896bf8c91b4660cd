/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A text file line by line with line numbers, without copying; one packed with gzip is unpacked on
 * the way. Refuses binary content and lines longer than TH_LINE_MAX, so that a wrong file costs
 * neither memory nor time.
 */
#ifndef TURNHEAT_LINE_READER_H
#define TURNHEAT_LINE_READER_H

#include "files.h"
#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#define TH_LINE_MAX 262144

struct th_lines {
    const char *path; /**< borrowed */
    FILE *stream;
    bool begun;               /**< something was read */
    struct th_unpack *unpack; /**< owned; NULL for a file that is not packed */
    char *buffer;
    size_t begin, end; /**< the unread part of the buffer */
    bool at_end;
    long line; /**< number of the last line given out */
};

/** Opens `path`, which must outlive `lines`, among `files`. TH_ERR_READ, TH_ERR_MEMORY. */
enum th_code th_lines_open(struct th_lines *lines, struct th_files *files, const char *path,
                           struct th_error *err);

/** Closes; NULL members are allowed. */
void th_lines_close(struct th_lines *lines);

/**
 * The next line, NUL-terminated and without its line end, valid until the next call; NULL at the
 * end of the file. A byte order mark at the start of the file is passed over. TH_ERR_READ with
 * file and line for a read error, a NUL byte or an over-long line.
 */
enum th_code th_lines_next(struct th_lines *lines, char **text, size_t *length,
                           struct th_error *err);

/** The first bytes of the file, unpacked, at most 64 KiB of them, before any line was read. */
enum th_code th_lines_peek(struct th_lines *lines, const char **head, size_t *length,
                           struct th_error *err);

#endif
