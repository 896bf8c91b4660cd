/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/winters.h"

#include <stdlib.h>

enum th_code th_winters_run(struct th_winters *winters, const struct th_room *room,
                            const struct th_climate *climate, int first_year, int last_year,
                            const struct th_watch *watch, struct th_error *err)
{
    int first, last, begins, ends;
    *winters = (struct th_winters){0};
    th_season_range(climate, &begins, &ends);
    first = begins;
    last = ends;
    if (!climate->typical) {
        first = first_year > first ? first_year : first;
        last = last_year < last ? last_year : last;
    }
    if (last < first)
        return th_fail(
            err, TH_ERR_COVERAGE,
            "the weather touches no season from %d to %d; it holds those that start in %d to "
            "%d",
            first_year, last_year, begins, ends);
    struct th_engine engine;
    enum th_code code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    winters->seasons = calloc((size_t)(last - first + 1), sizeof *winters->seasons);
    if (!winters->seasons)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int year = first; year <= last && code == TH_OK; year++) {
        struct th_season *season = &winters->seasons[winters->n++];
        code = th_season_run(&engine, climate, year, watch, season, err);
        winters->n_counted += season->counted;
    }
    th_engine_finish(&engine);
    if (code != TH_OK)
        th_winters_finish(winters);
    return code;
}

void th_winters_finish(struct th_winters *winters)
{
    if (!winters)
        return;
    free(winters->seasons);
    *winters = (struct th_winters){0};
}

void th_winters_total(const struct th_winters *winters, struct th_tally *total)
{
    th_tally_clear(total);
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].counted)
            th_tally_add(total, &winters->seasons[i].total, 1.0);
}

double th_winters_mean_gas_j(const struct th_winters *winters)
{
    struct th_tally total;
    th_winters_total(winters, &total);
    return winters->n_counted > 0 ? th_tally_gas_j(&total) / winters->n_counted : 0.0;
}
