/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "cases.h"
#include "commands.h"
#include "plan_report.h"
#include "records.h"
#include "run.h"

#define PATHS 2000

static enum th_code make_plan(struct th_report *report, const struct th_arguments *arguments,
                              struct th_cases *cases, struct th_error *err)
{
    const struct th_barn *farm = &cases->barns[0];
    struct th_plan plan;
    struct th_records records;
    long seed = 1;
    enum th_code code = th_given_whole(arguments, "seed", 0, TH_SEED_MOST, &seed, err);
    if (code == TH_OK)
        code = th_records_gather(cases, &records, err);
    if (code != TH_OK)
        return code;
    const struct th_plan_in in = {.cases = cases->cases,
                                  .n_cases = cases->n,
                                  .tanks = farm->tanks,
                                  .n_tanks = farm->n_tanks,
                                  .contracts = farm->contracts,
                                  .n_contracts = farm->n_contracts,
                                  .uses = farm->uses,
                                  .n_uses = farm->n_uses,
                                  .records = records.list,
                                  .n_records = records.n,
                                  .price = &farm->price,
                                  .seed = (unsigned long)seed,
                                  .n_paths = PATHS};
    code = th_plan_run(&cases->runs, &in, &plan, err);
    if (code == TH_OK)
        code = (th_given_count(arguments, "short") ? th_plan_sheet : th_plan_report)(report, &plan,
                                                                                     err);
    th_plan_finish(&plan);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_cases cases;
    struct th_report *report = th_report_new("plan");
    enum th_code code = th_cases_open(&cases, arguments, err);
    if (code == TH_OK)
        code = make_plan(report, arguments, &cases, err);
    if (code == TH_OK)
        th_about(report, cases.cases, cases.n);
    if (code == TH_OK)
        th_about(report, cases.cases, cases.n);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    th_cases_finish(&cases);
    return code;
}

static const struct th_option options[] = {
    {"seed", "N", "seed of the price paths, 1 without it", false, 0},
    {"short", NULL, "one sheet for a banker or supplier in place of the whole plan", false, 0}};

const struct th_command th_cmd_plan = {
    .name = "plan",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "how much fuel to book, at what price, and whether the tanks keep up",
    .about =
        "Adds up all barns and other users of the tanks over every fuel year the weather covers, "
        "runs the tanks day by day, and tells what each contract costs over winters and "
        "prices, how much to book, when to order, and whether vapour keeps up. Tanks, contracts "
        "and other users are those of the first barn file and of --farm.",
    .example = "turnheat plan samples/curtain.barn samples/solid.barn samples/nursery.barn --farm "
               "samples/thistle-hollow.farm",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .options = options,
    .n_options = sizeof options / sizeof *options,
    .run = run};
