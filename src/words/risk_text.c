/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "risk_text.h"

#include <math.h>

/* How far a number moves the gas at most. */
static double reach_j(const struct th_risk_range *range, double base_j)
{
    return fmax(fabs(range->low_j - base_j), fabs(range->high_j - base_j));
}

/* The numbers, the one that moves most first. */
static void rank(const struct th_risk_range ranges[TH_UNKNOWNS], double base_j,
                 enum th_unknown order[TH_UNKNOWNS])
{
    for (int i = 0; i < TH_UNKNOWNS; i++) {
        int at = i;
        for (; at > 0 && reach_j(&ranges[order[at - 1]], base_j) < reach_j(&ranges[i], base_j);
             at--)
            order[at] = order[at - 1];
        order[at] = (enum th_unknown)i;
    }
}

void th_report_risk(struct th_report *report, const struct th_room *room, double base_j,
                    const struct th_risk_range ranges[TH_UNKNOWNS])
{
    enum th_unknown order[TH_UNKNOWNS];
    rank(ranges, base_j, order);
    th_report_table(report, "one_by_one", "Change of the season's gas, one number at a time");
    for (int i = 0; i < TH_UNKNOWNS; i++) {
        const enum th_unknown which = order[i];
        th_report_row(report);
        th_report_cell(report, "number", "If this is off", "", TH_PLAIN,
                       th_text(th_unknown_text(which)));
        th_report_cell(report, "low_end_pct", "Low end", "%", TH_WHOLE,
                       th_number(100.0 * (ranges[which].low_j / base_j - 1.0)));
        th_report_cell(report, "high_end_pct", "High end", "%", TH_WHOLE,
                       th_number(100.0 * (ranges[which].high_j / base_j - 1.0)));
        th_report_cell(report, "given", "Given", "", TH_PLAIN,
                       th_bool(th_unknown_is_given(room, which)));
        th_report_cell(report, "range", "Range", "", TH_PLAIN,
                       th_text(th_unknown_band(room, which)));
    }
}
