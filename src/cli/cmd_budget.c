/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "budget_report.h"
#include "cases.h"
#include "commands.h"
#include "records.h"

#include <stdlib.h>

/* The answer of all rooms together, where there is one: none of rooms that burn other fuels, that
 * burn nothing, or that have no winter in common. */
static enum th_code answer_of(struct th_cases *cases, const struct th_records *records,
                              struct th_outlook *outlook, struct th_answer *answer, bool *said,
                              struct th_error *err)
{
    *said = false;
    for (int i = 1; i < cases->n; i++)
        if (cases->cases[i].room->fuel.gas != cases->cases[0].room->fuel.gas)
            return TH_OK;
    enum th_code code = th_outlook_init(outlook, &cases->runs, cases->cases, cases->n, err);
    if (code == TH_OK)
        code = th_answer_make(answer, outlook, records->n, records->list, err);
    *said = code == TH_OK;
    return code == TH_ERR_MODEL || code == TH_ERR_COVERAGE ? TH_OK : code;
}

static enum th_code budget_rooms(struct th_report *report, struct th_cases *cases,
                                 const struct th_records *records, struct th_error *err)
{
    struct th_outlook outlook = {0};
    struct th_answer answer;
    struct th_likely likely = {0};
    bool said;
    struct th_budget *budgets = calloc((size_t)cases->n, sizeof *budgets);
    if (!budgets)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = answer_of(cases, records, &outlook, &answer, &said, err);
    if (code == TH_OK)
        code = th_likely_init(&likely, said ? &answer : NULL, cases->cases, cases->n, err);
    for (int i = 0; i < cases->n && code == TH_OK; i++)
        code = th_budget_run(&budgets[i], &cases->runs, &likely.cases[i],
                             said && th_answer_learnt(&answer) ? &cases->cases[i] : NULL, err);
    if (code == TH_OK)
        code = th_budget_report(report, budgets, cases->n, said ? &answer : NULL, err);
    for (int i = 0; i < cases->n; i++)
        th_budget_finish(&budgets[i]);
    free(budgets);
    th_likely_finish(&likely);
    th_outlook_finish(&outlook);
    return code;
}

static enum th_code tell(struct th_report *report, const struct th_arguments *arguments,
                         struct th_cases *cases, struct th_error *err)
{
    struct th_records records;
    (void)arguments;
    enum th_code code = th_records_gather(cases, &records, err);
    if (code == TH_OK)
        code = budget_rooms(report, cases, &records, err);
    th_about(report, cases->cases, cases->n);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    return th_cases_report(arguments, tell, err);
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
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT | TH_TAKES_LINES,
    .run = run};
