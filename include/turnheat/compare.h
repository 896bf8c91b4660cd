/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Heater choices for one room over the same winters: at the same settings, at the same mean
 * temperature, over the range of what is not known about the room's response, and the choice that
 * costs nothing: other settings of the heaters already there.
 */
#ifndef TURNHEAT_COMPARE_H
#define TURNHEAT_COMPARE_H

#include "turnheat/runs.h"

/**
 * Runs `room` over its counted seasons. TH_ERR_COVERAGE when there is none, TH_ERR_MODEL beyond
 * TH_TRIAL_SEASONS_MAX; otherwise as th_winters_run().
 */
enum th_code th_trial_run(struct th_trial *trial, const struct th_room *room,
                          const struct th_climate *climate, int first_year, int last_year,
                          struct th_error *err);

/** Raises ON and OFF of all heaters by `shift_k` (negative lowers them). */
void th_room_shift_offsets(struct th_room *room, double shift_k);

enum th_same_mean_state {
    TH_SAME_MEAN_FOUND,
    TH_SAME_MEAN_CANNOT /**< OFF would pass the start of the fan ramp, or no shift suffices */
};

/** Another choice held at the base's mean temperature. */
struct th_same_mean {
    enum th_same_mean_state state;
    double shift_k; /**< added to ON and OFF */
    struct th_trial trial;
};

/** What is not known about the room's response, and one factor at a time. */
enum th_response_case {
    TH_AS_GIVEN,
    TH_OVERSHOOT_HALF,  /**< dead time over capacity × 0.5 */
    TH_OVERSHOOT_TWICE, /**< × 2 */
    TH_STAGE_LOW,       /**< first fan stage × 0.7 */
    TH_STAGE_HIGH,      /**< × 1.4 */
    TH_RESPONSE_CASES
};

/** Applies one case to a copy of a room. */
void th_response_apply(struct th_room *room, enum th_response_case response);

/** One choice against the base. */
struct th_choice_result {
    struct th_trial trial; /**< same settings */
    struct th_same_mean same_mean;
    /** Base less choice, mean season, J: at the same mean temperature where that can be had, else
     * at the same settings. */
    double saved_j[TH_RESPONSE_CASES];
};

/** The trial a choice is judged by: at the same mean temperature where that was found. */
const struct th_trial *th_judged(const struct th_choice_result *result);

/**
 * Compares `rooms[1] … rooms[n-1]` with `rooms[0]`, the barn as it is, whose trial stands in
 * results[0] already; the other results go to the same places. The range of responses and the shift
 * to the same mean are found on th_trial_block() of the base. Rooms must differ in heaters, zone
 * heat or settings only. Errors as th_trial_run().
 */
enum th_code th_compare_run(const struct th_room *rooms, int n, const struct th_climate *climate,
                            int first_year, int last_year, struct th_choice_result *results,
                            struct th_error *err);

/** Settings alone: what the present heaters could do for nothing. */
struct th_free_choice {
    bool found;    /**< false: the present settings are the best of those tried */
    double off_k;  /**< OFF offset */
    double on_k;   /**< ON offset, the differential kept */
    bool lead_lag; /**< units one after the other */
    int units;     /**< lit, of the first heater group */
    struct th_room room;
};

/**
 * Looks for settings of the present on/off heaters (OFF offset 0 to 4 °F, lead-lag, fewer units
 * lit) that burn least in the season of `year` without more hours below the comfort limit than
 * today and without missing the 99 % day with one unit out. `design_out_c` is that day's
 * temperature. Errors as th_trial_run().
 */
enum th_code th_free_choice_find(const struct th_room *room, const struct th_climate *climate,
                                 int year, double design_out_c, struct th_free_choice *choice,
                                 struct th_error *err);

/** What costs gallons: one change at a time to the barn as it is. */
enum th_cost_kind {
    TH_COST_FAN_FLOOR, /**< fans that cannot turn down, against fans that could */
    TH_COST_AIR,       /**< 10 % more minimum air */
    TH_COST_SET_POINT, /**< 1 °F of set point */
    TH_COST_OFF,       /**< 1 °F of OFF offset, ON with it */
    TH_COST_LEAKAGE,   /**< leakage doubled */
    TH_COST_PILOTS,    /**< standing pilots, against none */
    TH_COST_COUNT
};

/** Plain text of a cost. */
const char *th_cost_text(enum th_cost_kind kind);

/**
 * Gas of a mean season, J, that each costs (fan floor and pilots) or would cost (the others), run
 * on the winters of `block`. Errors as th_trial_run().
 */
enum th_code th_costs_run(const struct th_room *room, const struct th_climate *climate,
                          const struct th_block *block, double cost_j[TH_COST_COUNT],
                          struct th_error *err);

#endif
