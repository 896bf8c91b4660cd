/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ask.h"
#include "barn_new.h"
#include "commands.h"
#include "output.h"

#include <sys/stat.h>

static const struct th_option own_options[] = {
    {"barn", "KIND", "curtain, solid or nursery; curtain without it", false, 0, false},
    {"all", NULL, "write every key with its meaning, its default and where that comes from", false,
     0, false},
    {"ask", NULL, "ask for the numbers one after the other and write FILE from the answers", false,
     0, false},
};

/* A barn file may hold a winter's work: never write over one. */
static enum th_code must_be_absent(const char *path, struct th_error *err)
{
    struct stat found;
    if (path && stat(path, &found) == 0 && S_ISREG(found.st_mode))
        return th_fail(err, TH_ERR_WRITE, "%s: there is such a file already, left as it is", path);
    return TH_OK;
}

static enum th_code write_new(const char *kind, bool all, const char *path, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, NULL, path, err);
    if (code != TH_OK)
        return code;
    if (all ? th_barn_new_write(kind, output.file)
            : th_barn_new_write_short(kind, NULL, output.file))
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return th_fail(err, TH_ERR_USAGE, "--barn %s: curtain, solid or nursery was expected", kind);
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    const char *const given = th_given_text(arguments, "barn");
    const char *const path = arguments->n_operands ? arguments->operands[0] : NULL;
    const enum th_code code = must_be_absent(path, err);
    const bool ask = th_given_count(arguments, "ask") > 0;
    if (ask && (!path || th_given_count(arguments, "all")))
        return th_fail(err, TH_ERR_USAGE, "--ask needs a FILE to write to, and goes without --all");
    if (ask && code == TH_OK)
        return th_ask(stdin, stdout, given, path, err);
    return code != TH_OK ? code
                         : write_new(given ? given : "curtain",
                                     th_given_count(arguments, "all") > 0, path, err);
}

const struct th_command th_cmd_new = {
    .name = "new",
    .operands = "[FILE]",
    .operands_min = 0,
    .operands_max = 1,
    .summary = "a short barn file to start from",
    .about =
        "Writes the file of an invented room: some 35 lines, each with what it is and where one "
        "reads it. Put your own numbers in and read it with check. With --all every key is "
        "there and explained: its units, the value it has without you and where that comes "
        "from. With --ask it asks for the numbers, one after the other, and saves after every "
        "answer. Without FILE it goes to standard output. A file that is there already is left "
        "as it is.",
    .example = "turnheat new --barn solid north-room.barn",
    .takes = 0,
    .options = own_options,
    .n_options = sizeof own_options / sizeof own_options[0],
    .run = run};
