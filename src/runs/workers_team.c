/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For WebAssembly, which has no threads here: whoever runs the module says whether others do the
 * same and carries seasons between them and from one run to the next (src/page/wasi.js). */
#include "workers.h"

#define FROM_OUTSIDE(name) __attribute__((import_module("team"), import_name(name)))

FROM_OUTSIDE("members") int team_members(void);
FROM_OUTSIDE("self") int team_self(void);
FROM_OUTSIDE("exchange") void team_exchange(void *places, size_t n, size_t size);
FROM_OUTSIDE("keeps") int team_keeps(void);
FROM_OUTSIDE("recall")
int team_recall(const void *key, size_t key_size, void *season, size_t size);
FROM_OUTSIDE("keep")
void team_keep(const void *key, size_t key_size, const void *season, size_t size);

void th_workers_run(int n, void (*work)(void *context, int worker), void *context)
{
    (void)n;
    work(context, 0);
}

struct th_team th_workers_team(void)
{
    return (struct th_team){team_members(), team_self()};
}

void th_workers_exchange(void *places, size_t n, size_t size)
{
    team_exchange(places, n, size);
}

bool th_workers_keeps(void)
{
    return team_keeps();
}

bool th_workers_recall(const struct th_season_key *key, struct th_season *season)
{
    return team_recall(key, sizeof *key, season, sizeof *season);
}

void th_workers_keep(const struct th_season_key *key, const struct th_season *season)
{
    team_keep(key, sizeof *key, season, sizeof *season);
}
