/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In place of output.c where files live in memory and end with the run (a browser page): there are
 * no links, no signals and no other program, so files are written directly. */
#include "output.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static enum th_code fail(const struct th_output *output, struct th_error *err)
{
    return th_fail(err, TH_ERR_WRITE, "%s could not be written: %s",
                   output->name ? output->name : "standard output", strerror(errno));
}

enum th_code th_output_open(struct th_output *output, const struct th_files *inputs,
                            const char *path, struct th_error *err)
{
    *output = (struct th_output){.inputs = inputs, .file = stdout};
    if (!path)
        return TH_OK;
    output->name = strdup(path);
    output->file = output->name ? fopen(path, "w") : NULL;
    if (output->file)
        return TH_OK;
    const enum th_code code =
        output->name ? fail(output, err) : th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_output_abandon(output);
    return code;
}

enum th_code th_output_commit(struct th_output *output, struct th_error *err)
{
    enum th_code code = fflush(output->file) == 0 ? TH_OK : fail(output, err);
    if (output->name) {
        const bool closed = fclose(output->file) == 0;
        output->file = NULL;
        if (!closed && code == TH_OK)
            code = fail(output, err);
    }
    th_output_abandon(output);
    return code;
}

void th_output_abandon(struct th_output *output)
{
    if (output->file && output->file != stdout) {
        fclose(output->file);
        remove(output->name);
    }
    free(output->name);
    *output = (struct th_output){0};
}

void th_output_guard(void)
{
    /* Nothing can come between. */
}
