/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fleet.h"

#include "line_reader.h"
#include "output.h"
#include "render.h"
#include "told.h"

#include <stdlib.h>
#include <string.h>

/* Stations that barns in any order are likely to come back to; 30 winters take some 30 MB. */
#define WEATHERS_KEPT 8
#define LIST_NAMES_MAX 512

struct fleet {
    const struct th_arguments *arguments;
    th_cases_tell tell;
    struct th_weathers weathers;
    long n, n_failed;
};

static enum th_code print_line(const struct th_report *report, struct th_error *err)
{
    struct th_output output;
    enum th_code code = th_output_open(&output, NULL, NULL, err);
    if (code == TH_OK)
        code = th_report_write(report, TH_AS_JSON_LINE, output.file, err);
    return code == TH_OK ? th_output_commit(&output, err) : code;
}

/* What is wrong, without the lines of the files themselves. */
static void add_errors(struct th_report *report, const struct th_arguments *one, enum th_code code,
                       const struct th_error *err)
{
    const int status = th_exit_status(code);
    int n = 0;
    char line[TH_ERROR_LINE_MAX];
    for (size_t i = 0; one->issues && i <= one->n_operands; i++)
        for (int e = 0; e < one->issues[i].n_errors && e < TH_ISSUES_MAX; e++, n++) {
            const char *const text = one->issues[i].errors[e].text;
            snprintf(line, sizeof line, "%.*s", (int)strcspn(text, "\n"), text);
            th_report_error(report, status, line);
        }
    if (n > 0 && !*err->text)
        return;
    struct th_error what = *err;
    if (!*what.text)
        th_fail(&what, code, "%s", th_code_text(code));
    th_error_line(line, &what);
    th_report_error(report, status, line);
}

static bool ends_the_run(enum th_code code)
{
    return code == TH_ERR_USAGE || code == TH_ERR_WRITE || code == TH_ERR_CANCELLED ||
           code == TH_ERR_MEMORY || code == TH_ERR_INTERNAL;
}

static enum th_code print_errors(const struct th_arguments *one, const char *file,
                                 enum th_code failed, struct th_error *what, struct th_error *err)
{
    struct th_report *report = th_report_new(one->command->name);
    th_name_other_file(one, what);
    th_report_file(report, file);
    add_errors(report, one, failed, what);
    const enum th_code code = print_line(report, err);
    th_report_free(report);
    return code;
}

static enum th_code report_one(struct fleet *fleet, const struct th_arguments *one,
                               const char *file, struct th_error *err)
{
    struct th_error what = {0};
    struct th_report *report = th_report_new(one->command->name);
    th_report_file(report, file);
    enum th_code code = th_cases_fill(report, &fleet->weathers, one, fleet->tell, &what);
    if (code == TH_OK) {
        code = print_line(report, err);
        th_print_issues(one);
    } else if (ends_the_run(code)) {
        *err = what;
    } else {
        fleet->n_failed++;
        code = print_errors(one, file, code, &what, err);
    }
    th_report_free(report);
    th_weathers_trim(&fleet->weathers, WEATHERS_KEPT);
    fleet->n++;
    return code;
}

/* The barns `names`, called `file` together. */
static enum th_code run_one(struct fleet *fleet, const char *const *names, size_t n,
                            const char *farm, const char *file, struct th_error *err)
{
    struct th_arguments one;
    enum th_code code = th_arguments_of(&one, fleet->arguments, names, n, farm, err);
    if (code == TH_OK)
        code = report_one(fleet, &one, file, err);
    th_arguments_finish(&one);
    return code;
}

/* Cuts a line at its blanks into names; one with blanks stands in double quotes. Returns how many
 * there are, LIST_NAMES_MAX at most. */
