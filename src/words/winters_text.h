/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Which winters a report rests on, which were left out and why, and which borrowed hours. */
#ifndef TURNHEAT_WINTERS_TEXT_H
#define TURNHEAT_WINTERS_TEXT_H

#include "report.h"
#include "turnheat/case.h"

/** With fewer the report warns (our judgement). */
#define TH_FEW_WINTERS 5

/** One item for each winter asked for that is left out, and for each that borrowed hours; none for
 * generated winters, which begin and end where the generator does. */
void th_report_winter_notes(struct th_report *report, const struct th_case *one);

#define TH_WINTER_NAMES_MAX 1024

/** The names of the counted winters asked for, in a row; returns how many. */
int th_winter_names(const struct th_case *one, char names[TH_WINTER_NAMES_MAX]);

/** Warns where `n` measured or generated winters are few. */
void th_report_few_winters(struct th_report *report, const struct th_case *one, int n);

/** A section that names the winters, with those notes, and a warning when they are few. */
void th_report_winters(struct th_report *report, const struct th_case *one);

#endif
