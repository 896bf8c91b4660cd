/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "given_barn.h"
#include "check_report.h"
#include "commands.h"
#include "run.h"

#include <stdlib.h>

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
                               size_t index, struct th_error *err)
{
    struct th_issues *const issues = &arguments->issues[index];
    struct th_barn *const barn = calloc(1, sizeof *barn);
    if (!barn)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_barn_given(arguments, index, barn, err);
    if (code == TH_OK)
        code = report_barn(report, barn, issues, index > 0, err);
    th_issues_drop_warnings(issues, 0);
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
        const enum th_code code = check_barn(report, arguments, i, err);
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
