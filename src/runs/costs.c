/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/costs.h"

/* Whether so many winters are asked for that what a rough run misses evens out. */
static bool many_winters(const struct th_climate *climate, int first_year, int last_year)
{
    int first, last;
    th_season_range(climate, &first, &last);
    first = first_year > first ? first_year : first;
    last = last_year < last ? last_year : last;
    return last - first >= TH_COST_WHOLE_WINTERS;
}

void th_cost_ask(struct th_runs *runs, const struct th_room *room, const struct th_climate *climate,
                 int first_year, int last_year, enum th_cost_kind kind, struct th_cost_asked *asked)
{
    struct th_room run = *room;
    if (many_winters(climate, first_year, last_year))
        th_room_roughly(&run);
    asked->now = th_runs_add(runs, &run, climate, first_year, last_year);
    asked->sign = th_cost_apply(&run, kind);
    asked->other = th_runs_add(runs, &run, climate, first_year, last_year);
}

enum th_code th_cost_read(const struct th_runs *runs, const struct th_cost_asked *asked,
                          double mean_j, double *cost_j, struct th_error *err)
{
    double now_j = 0.0, other_j = 0.0;
    enum th_code code = th_runs_gas(runs, asked->now, &now_j, err);
    if (code == TH_OK)
        code = th_runs_gas(runs, asked->other, &other_j, err);
    *cost_j = asked->sign * (now_j > 0.0 ? mean_j / now_j : 1.0) * (other_j - now_j);
    return code;
}
