/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "given_barn.h"

#include "wrong_file.h"

#include <stdlib.h>

/* One line instead of the errors of a file that is something else. */
static void name_other(struct th_files *files, const char *path, enum th_file_use expected,
                       struct th_issues *issues)
{
    char text[TH_WRONG_FILE_MAX];
    if (!th_is_wrong_file(files, path, expected, text))
        return;
    th_issues_finish(issues);
    th_issues_error(issues, &(struct th_place){.file = path}, "%s", text);
}

enum th_code th_barn_given(const struct th_arguments *arguments, size_t index, struct th_barn *barn,
                           struct th_error *err)
{
    const char *const path = arguments->operands[index];
    const char *const farm = th_given_text(arguments, "farm");
    struct th_issues *const issues = &arguments->issues[index];
    const size_t n = th_given_count(arguments, "set");
    const char **const sets = calloc(n + 1, sizeof *sets);
    *barn = (struct th_barn){0};
    if (!sets)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < n; i++)
        sets[i] = th_given_nth(arguments, "set", i);
    const enum th_code code =
        th_barn_read(arguments->files, path, farm, sets, (int)n, barn, issues);
    free(sets);
    if (code == TH_ERR_MEMORY)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code != TH_OK && farm)
        name_other(arguments->files, farm, TH_USE_FARM, issues);
    if (code != TH_OK)
        name_other(arguments->files, path, TH_USE_BARN, issues);
    return code;
}
