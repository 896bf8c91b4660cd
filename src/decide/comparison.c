/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read off a comparison. */
#include "turnheat/compare.h"

const struct th_trial *th_judged(const struct th_choice_result *result)
{
    return result->same_mean.state == TH_SAME_MEAN_FOUND ? &result->same_mean.trial
                                                         : &result->trial;
}

double th_comparison_units(const struct th_comparison *c, const struct th_trial *trial)
{
    const struct th_room *room = c->base->room;
    return room->copies * th_trial_gas_j(trial) / room->fuel.hhv_j;
}

double th_comparison_choice_units(const struct th_comparison *c, int i,
                                  const struct th_trial *trial)
{
    const struct th_fuel *now = &c->base->room->fuel, *then = &c->choices[i].room.fuel;
    const double as_dear = now->has_price && then->has_price ? then->price / now->price : 1.0;
    return c->base->room->copies * th_trial_gas_j(trial) / then->hhv_j * as_dear;
}
