/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn.h"
#include "check_report.h"
#include "commands.h"
#include "run.h"

#include <stdlib.h>

/* The texts of --set, as th_barn_read() takes them; to be freed. */
static const char **list_sets(const struct th_arguments *arguments, size_t n)
{
    const char **sets = calloc(n + 1, sizeof *sets);
    for (size_t i = 0; sets && i < n; i++)
        sets[i] = th_given_nth(arguments, "set", i);
    return sets;
}

static enum th_code read_barn(struct th_barn *barn, const struct th_arguments *arguments,
                              const char *path, struct th_issues *issues)
{
    const size_t n = th_given_count(arguments, "set");
    const char **const sets = list_sets(arguments, n);
    if (!sets) {
        *barn = (struct th_barn){0};
        return TH_ERR_MEMORY;
    }
    const enum th_code code =
        th_barn_read(path, th_given_text(arguments, "farm"), sets, (int)n, barn, issues);
    free(sets);
    return code;
}

static enum th_code report_barn(struct th_report *report, const struct th_barn *barn,
                                const struct th_issues *issues, bool farm_told,
                                struct th_error *err)
{
    for (int i = 0; i < issues->n_warnings && i < TH_ISSUES_MAX; i++)
        th_report_warning(report, "%s", issues->warnings[i].text);
    th_report_part(report, "rooms", barn->room.name);
    const enum th_code code = th_check_report(report, barn, farm_told, err);
    th_report_part_end(report);
    return code;
}

static enum th_code check_barn(struct th_report *report, const struct th_arguments *arguments,
                               const char *path, bool farm_told, struct th_error *err)
{
    struct th_issues issues = {0};
    struct th_barn *const barn = calloc(1, sizeof *barn);
    if (!barn)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = read_barn(barn, arguments, path, &issues);
    th_issues_print_errors(&issues, stderr);
    if (code == TH_OK)
        code = report_barn(report, barn, &issues, farm_told, err);
    else
        th_fail(err, code, "%s", code == TH_ERR_MEMORY ? "out of memory" : "");
    th_issues_finish(&issues);
    th_barn_finish(barn);
    free(barn);
    return code;
}

/* A file with errors does not keep the others from being checked. */
static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_report *report = th_report_new("check");
    enum th_code result = TH_OK;
    th_report_title(report, "What the barn files say");
    for (size_t i = 0; i < arguments->n_operands; i++) {
        const enum th_code code = check_barn(report, arguments, arguments->operands[i], i > 0, err);
        result = code == TH_OK ? result : code;
    }
    if (result == TH_OK)
        result = th_deliver(arguments, report, err);
    th_report_free(report);
    return result;
}

const struct th_command th_cmd_check = {
    .name = "check",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "read and cross-check barn files",
    .about = "Lists all errors of the files, each with its line and what was expected. Without "
             "errors, shows what the files come to: heat loss by surface, leakage, minimum air, "
             "pigs week by week, set points, heaters, and what is doubtful. Needs no weather.",
    .example = "turnheat check samples/curtain.barn --farm samples/thistle-hollow.farm",
    .takes = TH_TAKES_FARM | TH_TAKES_SET | TH_TAKES_REPORT,
    .run = run};
