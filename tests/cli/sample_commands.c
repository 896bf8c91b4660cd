/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two invented commands in place of the product's, to test the command-line frame itself. */
#include "commands.h"
#include "deliver.h"
#include "report.h"
#include "run.h"
#include <string.h>

static const struct th_option show_options[] = {
    {"seasons", "N", "how many seasons to show", false, 0, false},
    {"place", "NAME", "a name to show, from .first to \\last", false, 0, false},
};

static enum th_code show(const struct th_arguments *arguments, struct th_error *err)
{
    double seasons = 30;
    int first = 0, last = 0;
    enum th_code code = th_given_number(arguments, "seasons", 1, 200, &seasons, err);
    if (!code)
        code = th_given_years(arguments, &first, &last, err);
    if (code)
        return code;
    struct th_report *r = th_report_new("show");
    th_report_title(r, "What was given");
    th_report_fact(r, "seasons_n", "Seasons", "", TH_WHOLE, th_number(seasons));
    th_report_fact(r, "first", "First year", "", TH_PLAIN, th_number_if(first, first));
    th_report_fact(r, "last", "Last year", "", TH_PLAIN, th_number_if(last, last));
    th_report_fact(r, "place", "Place", "", TH_PLAIN, th_text(th_given_text(arguments, "place")));
    for (size_t i = 0; i < th_given_count(arguments, "weather"); i++)
        th_report_item(r, "weather %s", th_given_nth(arguments, "weather", i));
    for (size_t i = 0; i < arguments->n_operands; i++)
        th_report_item(r, "barn %s", arguments->operands[i]);
    code = th_deliver(arguments, r, err);
    th_report_free(r);
    return code;
}

static enum th_code fail_as_told(const struct th_arguments *arguments, struct th_error *err)
{
    enum th_code code = TH_OK;
    while (code < TH_CODE_COUNT && strcmp(th_code_text(code), arguments->operands[0]) != 0)
        code++;
    th_fail(err, code, "failed as told");
    th_error_place(err, "a.barn", 3, 14);
    return code;
}

static const struct th_command th_cmd_show = {
    .name = "show",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "what was given",
    .about =
        "Prints what it was given. .A name may begin with a dot.  'Tis shown. And back\\slashes.",
    .example = "turnheat show a.barn --seasons 3",
    .takes = TH_TAKES_WEATHER | TH_TAKES_YEARS | TH_TAKES_REPORT,
    .options = show_options,
    .n_options = sizeof show_options / sizeof show_options[0],
    .run = show,
};

static const struct th_command th_cmd_fail = {
    .name = "fail",
    .operands = "REASON",
    .operands_min = 1,
    .operands_max = 1,
    .summary = "an error of one's choice",
    .about = "Fails for the reason given.",
    .example = "turnheat fail 'out of memory'",
    .run = fail_as_told,
};

const struct th_command *const th_commands[] = {&th_cmd_show, &th_cmd_fail, NULL};
