/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What one unknown number of a barn at a time does to the gas, as a table of a report. */
#ifndef TURNHEAT_RISK_TEXT_H
#define TURNHEAT_RISK_TEXT_H

#include "report.h"
#include "turnheat/risk.h"

/**
 * Adds the table "one_by_one", what moves most first, the bands as they are for `room`; `base_j` is
 * the gas with every number as it is, above 0.
 */
void th_report_risk(struct th_report *report, const struct th_room *room, double base_j,
                    const struct th_risk_range ranges[TH_UNKNOWNS]);

#endif
