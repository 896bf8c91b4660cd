/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Variants of a room: what ranges, choices and searches are computed with. Each changes a copy and
 * is then run like any other room. What is not known of a room is in unknowns.h.
 */
#ifndef TURNHEAT_VARIANT_H
#define TURNHEAT_VARIANT_H

#include "turnheat/room.h"

/** Raises ON and OFF of all heaters by `shift_k` (negative lowers them). */
void th_room_shift_offsets(struct th_room *room, double shift_k);

/** How far ON and OFF may rise: OFF may not pass the start of the fan ramp. */
double th_room_highest_shift_k(const struct th_room *room);

/** Multiplies the leakage. */
void th_room_leak(struct th_room *room, double factor);

/**
 * Has only every fifth hour of the room solved, which stands for the five: over the days all hours
 * of the day come up. To be set beside other rooms run the same way, for a fifth of the time: over
 * many winters what a change does is then met to some 0.1 % of the gas, in a tight room that burns
 * little to 0.4 %.
 */
void th_room_roughly(struct th_room *room);

/** Places every turn `days` later. */
void th_room_place_later(struct th_room *room, int days);

/**
 * Makes `variant` answer its heaters as `barn` does. A measured overshoot belongs to the heaters
 * and settings of its day, so the dead time found from it there is kept. Nothing where none is
 * measured or `variant` has one of its own. Errors as th_engine_init() of `barn`.
 */
enum th_code th_response_keep(struct th_room *variant, const struct th_room *barn,
                              struct th_error *err);

/** What is not known about the room's response, and one factor at a time. */
enum th_response_case {
    TH_AS_GIVEN,
    TH_OVERSHOOT_HALF, /**< dead time over capacity × 0.5; × 0.75 where the overshoot is measured */
    TH_OVERSHOOT_TWICE, /**< × 2; × 1.25 */
    TH_STAGE_LOW,       /**< first fan stage × 0.7 */
    TH_STAGE_HIGH,      /**< × 1.4 */
    TH_RESPONSE_CASES
};

/** What dead time over capacity is multiplied by in one case. */
double th_response_factor(const struct th_room *room, enum th_response_case response);

/** Applies one case. */
void th_response_apply(struct th_room *room, enum th_response_case response);

/** What costs gallons: one change at a time to the barn as it is. */
enum th_cost_kind {
    TH_COST_FAN_FLOOR, /**< fans that cannot turn down, against fans that could */
    TH_COST_AIR,       /**< 10 % more minimum air */
    TH_COST_SET_POINT, /**< 1 °F of set point */
    TH_COST_OFF,       /**< 1 °F of OFF offset, ON with it */
    TH_COST_LEAKAGE,   /**< leakage doubled */
    TH_COST_PILOTS,    /**< standing pilots, against none */
    TH_COST_CEILINGS,  /**< fans that hold the humidity and CO₂ ceilings as well */
    TH_COST_HALLWAY,   /**< air above the minimum through a heated hallway, against from outside */
    TH_COST_COUNT
};

/** Plain text of a cost. */
const char *th_cost_text(enum th_cost_kind kind);

/** Adds one cost to the room and returns 1, or takes one away and returns -1: the sign with which a
 * change of gas is what it costs. */
double th_cost_apply(struct th_room *room, enum th_cost_kind kind);

#endif
