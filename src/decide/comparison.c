/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read off a comparison. */
#include "turnheat/compare.h"

const struct th_trial *th_judged(const struct th_choice_result *result)
{
    return result->judged_by == TH_AS_SET ? &result->trial
                                          : &result->as_warm[result->judged_by].trial;
}

double th_judged_shift_k(const struct th_choice_result *result)
{
    return result->judged_by == TH_AS_SET ? 0.0 : result->as_warm[result->judged_by].shift_k;
}

const struct th_trial *th_felt(const struct th_choice_result *result)
{
    const struct th_as_warm *const mean = &result->as_warm[TH_BY_MEAN];
    return mean->why_not ? &result->trial : &mean->trial;
}

bool th_comparison_air_decides(const struct th_comparison *c)
{
    const struct th_air *air = &c->rooms[0].air;
    bool decides = false;
    if (air->control_rh && air->control_co2)
        return false;
    for (int i = 1; i < TH_COMPARED_MAX; i++)
        decides |= !c->results[i].refused[0] && c->results[i].harm == TH_HARM_AIR;
    return decides;
}

double th_comparison_units(const struct th_comparison *c, const struct th_trial *trial)
{
    const struct th_room *room = c->base->room;
    return room->copies * th_trial_gas_j(trial) / room->fuel.hhv_j;
}

double th_comparison_choice_units(const struct th_comparison *c, int i,
                                  const struct th_trial *trial)
{
    const struct th_room *now = c->base->room;
    return now->copies *
           th_units_as_dear(&now->fuel, &c->choices[i].room.fuel, th_trial_gas_j(trial));
}
