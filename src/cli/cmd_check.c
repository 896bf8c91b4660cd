/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "given_barn.h"
#include "check_report.h"
#include "commands.h"
#include "place_weather.h"
#include "risk_text.h"
#include "deliver.h"
#include "weather_read.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* The weather that the barn file itself names: its files, or one winter of its place. */
static enum th_code own_weather(const struct th_arguments *arguments, const struct th_barn *barn,
                                struct th_weather *weather, struct th_error *err)
{
    const struct th_weather_options options = {0};
    const char *paths[TH_WEATHER_MAX];
    struct th_issues told_by_others = {0};
    for (int i = 0; i < barn->n_weather; i++)
        paths[i] = barn->weather[i];
    if (barn->n_weather > 0)
        return th_weather_read(arguments->files, paths, barn->n_weather, &options, weather, err);
    const enum th_code code =
        th_place_weather_make(&barn->room.site, 1, TH_PLACE_SEED, weather, &told_by_others, err);
    th_issues_finish(&told_by_others);
    return code;
}

static enum th_code rank_on(struct th_report *report, const struct th_barn *barn,
                            const struct th_climate *climate, struct th_barn_effects *effects,
                            struct th_error *err)
{
    const struct th_room *const room = &barn->room;
    struct th_risk_range ranges[TH_UNKNOWNS];
    struct th_winters winters = {0};
    struct th_runs runs;
    double base_j = 0.0;
    th_runs_init(&runs, 1, NULL);
    const int all = th_runs_add(&runs, room, climate, INT_MIN, INT_MAX);
    enum th_code code = th_runs_do(&runs, "the winters", err);
    if (code == TH_OK)
        code = th_runs_winters(&runs, all, &winters, err);
    const struct th_season *const middle = th_winters_middle(&winters);
    if (code == TH_OK && middle)
        code = th_risk_one_by_one(&runs, room, climate, middle->year, ranges, err);
    else if (code == TH_OK)
        code = th_fail(err, TH_ERR_COVERAGE, "the weather covers no whole season");
    if (code == TH_OK && middle)
        base_j = th_tally_gas_j(&middle->total);
    if (middle && base_j > 0.0) {
        th_report_risk(report, room, base_j, ranges);
        code = th_barn_effects_find(barn, climate, middle->year, &runs, effects, err);
    }
    th_winters_finish(&winters);
    th_runs_finish(&runs);
    return code;
}

/* Where the barn file names weather, what its inputs do to the gallons; where that weather cannot
 * be used, why: other commands refuse it. */
static enum th_code rank_inputs(struct th_report *report, const struct th_arguments *arguments,
                                const struct th_barn *barn, struct th_barn_effects *effects,
                                struct th_error *err)
{
    const struct th_site *const site = &barn->room.site;
    struct th_weather weather;
    struct th_climate climate = {0};
    struct th_error why = {0};
    if (barn->n_weather == 0 && !site->has_latitude)
        return TH_OK;
    th_report_section(report, "importance", "What moves the gallons most");
    th_weather_init(&weather);
    enum th_code code = own_weather(arguments, barn, &weather, &why);
    if (code == TH_OK)
        code = th_climate_init(&climate, &weather, site->elevation_m,
                               site->has_utc_offset ? site->utc_offset_h : NAN, &why);
    if (code == TH_OK)
        code = rank_on(report, barn, &climate, effects, &why);
    if (code == TH_ERR_MEMORY)
        th_fail(err, code, "out of memory");
    else if (code != TH_OK)
        th_report_paragraph(report, "not_known", "Not known: %s%s%s", why.file,
                            *why.file ? ": " : "", why.text);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
    return code == TH_ERR_MEMORY ? code : TH_OK;
}

/* Of a file without errors. */
static void say_verdict(struct th_report *report, const char *path, int n_warnings)
{
    if (n_warnings == 0)
        th_report_top_line(report, "%s: no errors, nothing doubtful.", path);
    else
        th_report_top_line(report, "%s: no errors; %d warning%s to look at first.", path,
                           n_warnings, n_warnings == 1 ? "" : "s");
}

static enum th_code report_barn(struct th_report *report, const struct th_arguments *arguments,
                                const struct th_barn *barn, const struct th_issues *issues,
                                bool farm_told, struct th_error *err)
{
    struct th_barn_effects effects = {0};
    for (int i = 0; i < issues->n_warnings && i < TH_ISSUES_MAX; i++)
        th_report_warning(report, "%s", issues->warnings[i].text);
    say_verdict(report, barn->path, issues->n_warnings);
    th_report_part(report, "rooms", barn->room.name);
    enum th_code code = th_check_report(report, barn, farm_told, err);
    if (code == TH_OK)
        code = rank_inputs(report, arguments, barn, &effects, err);
    if (code == TH_OK)
        code = th_checked_inputs(report, barn, &effects, err);
    th_barn_effects_finish(&effects);
    th_report_part_end(report);
    return code;
}

static enum th_code check_barn(struct th_report *report, const struct th_arguments *arguments,
                               size_t index, struct th_error *err)
{
    struct th_issues *const issues = &arguments->issues[index];
    struct th_barn *const barn = calloc(1, sizeof *barn);
    if (!barn)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_barn_given(arguments, index, barn, err);
    if (code == TH_OK)
        code = report_barn(report, arguments, barn, issues, index > 0, err);
    th_issues_drop_warnings(issues, 0);
    th_barn_finish(barn);
    free(barn);
    return code;
}

/* A file with errors does not keep the others from being checked. */
static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_report *report = th_report_new("check");
    enum th_code result = TH_OK;
    th_report_title(report, "What the barn files say");
    for (size_t i = 0; i < arguments->n_operands; i++) {
        const enum th_code code = check_barn(report, arguments, i, err);
        result = code == TH_OK ? result : code;
    }
    if (result == TH_OK)
        result = th_deliver(arguments, report, err);
    th_report_free(report);
    return result;
}

const struct th_command th_cmd_check = {
    .name = "check",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "read and cross-check barn files",
    .about = "Lists all errors of the files, each with its line and what was expected. Without "
             "errors, shows what the files come to: heat loss by surface, leakage, minimum air, "
             "pigs week by week, set points, heaters, every input as given or as default, and what "
             "is doubtful. Needs no weather; where the file names some, it ranks what moves the "
             "gallons most.",
    .example = "turnheat check samples/curtain.barn --farm samples/thistle-hollow.farm",
    .takes = TH_TAKES_FARM | TH_TAKES_SET | TH_TAKES_REPORT,
    .run = run};
