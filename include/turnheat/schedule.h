/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The days of a turn: age, weight, head, heat, air and set points. The same in every season. */
#ifndef TURNHEAT_SCHEDULE_H
#define TURNHEAT_SCHEDULE_H

#include "turnheat/room.h"

struct th_day {
    double curve_day;  /**< age as a day on the default growth curve */
    double mass_kg;    /**< per pig */
    double head;       /**< pigs alive in the room */
    double heat20_w;   /**< total heat of all pigs at 20 °C and mean activity */
    double spill_kg_s; /**< spilled water evaporating in the room */
    double set_c;      /**< actual room set point by day, calibration and zone heat included */
    double setback_k;  /**< lower by this at night */
    double comfort_c;  /**< lower comfort limit */
    bool tender;       /**< until day 14 and to 25 lb, where cold counts at once */
    bool zone_on;
    double zone_target_c;
    double fan_m3_s;   /**< minimum fan flow, floor included */
    double stage_m3_s; /**< first stage at full, ≥ fan_m3_s */
};

/** Days 0 … n-1 of one turn. Owns its days. */
struct th_schedule {
    int n;
    double head_placed;
    double head_sold; /**< pigs that leave alive, split-out and topping included */
    double zone_units;
    double zone_rise_k; /**< rise at full output */
    struct th_day *days;
};

/**
 * Lays out `turn` of `room`, which must have passed th_room_check(). TH_ERR_MEMORY, or TH_ERR_RANGE
 * when the start weight lies outside the growth curve.
 */
enum th_code th_schedule_init(struct th_schedule *schedule, const struct th_room *room,
                              const struct th_turn_plan *turn, struct th_error *err);

/** Frees the days; NULL and a second call are allowed. */
void th_schedule_finish(struct th_schedule *schedule);

#endif
