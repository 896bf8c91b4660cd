/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "about.h"
#include "cautions.h"
#include "cases.h"
#include "commands.h"
#include "size_report.h"

#include <stdlib.h>

static enum th_code size_room(struct th_report *report, const struct th_runs *runs,
                              const struct th_case *one, struct th_error *err)
{
    struct th_size *size = malloc(sizeof *size);
    if (!size)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_size_run(runs, one, size, err);
    if (code == TH_OK)
        code = th_size_report(report, one->room, size, err);
    free(size);
    return code;
}

static enum th_code size_rooms(struct th_report *report, const struct th_cases *cases,
                               struct th_error *err)
{
    enum th_code code = TH_OK;
    th_report_title(report, "What the room needs on a design day");
    for (int i = 0; i < cases->n && code == TH_OK; i++) {
        th_report_part(report, "rooms", cases->cases[i].room->name);
        code = size_room(report, &cases->runs, &cases->cases[i], err);
        th_report_thin_weather(report, &cases->cases[i]);
        th_report_thin_design(report, &cases->cases[i]);
        th_report_part_end(report);
    }
    th_report_cautions(report);
    return code;
}

static enum th_code tell(struct th_report *report, const struct th_arguments *arguments,
                         struct th_cases *cases, struct th_error *err)
{
    (void)arguments;
    const enum th_code code = size_rooms(report, cases, err);
    th_about(report, cases->cases, cases->n);
    return code;
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    return th_cases_report(arguments, tell, err);
}

const struct th_command th_cmd_size = {
    .name = "size",
    .operands = "BARN...",
    .operands_min = 1,
    .operands_max = TH_ANY_NUMBER,
    .summary = "design load, heaters, gas, inlets and standby power",
    .about =
        "Works out what a room needs at its 99 and 99.6 % design temperatures, as given in the "
        "barn file and as the weather shows: heat by age of the pigs, heaters with one out, "
        "gas and tanks, air for burners, inlet openings, standby power, and which surfaces "
        "would drip. Give the published design temperatures of your place: one typical year or "
        "invented weather can miss them by 9 °F.",
    .example = "turnheat size samples/curtain.barn --set \"site.design_99=-1.7 F\"",
    .takes = TH_TAKES_BARN | TH_TAKES_REPORT,
    .run = run};
