/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spread_text.h"

#include <math.h>
#include <stdio.h>

const char *th_cases_of_ten(char text[TH_CASES_MAX], double share)
{
    const int tenths = (int)lround(10.0 * share);
    if (share <= 0.0)
        snprintf(text, TH_CASES_MAX, "no case");
    else if (share >= 1.0)
        snprintf(text, TH_CASES_MAX, "all cases");
    else if (tenths == 0 || tenths == 10)
        snprintf(text, TH_CASES_MAX, tenths ? "nearly all cases" : "hardly any case");
    else
        snprintf(text, TH_CASES_MAX, "%d of 10 cases", tenths);
    return text;
}

void th_report_spread(struct th_report *report, const char *key, const char *suffix,
                      const char *label, const char *unit, enum th_format format,
                      const struct th_spread *spread, bool generated)
{
    static const char *const percentiles[] = {"P10", "P50", "P90"};
    static const char *const made[] = {"generated low", "generated middle", "generated high"};
    const bool several = spread->n > 1, shares = spread->kind == TH_SPREAD_PERCENTILES;
    const char *const *const share = generated ? made : percentiles;
    const char *const middle = shares ? share[1] : several ? "middle" : "one season";
    const struct {
        const char *key, *heading; /* no heading: for machines only */
        bool holds;
        double value;
    } all[] = {{"lowest", several && !shares ? "lowest" : NULL, several, spread->lowest},
               {"p10", shares ? share[0] : NULL, shares, spread->p10},
               {"middle", middle, true, spread->middle},
               {"p90", shares ? share[2] : NULL, shares, spread->p90},
               {"highest", several && !shares ? "highest" : NULL, several, spread->highest}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        char full_key[64], full_label[96];
        snprintf(full_key, sizeof full_key, "%s_%s_%s", key, all[i].key, suffix);
        snprintf(full_label, sizeof full_label, "%s, %s", label ? label : "",
                 all[i].heading ? all[i].heading : "");
        th_report_fact(report, full_key, label && all[i].heading ? full_label : NULL, unit, format,
                       th_number_if(all[i].holds, all[i].value));
    }
}

void th_report_spread_note(struct th_report *report, const struct th_spread *spread, bool generated)
{
    if (generated && spread->kind == TH_SPREAD_PERCENTILES)
        th_report_paragraph(report, NULL, TH_GENERATED_TENTHS);
}
