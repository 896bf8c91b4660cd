/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "risk_text.h"

void th_report_risk(struct th_report *report, const struct th_room *room, double base_j,
                    const struct th_risk_range ranges[TH_UNKNOWNS])
{
    th_report_table(report, "one_by_one", "Change of the season's gas, one number at a time");
    for (int i = 0; i < TH_UNKNOWNS; i++) {
        th_report_row(report);
        th_report_cell(report, "number", "If this is off", "", TH_PLAIN,
                       th_text(th_unknown_text((enum th_unknown)i)));
        th_report_cell(report, "range", "Range", "", TH_PLAIN,
                       th_text(th_unknown_band(room, (enum th_unknown)i)));
        th_report_cell(report, "low_end_pct", "Low end", "%", TH_WHOLE,
                       th_number(100.0 * (ranges[i].low_j / base_j - 1.0)));
        th_report_cell(report, "high_end_pct", "High end", "%", TH_WHOLE,
                       th_number(100.0 * (ranges[i].high_j / base_j - 1.0)));
    }
}
