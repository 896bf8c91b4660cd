/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What fans that hold humidity and CO₂ under their ceilings ask of the heaters of a room. More air
 * is more heat, and burners that are not vented give off CO₂ of their own, which takes more air
 * again: heaters that hold the room as it is may be far too small for it. Advice to hold the air
 * that does not say so would chill pigs.
 */
#ifndef TURNHEAT_HELD_AIR_H
#define TURNHEAT_HELD_AIR_H

#include "turnheat/case.h"
#include "turnheat/costs.h"

/** Whether CO₂ or humidity lie above their ceilings for more than 5 % of the hours of `season` (our
 * judgement). */
bool th_air_is_bad(const struct th_tally *season);

/** One room. Where the air is good and holding it takes less than 1 % more gas, nothing but the gas
 * is worked out, and `sized` is false. */
struct th_held_air {
    double more_j; /**< gas of a mean season, as far as the heaters there can burn it */
    bool sized;
    double lowest_c;    /**< to which the room falls in the winters looked at */
    double unmet_h;     /**< heaters cannot keep up, worst winter */
    double unmet_now_h; /**< the same as the room is */
    double out_c;       /**< the 99 % design day; gas input asked on it with pigs in the room: */
    double now_w;       /**< as it is */
    double needed_w;    /**< with the air held */
    double vented_w;    /**< the same were its heaters vented; 0 where they are */
    double installed_w; /**< gas input of the heaters there */
};

/** Whether the heaters there hold the room on the design day with the air held, and are short in no
 * more hours of the worst winter than today but for 2. */
bool th_held_air_heated(const struct th_held_air *held);

/** Whether the burners' own CO₂ makes most of what the heaters would have to give more. */
bool th_held_air_burners(const struct th_held_air *held);

/** Reads what th_cost_ask() asked of `room`, that of `one` as it is run, for TH_COST_CEILINGS;
 * `mean_j` as th_cost_read(). Errors as th_runs_trial(), th_design_of() and th_sizing_run(). */
enum th_code th_held_air_read(const struct th_runs *runs, const struct th_cost_asked *asked,
                              const struct th_case *one, const struct th_room *room, double mean_j,
                              struct th_held_air *held, struct th_error *err);

#endif
