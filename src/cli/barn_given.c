/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_given.h"

#include "weather_read.h"

#include <stdlib.h>

/* A pattern such as --weather 2*.txt leaves all files but the first standing as barn files: one
 * line each instead of their errors. */
static void name_weather(struct th_files *files, const char *path, struct th_issues *issues)
{
    const char *const form = th_weather_looks_like(files, path);
    if (!form)
        return;
    th_issues_finish(issues);
    th_issues_error(issues, &(struct th_place){.file = path},
                    "found weather (%s) where a barn file is expected; write --weather before "
                    "each weather file",
                    form);
}

enum th_code th_barn_given(const struct th_arguments *arguments, size_t index, struct th_barn *barn,
                           struct th_error *err)
{
    const char *const path = arguments->operands[index];
    struct th_issues *const issues = &arguments->issues[index];
    const size_t n = th_given_count(arguments, "set");
    const char **const sets = calloc(n + 1, sizeof *sets);
    *barn = (struct th_barn){0};
    if (!sets)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < n; i++)
        sets[i] = th_given_nth(arguments, "set", i);
    const enum th_code code = th_barn_read(arguments->files, path, th_given_text(arguments, "farm"),
                                           sets, (int)n, barn, issues);
    free(sets);
    if (code == TH_ERR_MEMORY)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code != TH_OK)
        name_weather(arguments->files, path, issues);
    return code;
}
