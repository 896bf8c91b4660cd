/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Rooms fitted to their tank fills, and what is left to burn this season. */
#ifndef TURNHEAT_CALIBRATE_REPORT_H
#define TURNHEAT_CALIBRATE_REPORT_H

#include "report.h"
#include "turnheat/fills_fit.h"

/** A barn file a section is printed for. */
struct th_calibrate_file {
    const char *path;
    char digest[TH_NAME_MAX]; /**< of what the fit rests on */
};

/** Adds the report; `files` are those of the cases. TH_ERR_BALANCE when the books of the
 * rooms do not close. */
enum th_code th_calibrate_report(struct th_report *report, const struct th_fills_in *in,
                                 const struct th_fills_fit *found,
                                 const struct th_calibrate_file *files, struct th_error *err);

#endif
