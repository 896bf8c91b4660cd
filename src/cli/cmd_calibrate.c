/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "barn_digest.h"
#include "calibrate_report.h"
#include "cases.h"
#include "commands.h"
#include "fills_read.h"

#include <stdlib.h>

static double capacity_of(const struct th_barn *farm)
{
    double gal = 0.0;
    for (int i = 0; i < farm->n_tanks; i++)
        gal += farm->tanks[i].count * farm->tanks[i].capacity_gal;
    return gal;
}

/* Where every group is kept full: to what share of all of them. */
static double kept_full_of(const struct th_barn *farm)
{
    double full_gal = 0.0;
    for (int i = 0; i < farm->n_tanks; i++) {
        const struct th_tank *t = &farm->tanks[i];
        if (t->kept_full_share <= 0.0)
            return 0.0;
        full_gal += t->count * t->capacity_gal * t->kept_full_share;
    }
    return full_gal / capacity_of(farm);
}

/* The fit told. Sections to paste are for the files as they are. */
static enum th_code tell_fit(struct th_report *report, const struct th_cases *cases,
                             const struct th_fills_in *in, const struct th_fills_fit *found,
                             struct th_error *err)
{
    struct th_calibrate_file *files = calloc((size_t)cases->n, sizeof *files);
    if (!files)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < cases->n; b++) {
        files[b].path = cases->barns[b].path;
        th_barn_digest(&cases->barns[b].text, &cases->barns[b].room, true, files[b].digest);
    }
    const enum th_code code = th_calibrate_report(report, in, found, files, err);
    free(files);
    return code;
}

static enum th_code fit(struct th_report *report, const struct th_arguments *arguments,
                        const struct th_cases *cases, struct th_error *err)
{
    const struct th_barn *farm = &cases->barns[0];
    struct th_tank_fill fills[TH_FILLS_MAX];
    struct th_fills_fit found = {0};
    const char *path = th_given_text(arguments, "fills");
    struct th_fills_in in = {.runs = &cases->runs,
                             .cases = cases->cases,
                             .n_cases = cases->n,
                             .uses = farm->uses,
                             .n_uses = farm->n_uses,
                             .fills = fills,
                             .capacity_gal = capacity_of(farm)};
    if (!path)
        return th_fail(err, TH_ERR_USAGE, "calibrate needs --fills FILE");
    if (in.capacity_gal <= 0.0)
        return th_fail(err, TH_ERR_INPUT,
                       "no [tank] is given: the gauge needs the tanks' capacity; add to the barn "
                       "or farm file, such as: [tank yard], count = 2, capacity = 1,000 gal, "
                       "each on a line of its own");
    enum th_code code = th_fills_read(arguments->files, path, in.capacity_gal, kept_full_of(farm),
                                      fills, &in.n_fills, err);
    if (code == TH_OK)
        code = th_fills_fit(&in, &found, err);
    if (code == TH_OK)
        code = tell_fit(report, cases, &in, &found, err);
    th_fills_fit_finish(&found);
    if (code == TH_ERR_INPUT && err->file[0] == '\0')
        th_error_place(err, path, 0, 0);
    return code;
}

static enum th_code tell(struct th_report *report, const struct th_arguments *arguments,
                         struct th_cases *cases, struct th_error *err)
{
    th_report_title(report, "Barns fitted to their tank fills");
    const enum th_code code = fit(report, arguments, cases, err);
    th_about(report, cases->cases, cases->n);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    return th_cases_report(arguments, tell, err);
}

static const struct th_option options[] = {
    {"fills", "FILE",
     "CSV of fills: date, gallons, level_before_pct (what the gauge showed before; not needed "
     "where "
     "[tank] says kept_full)",
     false, 0, false}};

const struct th_command th_cmd_calibrate = {
    .name = "calibrate",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "fit the barns to tank fills, and what is left to buy",
    .about =
        "Weighs the gallons used from fill to fill, on the actual weather, against all that is "
        "not known of the barns: how warm pigs are, how much air is moved, how warm it is kept, "
        "what the shell loses. Prints a [calibration] section to paste into each barn file, which "
        "narrows what budget and plan say, and how much is still to burn to 30 June.",
    .example =
        "turnheat calibrate samples/curtain.barn samples/solid.barn samples/nursery.barn --farm "
        "samples/thistle-hollow.farm --fills samples/fills.csv",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .options = options,
    .n_options = 1,
    .run = run};
