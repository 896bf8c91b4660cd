/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One room at a time, alone. */
#include "turnheat/runs.h"

enum th_code th_winters_run(struct th_winters *winters, const struct th_room *room,
                            const struct th_climate *climate, int first_year, int last_year,
                            const struct th_watch *watch, struct th_error *err)
{
    struct th_runs runs;
    *winters = (struct th_winters){0};
    th_runs_init(&runs, 1, NULL);
    const struct th_watch_seasons seasons = {.watch = watch ? *watch : (struct th_watch){0}};
    const int all = watch
                        ? th_runs_add_watched(&runs, room, climate, first_year, last_year, &seasons)
                        : th_runs_add(&runs, room, climate, first_year, last_year);
    enum th_code code = th_runs_do(&runs, "", err);
    if (code == TH_OK)
        code = th_runs_winters(&runs, all, winters, err);
    th_runs_finish(&runs);
    return code;
}
