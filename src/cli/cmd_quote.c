/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "barn_offer.h"
#include "cases.h"
#include "commands.h"
#include "quote_report.h"
#include "output.h"
#include "quoted.h"
#include "records.h"
#include "turnheat/design.h"

#include <stdlib.h>

/* The barn, and where is told what is wrong with it and some options. */
struct offered {
    const struct th_barn *barn;
    struct th_issues *issues;
    bool as_offered;
    unsigned taken; /* bits of the options that the quotation holds, once it is made */
};

/* The barn with the options whose bits are set. What an option alone is warned of was said when the
 * file was read. */
static enum th_code build(void *context, unsigned options, struct th_room *room,
                          struct th_error *err)
{
    const struct offered *offered = context;
    const int n_warnings = offered->issues->n_warnings;
    (void)err; /* the issues say what is wrong */
    int indexes[TH_QUOTE_OPTIONS_MAX], n = 0;
    for (int i = 0; i < TH_QUOTE_OPTIONS_MAX; i++)
        if (options & 1u << i)
            indexes[n++] = i;
    const enum th_code code =
        th_barn_with_options(offered->barn, indexes, n, room, offered->issues);
    th_issues_drop_warnings(offered->issues, n_warnings);
    return code;
}

static enum th_code quote_room(struct th_report *report, const struct th_cases *cases,
                               const struct th_records *records, struct th_farms *farms,
                               struct offered *offered, bool builder, struct th_error *err)
{
    const struct th_case *const one = &cases->cases[0];
    const struct th_barn *const barn = offered->barn;
    struct th_design design;
    struct th_purchase options[TH_QUOTE_OPTIONS_MAX];
    struct th_quote_in in = {.runs = &cases->runs,
                             .base = one,
                             .options = options,
                             .n = barn->n_options,
                             .build = build,
                             .builder = builder,
                             .farms = farms,
                             .n_records = records->n,
                             .records = records->list,
                             .as_offered = offered->as_offered,
                             .context = offered};
    if (in.n > TH_QUOTE_OPTIONS_MAX)
        return th_fail(err, TH_ERR_INPUT, "%s: %d options; at most %d can be ranked", barn->path,
                       in.n, TH_QUOTE_OPTIONS_MAX);
    for (int i = 0; i < in.n; i++)
        options[i] = th_pick_purchase(&barn->options[i]);
    const struct th_quote_paper paper = {
        .quotation = &barn->quotation, .lines = barn->lines, .n_lines = barn->n_lines};
    struct th_quote *quote = malloc(sizeof *quote);
    if (!quote)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_design_of(one, &design, err);
    in.out_99_c = design.days[0].out_99_c;
    if (code == TH_OK)
        code = th_quote_run(&in, quote, err);
    if (code == TH_OK)
        offered->taken = quote->taken;
    if (code == TH_OK)
        code = th_quote_report(report, &in, quote, &paper, err);
    free(quote);
    return code;
}

/* Over the farms that the barn may be, its records weighed in. */
static enum th_code quote_farms(struct th_report *report, struct th_cases *cases,
                                struct offered *offered, bool builder, struct th_error *err)
{
    struct th_records records;
    struct th_farms farms = {0};
    enum th_code code = th_records_gather(cases, &records, err);
    if (code == TH_OK)
        code = quote_room(report, cases, &records, &farms, offered, builder, err);
    th_farms_finish(&farms);
    return code;
}

/* The barn as the customer may have it, in the file of --offer. */
static enum th_code write_offer(const struct th_arguments *arguments, const struct offered *offered,
                                struct th_error *err)
{
    struct th_output output;
    const char *const path = th_given_text(arguments, "offer");
    if (!path)
        return TH_OK;
    const enum th_code code = th_output_open(&output, arguments->files, path, err);
    if (code != TH_OK)
        return code;
    th_barn_offer(offered->barn, offered->taken, output.file);
    return th_output_commit(&output, err);
}

static enum th_code tell(struct th_report *report, const struct th_arguments *arguments,
                         struct th_cases *cases, struct th_error *err)
{
    const bool builder = th_given_count(arguments, "builder") > 0;
    struct offered offered = {.barn = &cases->barns[0],
                              .issues = &arguments->issues[0],
                              .as_offered = th_given_count(arguments, "as-offered") > 0};
    th_report_title(report, "Quotation: %s", cases->cases[0].room->name);
    enum th_code code = quote_farms(report, cases, &offered, builder, err);
    if (code == TH_OK)
        code = write_offer(arguments, &offered, err);
    if (builder)
        th_about(report, cases->cases, cases->n);
    return code;
}

enum th_code th_quoted_options(const struct th_arguments *arguments, struct th_cases *cases,
                               unsigned *options, struct th_error *err)
{
    struct offered offered = {.barn = &cases->barns[0], .issues = &arguments->issues[0]};
    struct th_report *const report = th_report_new("quote"); /* for nobody to read */
    const enum th_code code = quote_farms(report, cases, &offered, false, err);
    *options = offered.taken;
    th_report_free(report);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    return th_cases_report(arguments, tell, err);
}

static const struct th_option options[] = {
    {"builder", NULL, "the builder's own copy: warnings, ranking, options left out, balances",
     false, 0, false},
    {"as-offered", NULL,
     "take all options, whether they pay or not, but those that leave pigs colder or short of air "
     "or walls wet",
     false, 0, false},
    {"offer", "FILE.barn",
     "write the barn as the customer may have it, beside the barn file: with the options quoted, "
     "without choices, other options, tanks, contracts, costs and remarks",
     false, 0, false}};

const struct th_command th_cmd_quote = {
    .name = "quote",
    .operands = "BARN",
    .operands_min = 1,
    .operands_max = 1,
    .summary = "a builder's quotation with options ranked by what they return",
    .about =
        "Takes the [option] sections of the barn file one at a time, each time the one that "
        "saves most per dollar on top of those already in, stops where the next no longer "
        "pays, drops what no longer pays beside the others, and prints a quotation to sign: "
        "surfaces, equipment, services, fuel estimate, "
        "price, terms. An option that changes the heating is weighed as compare does, with the "
        "barn as warm as without it. [quotation] and [line] sections of the barn or farm file hold "
        "the "
        "builder's own words and prices. The customer's copy shows the offer only.",
    .example = "turnheat quote samples/solid.barn --html quote.html",
    .options = options,
    .n_options = sizeof options / sizeof *options,
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .run = run};
