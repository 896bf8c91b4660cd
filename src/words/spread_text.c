/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "spread_text.h"

#include <stdio.h>

const char *const *th_spread_headings(const struct th_spread *spread)
{
    static const char *const range[3] = {"lowest", "middle", "highest"};
    static const char *const shares[3] = {"P10", "P50", "P90"};
    return spread->kind == TH_SPREAD_RANGE ? range : shares;
}

const char *const *th_spread_keys(const struct th_spread *spread)
{
    static const char *const range[3] = {"lowest", "middle", "highest"};
    static const char *const shares[3] = {"p10", "p50", "p90"};
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
    struct th_value values[3];
    th_spread_values(spread, values);
    for (int i = spread->n == 1; i < (spread->n == 1 ? 2 : 3); i++) {
        char full_key[64], full_label[96];
        snprintf(full_key, sizeof full_key, "%s_%s_%s", key, th_spread_keys(spread)[i], suffix);
        snprintf(full_label, sizeof full_label, "%s, %s", label,
                 spread->n == 1 ? "one season" : th_spread_headings(spread)[i]);
        th_report_fact(report, full_key, full_label, unit, format, values[i]);
    }
}
