/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run.h"

#include "csv_tables.h"
#include "display.h"
#include "utf8.h"
#include "wrong_file.h"
#include "help.h"
#include "nearest.h"
#include "output.h"
#include "turnheat/version.h"
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* What files hold and what they are called must not steer the terminal. */
static void print_harmless(FILE *out, const char *text)
{
    char shown[sizeof((struct th_error *)0)->text], harmless[3 * sizeof shown];
    snprintf(shown, sizeof shown, "%s", text);
    th_make_harmless(harmless, shown);
    fputs(harmless, out);
}

void th_print_error(FILE *out, const struct th_error *err)
{
    print_harmless(out, *err->file ? err->file : "turnheat");
    if (err->line > 0)
        fprintf(out, ":%ld", err->line);
    if (err->line > 0 && err->column > 0)
        fprintf(out, ":%d", err->column);
    fputs(": ", out);
    print_harmless(out, err->text);
    fputc('\n', out);
}

static enum th_code write_page(const struct th_files *inputs, const char *path,
                               const struct th_report *report, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, inputs, path, err);
    if (code)
        return code;
    code = th_report_write(report, TH_AS_HTML, output.file, err);
    if (!code)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

/* One table as FOLDER/NAME.csv. */
static enum th_code write_table(const struct th_files *inputs, const char *folder,
                                const struct th_report *report, int index, struct th_error *err)
{
    char name[TH_TABLE_NAME_MAX], path[FILENAME_MAX];
    struct th_output output;
    th_report_table_name(report, index, name);
    if (snprintf(path, sizeof path, "%s/%s.csv", folder, name) >= (int)sizeof path)
        return th_fail(err, TH_ERR_WRITE, "%.60s: the name is too long", folder);
    enum th_code code = th_output_open(&output, inputs, path, err);
    if (code)
        return code;
    code = th_report_write_table(report, index, false, output.file, err);
    if (!code)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

/* All tables into the folder, which is made when it is missing. */
static enum th_code write_tables(const struct th_files *inputs, const char *folder,
                                 const struct th_report *report, struct th_error *err)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        th_fail(err, TH_ERR_WRITE, "the folder could not be made: %s", strerror(errno));
        th_error_place(err, folder, 0, 0);
        return TH_ERR_WRITE;
    }
    enum th_code code = TH_OK;
    for (int i = 0; i < th_report_tables(report) && !code; i++)
        code = write_table(inputs, folder, report, i, err);
    return code;
}

enum th_code th_deliver(const struct th_arguments *arguments, const struct th_report *report,
                        struct th_error *err)
{
    const enum th_rendering rendering = th_given_count(arguments, "json")  ? TH_AS_JSON
                                        : th_given_count(arguments, "csv") ? TH_AS_CSV
                                                                           : TH_AS_TEXT;
    struct th_output output;
    enum th_code code = th_output_open(&output, NULL, NULL, err);
    if (!code)
        code = th_report_write(report, rendering, output.file, err);
    if (!code)
        code = th_output_commit(&output, err);
    const char *page = th_given_text(arguments, "html");
    const char *folder = th_given_text(arguments, "csv-dir");
    if (!code && page)
        code = write_page(arguments->files, page, report, err);
    if (!code && folder)
        code = write_tables(arguments->files, folder, report, err);
    return code;
}

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

/* What the command wanted of the file that an error is about; false when that is not known. */
static bool use_of(const struct th_arguments *arguments, const char *path, enum th_file_use *use)
{
    static const struct {
        const char *option;
        enum th_file_use use;
    } options[] = {{"weather", TH_USE_WEATHER},
                   {"fills", TH_USE_FILLS},
                   {"normals", TH_USE_NORMALS},
                   {"farm", TH_USE_FARM}};
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        for (size_t n = 0; n < th_given_count(arguments, options[i].option); n++)
            if (strcmp(th_given_nth(arguments, options[i].option, n), path) == 0) {
                *use = options[i].use;
                return true;
            }
    *use = TH_USE_WEATHER; /* operands of turnheat weather, files named in [site] */
    return strcmp(arguments->command->name, "weather") == 0;
}

/* An error about a file that is known to be something else says so. */
static void name_other(const struct th_arguments *arguments, enum th_code code,
                       struct th_error *err)
{
    enum th_file_use use;
    char text[TH_WRONG_FILE_MAX], path[sizeof err->file];
    snprintf(path, sizeof path, "%s", err->file);
    if ((code != TH_ERR_READ && code != TH_ERR_INPUT) || !*path || !use_of(arguments, path, &use) ||
        !th_is_wrong_file(arguments->files, path, use, text))
        return;
    th_fail(err, code, "%s", text);
    th_error_place(err, path, 0, 0);
}

/* Warnings are of no use beside errors. */
static void print_issues(const struct th_arguments *arguments)
{
    const size_t n = arguments->issues ? arguments->n_operands + 1 : 0;
    int n_errors = 0;
    for (size_t i = 0; i < n; i++) {
        n_errors += arguments->issues[i].n_errors;
        th_issues_print_errors(&arguments->issues[i], stderr);
    }
    if (n_errors == 0)
        th_issues_print_warnings(arguments->issues, (int)n, stderr);
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
    name_other(&arguments, code, err);
    print_issues(&arguments);
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
        print_harmless(stderr, argv[1]);
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
        th_print_error(stderr, &err);
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
        th_print_error(stderr, &err);
        code = written;
    }
    return th_exit_status(code);
}
