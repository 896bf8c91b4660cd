/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Where results go: standard output or a file that appears only when it is complete. */
#ifndef TURNHEAT_OUTPUT_H
#define TURNHEAT_OUTPUT_H

#include "files.h"
#include "turnheat/error.h"
#include <stdio.h>

/** Write to `file` between th_output_open() and th_output_commit(). */
struct th_output {
    FILE *file;
    const struct th_files *inputs; /**< borrowed: what is not written over */
    char *name;                    /**< as given, for messages; NULL: standard output */
    char *path;                    /**< behind links */
    char *temporary;               /**< NULL: written directly */
};

/**
 * Opens `path`, or standard output when NULL. A target that is absent or a regular file (through
 * links) is written under a temporary name beside it; a device or pipe is written directly.
 * TH_ERR_USAGE for a file that was read among `inputs` (NULL: none) and, with inputs, for a barn or
 * farm file that is there; TH_ERR_WRITE names the path and the reason; TH_ERR_MEMORY.
 */
enum th_code th_output_open(struct th_output *output, const struct th_files *inputs,
                            const char *path, struct th_error *err);

/**
 * Flushes, checks and closes; a file then gets its name. On failure (TH_ERR_WRITE: full disk,
 * closed pipe; TH_ERR_USAGE: read meanwhile) no file is left. Standard output stays open. `output`
 * is finished either way.
 */
enum th_code th_output_commit(struct th_output *output, struct th_error *err);

/** Gives up: closes and removes the temporary file. Finished outputs are allowed. */
void th_output_abandon(struct th_output *output);

/**
 * Makes sure descriptors 0 to 2 are taken, so that no file opened later becomes standard output
 * by accident, ignores SIGPIPE and SIGXFSZ, so that a closed pipe and a file grown too large are
 * errors like any other, and removes temporary files on SIGTERM, SIGINT and SIGHUP. Call once at
 * the start of a program.
 */
void th_output_guard(void);

#endif
