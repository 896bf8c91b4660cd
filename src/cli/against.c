/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "against.h"

#include "about.h"
#include "cases.h"
#include "cautions.h"
#include "run.h"
#include "side_by_side_report.h"

#include <stdlib.h>

static enum th_code compare_two(struct th_report *report, struct th_cases *cases,
                                struct th_error *err)
{
    struct th_side_by_side *both = malloc(sizeof *both);
    if (!both)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_side_by_side_run(both, &cases->runs, cases->cases, err);
    if (code == TH_OK)
        code = th_side_by_side_report(report, both, err);
    free(both);
    return code;
}

enum th_code th_against_run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_cases cases;
    if (arguments->n_operands != 2)
        return th_fail(err, TH_ERR_USAGE,
                       "--against compares one barn file with one other, as in: turnheat compare "
                       "one.barn --against other.barn");
    struct th_report *report = th_report_new("compare");
    th_report_title(report, "Two barns side by side");
    enum th_code code = th_cases_open(&cases, arguments, err);
    if (code == TH_OK) {
        for (int i = 0; i < 2; i++) {
            th_report_thin_weather(report, &cases.cases[i]);
            th_report_thin_design(report, &cases.cases[i]);
        }
        code = compare_two(report, &cases, err);
        th_report_cautions(report);
    }
    if (code == TH_OK)
        th_about(report, cases.cases, cases.n);
    if (code == TH_OK)
        code = th_deliver(arguments, report, err);
    th_report_free(report);
    th_cases_finish(&cases);
    return code;
}
