/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spread_text.h"

#include <stdio.h>

const char *const *th_spread_headings(const struct th_spread *spread)
{
    static const char *const range[3] = {"lowest", "middle", "highest"};
    static const char *const shares[3] = {"P10", "P50", "P90"};
    return spread->kind == TH_SPREAD_RANGE ? range : shares;
}

void th_spread_values(const struct th_spread *spread, struct th_value values[3])
{
    const bool range = spread->kind == TH_SPREAD_RANGE;
    values[0] = th_number(range ? spread->lowest : spread->p10);
    values[1] = th_number(range ? spread->middle : spread->p50);
    values[2] = th_number(range ? spread->highest : spread->p90);
}

void th_report_spread(struct th_report *report, const char *key, const char *suffix,
                      const char *label, const char *unit, enum th_format format,
                      const struct th_spread *spread)
{
    const bool several = spread->n > 1, shares = spread->kind == TH_SPREAD_PERCENTILES;
    const char *const middle = shares ? "P50" : several ? "middle" : "one season";
    const struct {
        const char *key, *heading; /* no heading: for machines only */
        bool holds;
        double value;
    } all[] = {{"lowest", several && !shares ? "lowest" : NULL, several, spread->lowest},
               {"p10", shares ? "P10" : NULL, shares, spread->p10},
               {"middle", middle, true, spread->middle},
               {"p90", shares ? "P90" : NULL, shares, spread->p90},
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
