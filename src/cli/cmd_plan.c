/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "ahead_report.h"
#include "cases.h"
#include "commands.h"
#include "gauge_text.h"
#include "month_day.h"
#include "plan_report.h"
#include "records.h"

#include <stdlib.h>

#define PATHS 2000

static enum th_code need_gauges(const struct th_plan_in *plan, const struct th_ahead_in *in,
                                struct th_error *err)
{
    for (int i = 0; i < plan->n_tanks; i++)
        if (!in->gauges[i].read)
            return th_fail(err, TH_ERR_USAGE,
                           "--from needs what the gauges show: --gauge \"%s=62 %%\"",
                           plan->tanks[i].name);
    return TH_OK;
}

static enum th_code ahead_given(const struct th_arguments *arguments, const struct th_plan_in *plan,
                                struct th_ahead_in *in, bool *given, struct th_error *err)
{
    const char *from = th_given_text(arguments, "from");
    enum th_code code = TH_OK;
    *in = (struct th_ahead_in){0};
    *given = from != NULL;
    if (!from && (th_given_count(arguments, "gauge") || th_given_count(arguments, "taken")))
        return th_fail(err, TH_ERR_USAGE, "--gauge and --taken need --from DATE");
    if (!from)
        return TH_OK;
    if (th_given_count(arguments, "short"))
        return th_fail(err, TH_ERR_USAGE,
                       "--short is a sheet of the whole season; expected it "
                       "without --from");
    if (!th_date_read(from, &in->day))
        return th_fail(err, TH_ERR_USAGE,
                       "--from \"%.60s\": expected a date with its year, such as 2026-01-15", from);
    for (size_t i = 0; i < th_given_count(arguments, "gauge") && code == TH_OK; i++)
        code = th_gauge_read(th_given_nth(arguments, "gauge", i), plan, in, err);
    for (size_t i = 0; i < th_given_count(arguments, "taken") && code == TH_OK; i++)
        code = th_taken_read(th_given_nth(arguments, "taken", i), plan, in, err);
    return code == TH_OK ? need_gauges(plan, in, err) : code;
}

/* The rest of a season. */
static enum th_code look_ahead(struct th_report *report, struct th_runs *runs,
                               const struct th_plan_in *in, const struct th_ahead_in *from,
                               struct th_error *err)
{
    struct th_plan plan;
    struct th_ahead *ahead = calloc(1, sizeof *ahead);
    if (!ahead)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_plan_winters(runs, in, &plan, err);
    if (code == TH_OK)
        code = th_ahead_run(&plan, from, ahead, err);
    if (code == TH_OK)
        code = th_ahead_report(report, &plan, from, ahead, err);
    th_plan_finish(&plan);
    free(ahead);
    return code;
}

static enum th_code plan_season(struct th_report *report, const struct th_arguments *arguments,
                                struct th_runs *runs, const struct th_plan_in *in,
                                struct th_error *err)
{
    struct th_plan plan;
    enum th_code code = th_plan_run(runs, in, &plan, err);
    if (code == TH_OK)
        code = (th_given_count(arguments, "short") ? th_plan_sheet : th_plan_report)(report, &plan,
                                                                                     err);
    th_plan_finish(&plan);
    return code;
}

static enum th_code make_plan(struct th_report *report, const struct th_arguments *arguments,
                              struct th_cases *cases, struct th_error *err)
{
    const struct th_barn *farm = &cases->barns[0];
    struct th_ahead_in from;
    struct th_records records;
    bool ahead;
    long long seed = 1;
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
    code = ahead_given(arguments, &in, &from, &ahead, err);
    if (code != TH_OK)
        return code;
    return ahead ? look_ahead(report, &cases->runs, &in, &from, err)
                 : plan_season(report, arguments, &cases->runs, &in, err);
}

static enum th_code tell(struct th_report *report, const struct th_arguments *arguments,
                         struct th_cases *cases, struct th_error *err)
{
    const enum th_code code = make_plan(report, arguments, cases, err);
    th_about(report, cases->cases, cases->n);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    return th_cases_report(arguments, tell, err);
}

static const struct th_option options[] = {
    {"from", "DATE",
     "the rest of the season from this date (with its year) on, in place of a whole one; needs "
     "--gauge",
     false, 0, false},
    {"gauge", "TANK=PERCENT",
     "what the gauge of a [tank] shows that day, as \"barns=62 %\"; of an earlier day \"barns=62 % "
     "on 2026-01-12\"",
     true, 0, false},
    {"taken", "CONTRACT=GALLONS",
     "a [contract] in force and what was taken of it so far, as \"prepaid=4,000 gal\"", true, 0,
     false},
    {"seed", "N", "seed of the price paths, 1 without it", false, 0, false},
    {"short", NULL, "one sheet for a banker or supplier in place of the whole plan", false, 0,
     false}};

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
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT | TH_TAKES_LINES | TH_LISTS_FARMS,
    .options = options,
    .n_options = sizeof options / sizeof *options,
    .run = run};
