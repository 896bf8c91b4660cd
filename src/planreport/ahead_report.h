/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The rest of a season from one day on. */
#ifndef TURNHEAT_AHEAD_REPORT_H
#define TURNHEAT_AHEAD_REPORT_H

#include "report.h"
#include "turnheat/ahead.h"

/** Fills the report from what th_ahead_run() found with `in`. TH_ERR_BALANCE when weeks, months or
 * cash do not add up. */
enum th_code th_ahead_report(struct th_report *report, const struct th_plan *plan,
                             const struct th_ahead_in *in, const struct th_ahead *ahead,
                             struct th_error *err);

#endif
