/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_sure.h"

#include "risk_text.h"

void th_plan_barns_open(struct th_report *report, const struct th_plan *plan)
{
    if (plan->unknowns.base_j <= 0.0)
        return;
    th_report_section(report, "barn_spread", "What the barns themselves leave open");
    th_report_risk(report, plan->in->cases[0].room, plan->unknowns.base_j, plan->unknowns.ranges);
}
