/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "season_quiet.h"

#include <math.h>
#include <stdlib.h>

/* States as near as this count as the same. The floor forgets nine tenths in a day, and no gas
 * follows from it where no heat is wanted. */
#define SAME_K 1e-4

static struct th_pilots idle_pilots(const struct th_heating *heating)
{
    return heating->pilots_turn ? heating->pilots : (struct th_pilots){0};
}

void th_quiet_begin(struct th_quiet *quiet, const struct th_heating *heating)
{
    quiet->n = 0;
    quiet->idle = idle_pilots(heating);
}

void th_quiet_finish(struct th_quiet *quiet)
{
    if (!quiet)
        return;
    free(quiet->stretches);
    *quiet = (struct th_quiet){0};
}

enum th_code th_quiet_add(struct th_quiet *quiet, const struct th_stretch *stretch,
                          struct th_error *err)
{
    if (quiet->n == quiet->room_for) {
        const size_t more = quiet->room_for ? 2 * quiet->room_for : 16;
        struct th_stretch *const grown = realloc(quiet->stretches, more * sizeof *grown);
        if (!grown)
            return th_fail(err, TH_ERR_MEMORY, "out of memory");
        quiet->stretches = grown;
        quiet->room_for = more;
    }
    quiet->stretches[quiet->n++] = *stretch;
    return TH_OK;
}

const struct th_quiet *th_quiet_of(const struct th_quiet *quiet, const struct th_heating *heating)
{
    const struct th_pilots idle = idle_pilots(heating);
    const bool alike = quiet && quiet->idle.gas_w == idle.gas_w &&
                       quiet->idle.heat_w == idle.heat_w &&
                       quiet->idle.unvented_w == idle.unvented_w;
    return alike ? quiet : NULL;
}

const struct th_stretch *th_quiet_find(const struct th_quiet *quiet, size_t *next,
                                       const struct th_stretch *stretch,
                                       const struct th_heating *heating)
{
    while (quiet && *next < quiet->n && quiet->stretches[*next].first_hour < stretch->first_hour)
        ++*next;
    if (!quiet || *next == quiet->n)
        return NULL;
    const struct th_stretch *const found = &quiet->stretches[*next];
    const double on_k = heating->n > 0 ? heating->stages[0].on_k : INFINITY;
    const bool same = found->turn == stretch->turn && found->first_hour == stretch->first_hour &&
                      found->end_hour == stretch->end_hour &&
                      fabs(found->before.mass_c - stretch->before.mass_c) < SAME_K &&
                      fabs(found->before.room_c - stretch->before.room_c) < SAME_K;
    return same && found->over_set_k > 2.0 * SAME_K - on_k ? found : NULL;
}
