/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/trace.h"

/* The seasons asked for that the climate touches; all of them of a typical year. */
static void years_of(const struct th_case *one, int *first, int *last)
{
    th_season_range(one->climate, first, last);
    if (one->climate->typical)
        return;
    *first = one->first_year > *first ? one->first_year : *first;
    *last = one->last_year < *last ? one->last_year : *last;
}

/* Why none of the seasons is counted; nothing is simulated of those that are not. */
static enum th_code uncovered(struct th_runs *runs, const struct th_case *one, struct th_error *err)
{
    struct th_winters winters;
    const int all = th_runs_add(runs, one->room, one->climate, one->first_year, one->last_year);
    enum th_code code = th_runs_do(runs, "the winters", err);
    if (code == TH_OK)
        code = th_runs_winters(runs, all, &winters, err);
    if (code != TH_OK)
        return code;
    code = th_case_uncovered(one, &winters, err);
    th_winters_finish(&winters);
    return code;
}

enum th_code th_trace_run(struct th_runs *runs, const struct th_case *one,
                          const struct th_tracer *tracer, struct th_error *err)
{
    const struct th_watch_seasons watch = {.watch = tracer->watch};
    enum th_code code = TH_OK;
    bool any = false;
    int first, last;
    years_of(one, &first, &last);
    for (int year = first; year <= last && code == TH_OK; year++) {
        struct th_winters winters;
        if (!th_season_counted(one->room, one->climate, year))
            continue;
        any = true;
        tracer->season(tracer->watch.context, year);
        const int request = th_runs_add_watched(runs, one->room, one->climate, year, year, &watch);
        code = th_runs_do(runs, "the hours", err);
        if (code == TH_OK)
            code = th_runs_winters(runs, request, &winters, err);
        if (code == TH_OK)
            th_winters_finish(&winters);
    }
    return any ? code : uncovered(runs, one, err);
}
