/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fitted_text.h"

#include "turnheat/unknowns.h"

#include <math.h>

void th_report_fitted(struct th_report *report, const struct th_room *room)
{
    const struct th_fitted *f = &room->fitted;
    int most = 0;
    if (!f->given)
        return;
    for (int u = 1; u < TH_FITTED_NUMBERS; u++)
        if (fabs(f->z[u]) > fabs(f->z[most]))
            most = u;
    th_report_paragraph(report, "calibration",
                        "Fills of %04d-%02d-%02d to %04d-%02d-%02d were fitted: %s is probably %s "
                        "than the file says. The answers of budget and plan weigh that in; tables "
                        "are of the barn as its file has it.",
                        f->first_fill[2], f->first_fill[0], f->first_fill[1], f->last_fill[2],
                        f->last_fill[0], f->last_fill[1], th_unknown_text((enum th_unknown)most),
                        f->z[most] < 0.0 ? "lower" : "higher");
}
