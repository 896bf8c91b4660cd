/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/winters.h"

#include <math.h>
#include <stdlib.h>

void th_winters_finish(struct th_winters *winters)
{
    if (!winters)
        return;
    free(winters->seasons);
    *winters = (struct th_winters){0};
}

const struct th_season *th_winters_season(const struct th_winters *winters, int year)
{
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].year == year)
            return &winters->seasons[i];
    return NULL;
}

void th_winters_total(const struct th_winters *winters, struct th_tally *total)
{
    th_tally_clear(total);
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].counted)
            th_tally_add(total, &winters->seasons[i].total, 1.0);
}

const struct th_season *th_winters_middle(const struct th_winters *winters)
{
    const double mean_j = th_winters_mean_gas_j(winters);
    const struct th_season *best = NULL;
    double best_gap_j = INFINITY;
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *season = &winters->seasons[i];
        const double gap_j = fabs(th_tally_gas_j(&season->total) - mean_j);
        if (season->counted && gap_j < best_gap_j) {
            best = season;
            best_gap_j = gap_j;
        }
    }
    return best;
}

const struct th_season *th_winters_worst(const struct th_winters *winters)
{
    const struct th_season *worst = NULL;
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *s = &winters->seasons[i];
        if (s->counted && (!worst || th_tally_gas_j(&s->total) > th_tally_gas_j(&worst->total)))
            worst = s;
    }
    return worst;
}

double th_winters_mean_gas_j(const struct th_winters *winters)
{
    struct th_tally total;
    th_winters_total(winters, &total);
    return winters->n_counted > 0 ? th_tally_gas_j(&total) / winters->n_counted : 0.0;
}
