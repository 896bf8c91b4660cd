/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cases.h"
#include "commands.h"
#include "hours_trace.h"
#include "output.h"

static enum th_code write_trace(const struct th_arguments *arguments, struct th_cases *cases,
                                struct th_error *err)
{
    struct th_output output;
    enum th_code code =
        th_output_open(&output, arguments->files, th_given_text(arguments, "out"), err);
    if (code != TH_OK)
        return code;
    code = th_hours_write(output.file, &cases->runs, &cases->cases[0], err);
    if (code == TH_OK)
        return th_output_commit(&output, err);
    th_output_abandon(&output);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_weathers weathers = {0};
    struct th_cases cases;
    enum th_code code = th_cases_open(&cases, &weathers, arguments, err);
    if (code == TH_OK)
        code = write_trace(arguments, &cases, err);
    th_cases_finish(&cases);
    th_weathers_finish(&weathers);
    return code;
}

static const struct th_option options[] = {
    {"out", "FILE", "write to this file instead of standard output", false, 0, false}};

const struct th_command th_cmd_hours = {
    .name = "hours",
    .operands = "BARN",
    .operands_min = 1,
    .operands_max = 1,
    .summary = "the hourly trace of one room as CSV",
    .about =
        "Writes one line for every simulated hour of the counted seasons: weather, pigs, every "
        "flow of heat and air, heaters, gas, moisture and CO2 of one room (copies are not "
        "counted). The columns and their units are listed in docs/output.md.",
    .example = "turnheat hours samples/curtain.barn --out hours.csv",
    .takes = TH_TAKES_BARN,
    .options = options,
    .n_options = 1,
    .run = run};
