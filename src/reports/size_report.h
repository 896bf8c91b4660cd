/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The sizing report: design load, heaters, gas, air, standby power and dry surfaces. */
#ifndef TURNHEAT_SIZE_REPORT_H
#define TURNHEAT_SIZE_REPORT_H

#include "case.h"
#include "report.h"
#include "turnheat/sizing.h"

/** Design temperatures of one place, from the weather files or given in [site]. */
struct th_design_case {
    const char *from;
    double out_99_c, out_996_c;
    bool has_99, has_996;
};

/**
 * Adds the report for one room at the design temperatures of `cases` (`n` of them, given ones
 * first). The first case's 99 % temperature decides the verdicts. Errors as th_sizing_run().
 */
enum th_code th_size_report(struct th_report *report, const struct th_case *one,
                            const struct th_design_case *cases, int n, struct th_error *err);

#endif
