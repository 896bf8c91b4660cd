/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "cases.h"
#include "cautions.h"
#include "commands.h"
#include "compare_report.h"
#include "records.h"
#include "turnheat/design.h"
#include "deliver.h"
#include "side_by_side_report.h"

#include <stdio.h>
#include <stdlib.h>

/* The [choice] sections of one barn as choices; what is wrong with one goes to `issues`. What it is
 * warned of was said when the file was read. */
static enum th_code choices_of(const struct th_barn *barn, struct th_choice *choices, int *n,
                               struct th_issues *issues, struct th_error *err)
{
    const int n_warnings = issues->n_warnings;
    enum th_code code = TH_OK;
    *n = 0;
    if (barn->n_choices > TH_CHOICES_MAX)
        return th_fail(err, TH_ERR_INPUT, "%s: %d choices; at most %d can be compared", barn->path,
                       barn->n_choices, TH_CHOICES_MAX);
    for (int i = 0; i < barn->n_choices && code == TH_OK; i++) {
        struct th_choice *choice = &choices[(*n)++];
        choice->buy = th_pick_purchase(&barn->choices[i]);
        code = th_barn_variant(barn, TH_PICK_CHOICE, i, &choice->room, issues);
    }
    th_issues_drop_warnings(issues, n_warnings);
    return code;
}

/* The comparison as it is and, where the air decides, with the air held: both[0] and both[1]. */
static enum th_code compare_both(struct th_report *report, struct th_cases *cases,
                                 const struct th_farms *farms, const struct th_choice *choices,
                                 int n, struct th_comparison both[2], struct th_error *err)
{
    struct th_design design;
    bool decides = false;
    enum th_code code = th_design_of(farms->one, &design, err);
    if (code == TH_OK)
        code = th_comparison_run(both, &cases->runs, farms->one, choices, n,
                                 design.days[0].out_99_c, farms, err);
    if (code == TH_OK)
        decides = th_comparison_air_decides(both);
    if (code == TH_OK && decides)
        code = th_comparison_hold_air(both + 1, both, &cases->runs, err);
    return code == TH_OK ? th_comparison_report(report, both, decides ? both + 1 : NULL, err)
                         : code;
}

static enum th_code compare_room(struct th_report *report, struct th_cases *cases, int room,
                                 const struct th_records *records, struct th_issues *issues,
                                 struct th_error *err)
{
    struct th_farms farms = {0};
    int n;
    struct th_choice *choices = calloc(TH_CHOICES_MAX, sizeof *choices);
    struct th_comparison *both = calloc(2, sizeof *both);
    if (!choices || !both) {
        free(choices);
        free(both);
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    enum th_code code = choices_of(&cases->barns[room], choices, &n, issues, err);
    if (code == TH_OK)
        code = th_farms_init(&farms, &cases->runs, cases->cases, cases->n, room, records->n,
                             records->list, err);
    const struct th_runs_mark mark = th_runs_mark(&cases->runs); /* no other room asks for these */
    if (code == TH_OK)
        code = compare_both(report, cases, &farms, choices, n, both, err);
    th_runs_forget(&cases->runs, mark);
    th_farms_finish(&farms);
    free(choices);
    free(both);
    return code;
}

static enum th_code print_sheet(const struct th_arguments *arguments, struct th_error *err)
{
    if (arguments->n_operands > 0)
        return th_fail(err, TH_ERR_USAGE, "--sheet takes no barn file: \"%.60s\"",
                       arguments->operands[0]);
    struct th_report *report = th_report_new("compare");
    th_compare_sheet(report);
    const enum th_code code = th_deliver(arguments, report, err);
    th_report_free(report);
    return code;
}

/* --against: two barns side by side. */
static enum th_code tell_both(struct th_report *report, const struct th_arguments *arguments,
                              struct th_cases *cases, struct th_error *err)
{
    struct th_side_by_side *both = malloc(sizeof *both);
    (void)arguments;
    if (!both)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_report_title(report, "Two barns side by side");
    for (int i = 0; i < 2; i++) {
        th_report_thin_weather(report, &cases->cases[i]);
        th_report_thin_design(report, &cases->cases[i]);
    }
    enum th_code code = th_side_by_side_run(both, &cases->runs, cases->cases, err);
    if (code == TH_OK)
        code = th_side_by_side_report(report, both, err);
    th_report_cautions(report);
    th_about(report, cases->cases, cases->n);
    free(both);
    return code;
}

static enum th_code tell_choices(struct th_report *report, const struct th_arguments *arguments,
                                 struct th_cases *cases, struct th_error *err)
{
    struct th_records records;
    enum th_code code = th_records_gather(cases, &records, err);
    th_report_title(report, "Heaters compared");
    for (int i = 0; i < cases->n && code == TH_OK; i++) {
        th_report_part(report, "rooms", cases->cases[i].room->name);
        code = compare_room(report, cases, i, &records, &arguments->issues[i], err);
        th_report_part_end(report);
    }
    th_compare_rests(report, cases->cases, cases->n);
    th_about(report, cases->cases, cases->n);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    if (th_given_count(arguments, "sheet"))
        return print_sheet(arguments, err);
    if (arguments->n_operands == 0 && !th_given_count(arguments, "barns"))
        return th_operands_missing(arguments->command, err);
    if (th_given_count(arguments, "against") == 0)
        return th_cases_report(arguments, tell_choices, err);
    if (arguments->n_operands != 2)
        return th_fail(err, TH_ERR_USAGE,
                       "--against compares one barn file with one other, as in: turnheat compare "
                       "one.barn --against other.barn");
    return th_cases_report(arguments, tell_both, err);
}

static const struct th_option options[] = {
    {"against", "BARN", "set this barn beside the one barn file instead, and say who pays", false,
     0, true},
    {"sheet", NULL, "one page to take into the barn: how to measure the overshoot", false, 0,
     false}};

const struct th_command th_cmd_compare = {
    .name = "compare",
    .operands = "BARN...",
    .operands_min = 0,
    .operands_max = TH_ANY_NUMBER,
    .summary = "heater choices, what they save and whether they pay",
    .about =
        "Runs the [choice] sections of the barn file against the barn as it is, over the same "
        "winters: at the same settings, at the same mean temperature and at the same low of its "
        "swings, with the range of what "
        "is not known about the room; what better settings alone would save for nothing; "
        "payback; and what costs gallons. With --against it sets two barns side by side: gas, "
        "dollars, "
        "heat on the design day, heaters, condensation, and who pays for what one costs more.",
    .example = "turnheat compare samples/curtain.barn --farm samples/thistle-hollow.farm",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT | TH_TAKES_LINES,
    .options = options,
    .n_options = sizeof options / sizeof *options,
    .run = run};
