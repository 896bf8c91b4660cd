/* SPDX-License-Identifier: GPL-3.0-or-later */
/** `compare A --against B`: what is found of two barns, in words. */
#ifndef TURNHEAT_SIDE_BY_SIDE_REPORT_H
#define TURNHEAT_SIDE_BY_SIDE_REPORT_H

#include "report.h"
#include "turnheat/side_by_side.h"

/** Writes the report. Errors as th_report_books(). */
enum th_code th_side_by_side_report(struct th_report *report, const struct th_side_by_side *both,
                                    struct th_error *err);

/** A piece of it: what they come to over the study, where dollars may speak. */
void th_side_by_side_money(struct th_report *report, const struct th_side_by_side *both);

#endif
