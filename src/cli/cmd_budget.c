/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "budget.h"
#include "cases.h"
#include "commands.h"
#include "records.h"
#include "run.h"

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_cases cases;
    struct th_records records;
    struct th_report *report = th_report_new("budget");
    enum th_code code = th_cases_open(&cases, arguments, err);
    if (code == TH_OK)
        code = th_records_gather(&cases, &records, err);
    if (code == TH_OK)
        code = th_budget_report(report, cases.cases, cases.n, records.list, records.n, err);
    if (code == TH_OK)
        th_about(report, cases.cases, cases.n);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    th_cases_finish(&cases);
    return code;
}

const struct th_command th_cmd_budget = {
    .name = "budget",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "gallons and dollars by turn, month and season",
    .about =
        "Runs every season the weather covers and tells what the room's heaters burn: by "
        "season, turn and month, with the spread over winters and what the barn itself leaves "
        "open; where the heat goes; and what the turn is like for the pigs. Several barn files "
        "are each reported and summed. Dollars need a fuel price in the barn or farm file.",
    .example = "turnheat budget samples/curtain.barn",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .run = run};
