/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"
#include "keys_report.h"
#include "run.h"

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_report *const report = th_report_new("keys");
    enum th_code code =
        th_keys_report(report, arguments->n_operands ? arguments->operands[0] : NULL, err);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    return code;
}

const struct th_command th_cmd_keys = {
    .name = "keys",
    .operands = "[SECTION]",
    .operands_min = 0,
    .operands_max = 1,
    .summary = "what can be written into a barn or farm file",
    .about = "Lists the keys of all sections, or of one: units, range, what is usual, the value "
             "without it and where that comes from, and its meaning. This is the table the program "
             "itself reads by.",
    .example = "turnheat keys air",
    .takes = TH_TAKES_REPORT,
    .run = run};
