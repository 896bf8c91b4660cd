/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "told.h"

#include "utf8.h"
#include "wrong_file.h"

#include <string.h>

const struct th_exit th_exits[] = {
    {0, "a result, with or without warnings"},
    {1, "a number was asked for that cannot be trusted"},
    {2, "the command line is wrong"},
    {3, "an input file is wrong; all its errors are listed"},
    {4, "the output could not be written"},
    {5, "out of memory, or an error inside the program"},
};
const size_t th_n_exits = sizeof th_exits / sizeof th_exits[0];

int th_exit_status(enum th_code code)
{
    switch (code) {
    case TH_OK:
        return 0;
    case TH_ERR_COVERAGE:
    case TH_ERR_MODEL:
    case TH_ERR_BALANCE:
    case TH_ERR_NUMERIC:
    case TH_ERR_CANCELLED:
        return 1;
    case TH_ERR_USAGE:
        return 2;
    case TH_ERR_INPUT:
    case TH_ERR_RANGE:
    case TH_ERR_READ:
        return 3;
    case TH_ERR_WRITE:
        return 4;
    default:
        return 5;
    }
}

#define HARMLESS_MAX (3 * sizeof((struct th_error *)0)->text)

static const char *harmless(char made[HARMLESS_MAX], const char *text)
{
    char shown[HARMLESS_MAX / 3];
    snprintf(shown, sizeof shown, "%s", text);
    th_make_harmless(made, shown);
    return made;
}

void th_print_harmless(FILE *out, const char *text)
{
    char made[HARMLESS_MAX];
    fputs(harmless(made, text), out);
}

void th_error_line(char line[TH_ERROR_LINE_MAX], const struct th_error *err)
{
    char file[HARMLESS_MAX], text[HARMLESS_MAX], place[64] = "";
    if (err->line > 0 && err->column > 0)
        snprintf(place, sizeof place, ":%ld:%d", err->line, err->column);
    else if (err->line > 0)
        snprintf(place, sizeof place, ":%ld", err->line);
    snprintf(line, TH_ERROR_LINE_MAX, "%s%s: %s",
             harmless(file, *err->file ? err->file : "turnheat"), place, harmless(text, err->text));
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

void th_name_other_file(const struct th_arguments *arguments, struct th_error *err)
{
    enum th_file_use use;
    char text[TH_WRONG_FILE_MAX], path[sizeof err->file];
    const enum th_code code = err->code;
    snprintf(path, sizeof path, "%s", err->file);
    if ((code != TH_ERR_READ && code != TH_ERR_INPUT) || !*path || !use_of(arguments, path, &use) ||
        !th_is_wrong_file(arguments->files, path, use, text))
        return;
    th_fail(err, code, "%s", text);
    th_error_place(err, path, 0, 0);
}

/* Warnings are of no use beside errors. */
void th_print_issues(const struct th_arguments *arguments)
{
    const size_t n = arguments->issues ? arguments->n_operands + 1 : 0;
    int n_errors = 0;
    for (size_t i = 0; i < n; i++)
        n_errors += arguments->issues[i].n_errors;
    th_issues_print_errors(arguments->issues, (int)n, stderr);
    if (n_errors == 0)
        th_issues_print_warnings(arguments->issues, (int)n, stderr);
}
