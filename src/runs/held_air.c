/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/held_air.h"

#include "turnheat/design.h"
#include "turnheat/sizing.h"

#include <math.h>

/* Of a season's hours; our judgement. */
#define BAD_AIR_SHARE 0.05
/* Of a mean season's gas: less asks nothing of the heaters worth naming. */
#define LITTLE 0.01

bool th_air_is_bad(const struct th_tally *season)
{
    const double *sum = season->sum;
    return fmax(sum[TH_OVER_CO2_DESIGN], sum[TH_OVER_RH]) > BAD_AIR_SHARE * sum[TH_HOURS];
}

bool th_held_air_heated(const struct th_held_air *held)
{
    return held->needed_w <= held->installed_w &&
           held->unmet_h <= held->unmet_now_h + TH_HARM_UNMET_H;
}

bool th_held_air_burners(const struct th_held_air *held)
{
    return held->vented_w > 0.0 &&
           held->needed_w - held->vented_w > 0.5 * (held->needed_w - held->now_w);
}

/* False where all are vented. Of the gas no more stays in the room than with vented heaters that
 * say nothing of it. */
static bool vent(struct th_room *room)
{
    const struct th_heater plain = {.vented = true};
    const double share = th_heating_share(&plain, &room->fuel);
    bool any = false;
    for (int i = 0; i < room->n_heaters; i++) {
        struct th_heater *h = &room->heaters[i];
        if (h->vented)
            continue;
        h->vented = any = true;
        h->share = fmin(h->share, share);
    }
    return any;
}

/* What the design day asks of the heaters: as the room is, with the air held, and that vented. */
static enum th_code size(const struct th_room *room, double out_c, struct th_held_air *held,
                         struct th_error *err)
{
    struct th_room other = *room;
    struct th_sizing now = {0}, needed = {0}, vented = {0};
    enum th_code code = th_sizing_run(room, out_c, &now, err);
    th_cost_apply(&other, TH_COST_CEILINGS);
    if (code == TH_OK)
        code = th_sizing_run(&other, out_c, &needed, err);
    if (code == TH_OK && vent(&other))
        code = th_sizing_run(&other, out_c, &vented, err);
    held->out_c = out_c;
    held->installed_w = th_sizing_installed_w(room, NULL);
    held->now_w = now.needed_w;
    held->needed_w = needed.needed_w;
    held->vented_w = vented.needed_w;
    return code;
}

static double worst_unmet_h(const struct th_trial *trial)
{
    return th_hardship_worst(trial->hardship, trial->n).unmet_h;
}

enum th_code th_held_air_read(const struct th_runs *runs, const struct th_cost_asked *asked,
                              const struct th_case *one, const struct th_room *room, double mean_j,
                              struct th_held_air *held, struct th_error *err)
{
    struct th_design design;
    struct th_trial now = {0}, other = {0};
    *held = (struct th_held_air){0};
    enum th_code code = th_cost_read(runs, asked, mean_j, &held->more_j, err);
    if (code == TH_OK)
        code = th_runs_trial(runs, asked->now, &now, err);
    if (code == TH_OK)
        code = th_runs_trial(runs, asked->other, &other, err);
    held->sized = code == TH_OK && (th_air_is_bad(&now.mean) || held->more_j > LITTLE * mean_j);
    if (!held->sized)
        return code;
    held->lowest_c = other.mean.lowest_c;
    held->unmet_h = worst_unmet_h(&other);
    held->unmet_now_h = worst_unmet_h(&now);
    code = th_design_of(one, &design, err);
    return code == TH_OK ? size(room, design.days[0].out_99_c, held, err) : code;
}
