/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The swing of a room in which several stages switch: the closed form of cycle.h knows one. The
 * room is linear between two switches, so each stretch is one exponential, solved exactly; the
 * stretches are followed until the state at some switch comes back. No steps in time.
 */
#ifndef TURNHEAT_SWING_H
#define TURNHEAT_SWING_H

#include "turnheat/heating.h"

/** One stage over a whole period. */
struct th_swing_stage {
    double lit;      /**< share of the time */
    double fire;     /**< mean fire over all the time, share of the input */
    double starts_h; /**< switches from unlit to lit, per hour */
};

struct th_swing {
    struct th_swing_stage stages[TH_STAGES_MAX]; /**< as many as the room's heating has */
    double any_lit; /**< share of the time with at least one stage lit */
    double waste_w; /**< thrown out by the ramp */
    double low_c, high_c;
    bool steady; /**< nothing switches any more */
};

/**
 * Follows the stages of `heating` (cycling and modulating ones) from the moment at which stage
 * `active` starts, the stages before it lit and those after it unlit. A switch is felt one dead
 * time after its threshold is crossed; a lit modulating stage follows the temperature without
 * delay. When no state comes back after many starts, the later half of them is averaged.
 * TH_ERR_NUMERIC when stages would switch more than 32 times within one dead time.
 */
enum th_code th_swing_solve(const struct th_heating *heating, const struct th_heating_in *in,
                            int active, struct th_swing *swing, struct th_error *err);

#endif