static size_t cut_names(char *line, const char *names[LIST_NAMES_MAX])
{
    size_t n = 0;
    for (char *at = line + strspn(line, " \t"); *at && n < LIST_NAMES_MAX;) {
        const bool quoted = *at == '"';
        at += quoted;
        names[n++] = at;
        at += strcspn(at, quoted ? "\"" : " \t");
        if (*at)
            *at++ = '\0';
        at += strspn(at, " \t");
    }
    return n;
}

/* A line that names no farm with its barns. */
static enum th_code refuse_line(struct fleet *fleet, const char *file, size_t n,
                                struct th_error *err)
{
    struct th_error what;
    if (n < 2)
        th_fail(&what, TH_ERR_INPUT,
                "\"%.60s\": expected a farm file and its barn files on one line", file);
    else
        th_fail(&what, TH_ERR_INPUT, "%.60s: more than %d barn files on one line", file,
                LIST_NAMES_MAX - 2);
    fleet->n++;
    fleet->n_failed++;
    return print_errors(fleet->arguments, file, TH_ERR_INPUT, &what, err);
}

static enum th_code run_line(struct fleet *fleet, char *line, struct th_error *err)
{
    const char *names[LIST_NAMES_MAX] = {line};
    if (!(fleet->arguments->command->takes & TH_LISTS_FARMS))
        return run_one(fleet, &(const char *){line}, 1, NULL, line, err);
    const size_t n = cut_names(line, names);
    if (n < 2 || n == LIST_NAMES_MAX)
        return refuse_line(fleet, names[0], n, err);
    return run_one(fleet, names + 1, n - 1, names[0], names[0], err);
}

static enum th_code run_list(struct fleet *fleet, const char *list, struct th_error *err)
{
    struct th_lines lines;
    char *line;
    size_t length;
    const char *const path = strcmp(list, "-") == 0 ? "/dev/stdin" : list;
    enum th_code code = th_lines_open(&lines, fleet->arguments->files, path, err);
    while (code == TH_OK && !(code = th_lines_next(&lines, &line, &length, err)) && line) {
        if (line[strspn(line, " \t")] == '\0')
            continue;
        code = run_line(fleet, line, err);
        if (code != TH_OK && !*err->file)
            th_error_place(err, list, lines.line, 0);
    }
    th_lines_close(&lines);
    return code;
}

static enum th_code check(const struct th_arguments *arguments, struct th_error *err)
{
    static const char *const others[] = {"json",  "csv",  "csv-dir", "html", "against",
                                         "sheet", "from", "gauge",   "taken"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (th_given_count(arguments, others[i]))
            return th_fail(err, TH_ERR_USAGE, "--json-lines and --%s exclude each other",
                           others[i]);
    if (!(arguments->command->takes & TH_LISTS_FARMS))
        return TH_OK;
    if (arguments->n_operands > 0 || th_given_count(arguments, "farm"))
        return th_fail(err, TH_ERR_USAGE,
                       "%s --json-lines takes its farm and barn files from --barns LIST, a farm "
                       "file and its barn files a line",
                       arguments->command->name);
    return TH_OK;
}

enum th_code th_fleet_report(const struct th_arguments *arguments, th_cases_tell tell,
                             struct th_error *err)
{
    struct fleet fleet = {.arguments = arguments, .tell = tell, .weathers = {.again = true}};
    const char *const list = th_given_text(arguments, "barns");
    enum th_code code = check(arguments, err);
    for (size_t i = 0; i < arguments->n_operands && code == TH_OK; i++)
        code = run_one(&fleet, &arguments->operands[i], 1, NULL, arguments->operands[i], err);
    if (code == TH_OK && list)
        code = run_list(&fleet, list, err);
    th_weathers_finish(&fleet.weathers);
    if (code == TH_OK && fleet.n == 0)
        return th_fail(err, TH_ERR_USAGE, "there is no barn file in the list");
    if (code == TH_OK && fleet.n_failed > 0)
        return th_fail(err, TH_ERR_INPUT, "%ld of %ld had errors, told in their lines",
                       fleet.n_failed, fleet.n);
    return code;
}
