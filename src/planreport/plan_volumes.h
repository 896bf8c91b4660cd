/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How much to take of each contract, and costs as every table of a plan shows them. */
#ifndef TURNHEAT_PLAN_VOLUMES_H
#define TURNHEAT_PLAN_VOLUMES_H

#include "report.h"
#include "turnheat/plan.h"

/**
 * Cells of the row started last: mean, then cheapest, middle and dearest season (two to nine
 * seasons), then P50, P90 and worst twentieth (ten and more); what does not hold is missing.
 */
void th_plan_cost_cells(struct th_report *report, const struct th_volume_cost *cost);

/** Adds how much to take of every prepaid and booked contract. */
void th_plan_volumes(struct th_report *report, const struct th_plan *plan);

#endif
