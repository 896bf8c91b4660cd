/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every input as it was understood: what is given, then what holds by default. */
#include "check_report.h"

#include <stdio.h>
#include <string.h>

struct listing {
    struct th_report *report;
    bool given; /* list these; otherwise the defaults */
};

static void list_input(void *context, const struct th_barn_input *input)
{
    const struct listing *const l = context;
    const bool otherwise = input->written && strcmp(input->written, input->value) != 0;
    char where[32];
    if (input->given != l->given)
        return;
    th_report_row(l->report);
    th_report_cell(l->report, "input", "Input", "", TH_PLAIN, th_text(input->name));
    th_report_cell(l->report, "value", "Value", "", TH_PLAIN, th_text(input->value));
    if (!l->given) {
        th_report_cell(l->report, "source", "Source", "", TH_PLAIN, th_text(input->source));
        return;
    }
    th_report_cell(l->report, "written", "As written", "", TH_PLAIN,
                   th_text(otherwise ? input->written : NULL));
    snprintf(where, sizeof where, "line %ld", input->place.line);
    th_report_cell(l->report, "where", "Where", "", TH_PLAIN,
                   th_text(input->place.line > 0 ? where : input->place.file));
}

enum th_code th_checked_inputs(struct th_report *report, const struct th_barn *barn,
                               struct th_error *err)
{
    struct listing given = {report, true}, defaults = {report, false};
    th_report_section(report, "inputs", "Every input");
    th_report_table(report, "given", "As given");
    enum th_code code = th_barn_inputs(barn, list_input, &given, err);
    th_report_table(report, "defaults", "As default");
    if (code == TH_OK)
        code = th_barn_inputs(barn, list_input, &defaults, err);
    return code;
}
