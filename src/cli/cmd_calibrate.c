/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "calibrate_report.h"
#include "cases.h"
#include "commands.h"
#include "fills_read.h"
#include "run.h"

#include <string.h>

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

/* --fit air,ua: which numbers. */
static enum th_code params_of(const struct th_arguments *arguments, struct th_fills_in *in,
                              struct th_error *err)
{
    static const char *const names[TH_FIT_PARAMS] = {"ua", "air", "set"};
    const char *text = th_given_text(arguments, "fit");
    while (text && *text) {
        const size_t n = strcspn(text, ",");
        int param = 0;
        while (param < TH_FIT_PARAMS &&
               (strlen(names[param]) != n || strncmp(names[param], text, n) != 0))
            param++;
        if (param == TH_FIT_PARAMS || in->n_params == TH_FIT_AT_ONCE)
            return th_fail(err, TH_ERR_USAGE,
                           "--fit takes one or two of ua, air, set, with a comma between");
        in->params[in->n_params++] = (enum th_fit_param)param;
        text += n + (text[n] == ',');
    }
    return TH_OK;
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
                       "no [tank] is given: the gauge needs the tanks' capacity");
    enum th_code code = params_of(arguments, &in, err);
    if (code == TH_OK)
        code = th_fills_read(arguments->files, path, in.capacity_gal, kept_full_of(farm), fills,
                             &in.n_fills, err);
    if (code == TH_OK)
        code = th_fills_fit(&in, &found, err);
    const char *slash = strrchr(path, '/');
    if (code == TH_OK)
        code = th_calibrate_report(report, &in, &found, slash ? slash + 1 : path, err);
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
     false, 0, false},
    {"fit", "WHICH",
     "one or two of ua (loss of the shell), air (minimum air), set (how warm it is kept); "
     "without it air, and ua from 8 fills on",
     false, 0, false}};

const struct th_command th_cmd_calibrate = {
    .name = "calibrate",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "fit the barns to tank fills, and what is left to buy",
    .about =
        "Compares the gallons used between fills with what the barns should have burned on the "
        "actual weather, and fits at most two numbers: how much heat the shell loses, how much "
        "air is moved, how warm it is kept. Prints a [calibration] section to paste, and how "
        "much is still to burn to 30 June.",
    .example =
        "turnheat calibrate samples/curtain.barn samples/solid.barn samples/nursery.barn --farm "
        "samples/thistle-hollow.farm --fills samples/fills.csv",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .options = options,
    .n_options = 2,
    .run = run};
