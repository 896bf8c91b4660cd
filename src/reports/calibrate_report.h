/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Fitting rooms to tank fills, and what is left to buy this season. */
#ifndef TURNHEAT_CALIBRATE_REPORT_H
#define TURNHEAT_CALIBRATE_REPORT_H

#include "turnheat/case.h"
#include "report.h"
#include "turnheat/calibrate.h"
#include "turnheat/tank.h"

/** What is fitted; pointers are borrowed. */
struct th_calibrate_in {
    const struct th_case *cases; /**< all rooms on the tanks, one climate */
    int n_cases;
    const struct th_use *uses;
    int n_uses;
    const struct th_tank_fill *fills;
    size_t n_fills;
    double capacity_gal;
    int n_params; /**< 0 = as many as the fills allow */
    enum th_fit_param params[TH_FIT_AT_ONCE];
    const char *source; /**< named in the section to paste */
};

/** Fits and adds the report. Errors as th_fit_run() and th_winters_run(). */
enum th_code th_calibrate_report(struct th_report *report, const struct th_calibrate_in *in,
                                 struct th_error *err);

#endif
