/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run.h"

#include "help.h"
#include "turnheat/nearest.h"
#include "output.h"
#include "told.h"
#include "turnheat/version.h"
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const struct th_command *find_command(const struct th_command *const *commands,
                                             const char *name)
{
    for (; *commands; commands++)
        if (strcmp((*commands)->name, name) == 0)
            return *commands;
    return NULL;
}

#define COMMANDS_MAX 32

static enum th_code unknown_command(const struct th_command *const *commands, const char *name,
                                    struct th_error *err)
{
    const char *names[COMMANDS_MAX];
    size_t n = 0;
    for (; n < COMMANDS_MAX && commands[n]; n++)
        names[n] = commands[n]->name;
    const char *nearest = th_nearest(name, names, n);
    if (nearest)
        return th_fail(err, TH_ERR_USAGE, "there is no command \"%.60s\"; did you mean \"%s\"?",
                       name, nearest);
    return th_fail(err, TH_ERR_USAGE, "there is no command \"%.60s\"", name);
}

static void print_error(const struct th_error *err)
{
    char line[TH_ERROR_LINE_MAX];
    th_error_line(line, err);
    fprintf(stderr, "%s\n", line);
}

static enum th_code run_command(const struct th_command *command, int argc, char **argv,
                                struct th_error *err)
{
    struct th_files files = {0};
    struct th_arguments arguments;
    enum th_code code = th_arguments_read(&arguments, command, argc, argv, err);
    arguments.files = &files;
    if (!code && th_given_count(&arguments, "help"))
        th_help_command(stdout, command);
    else if (!code)
        code = command->run(&arguments, err);
    if (code != TH_OK)
        th_name_other_file(&arguments, err);
    th_print_issues(&arguments);
    th_files_finish(&files);
    th_arguments_finish(&arguments);
    return code;
}

static bool is_file(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && S_ISREG(found.st_mode);
}

/* `turnheat my.barn`: a barn file in the command's place is checked, and the next step named. */
static enum th_code check_file(const struct th_command *const *commands, int argc, char **argv,
                               const struct th_command **command, struct th_error *err)
{
    *command = find_command(commands, "check");
    const enum th_code code = run_command(*command, argc - 1, argv + 1, err);
    if (code == TH_OK) {
        fputs("That was turnheat check. Next: turnheat budget ", stderr);
        th_print_harmless(stderr, argv[1]);
        fputc('\n', stderr);
    }
    return code;
}

static enum th_code run_program(const struct th_command *const *commands, int argc, char **argv,
                                const struct th_command **command, struct th_error *err)
{
    if (argc < 2)
        return th_fail(err, TH_ERR_USAGE, "which command?");
    if (strcmp(argv[1], "--help") == 0) {
        th_help_program(stdout, commands);
        return TH_OK;
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("turnheat %s\n", th_version());
        return TH_OK;
    }
    if (argv[1][0] == '-')
        return th_fail(err, TH_ERR_USAGE, "the command comes first; \"%.60s\" is not one", argv[1]);
    *command = find_command(commands, argv[1]);
    if (!*command && is_file(argv[1]) && find_command(commands, "check"))
        return check_file(commands, argc, argv, command, err);
    if (!*command)
        return unknown_command(commands, argv[1], err);
    return run_command(*command, argc - 2, argv + 2, err);
}

int th_run(const struct th_command *const *commands, int argc, char **argv)
{
    struct th_error err = {0};
    const struct th_command *command = NULL;
    enum th_code code = run_program(commands, argc, argv, &command, &err);
    if (code == TH_ERR_MEMORY && !*err.text)
        th_fail(&err, code, "%s", th_code_text(code));
    if (code && *err.text)
        print_error(&err);
    if (code == TH_ERR_USAGE)
        fprintf(stderr, "See: turnheat %s%s--help\n", command ? command->name : "",
                command ? " " : "");
    if (code == TH_ERR_WRITE)
        return th_exit_status(code);
    /* Whatever else was printed must have arrived too. */
    struct th_output output;
    th_output_open(&output, NULL, NULL, NULL);
    const enum th_code written = th_output_commit(&output, &err);
    if (written && !code) {
        print_error(&err);
        code = written;
    }
    return th_exit_status(code);
}
