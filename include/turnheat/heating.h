/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A room's heaters as a list of stages, and what they do in one hour. Lead-lag units, the fires of
 * a two-stage heater and groups with other offsets are all stages: the earlier ones burn steadily
 * and one of them follows its own control law.
 */
#ifndef TURNHEAT_HEATING_H
#define TURNHEAT_HEATING_H

#include "turnheat/room.h"

#define TH_STAGES_MAX 16

enum th_law { TH_LAW_IDEAL, TH_LAW_CYCLE, TH_LAW_MODULATE };

/** One stage. Powers while lit, all units of the stage together. */
struct th_stage {
    enum th_law law;
    double on_k, off_k; /**< below the set point */
    double units;       /**< burners that start with this stage */
    double input_w;     /**< gas */
    double share;       /**< of gas that becomes room heat */
    double blower_w;
    double pilot_w;     /**< gas of its pilots, inside the input while lit */
    double pilot_share; /**< of pilot gas that becomes room heat */
    double added_w;     /**< heat at full fire beyond what its pilots give anyway */
    double low;         /**< modulating: lowest fire, share of the input */
    double band_k;      /**< modulating: from full fire to the OFF point */
    bool vented;
};

/** All pilots lit and all burners off, W. */
struct th_pilots {
    double gas_w, heat_w;
    double unvented_w; /**< part of the gas that burns into the room */
};

struct th_heating {
    int n;
    struct th_stage stages[TH_STAGES_MAX]; /**< by on_k, smallest first */
    double input_w, added_w;               /**< all stages */
    double last_off_k;                     /**< of the stage that stops in the warmest room */
    double capacity_j_k;                   /**< short-cycle capacity of the room */
    double dead_time_s;
    struct th_pilots pilots;
    bool pilots_turn; /**< pilots lit through the turn, else only while heat is wanted */
};

/** Useful share of a heater's gas: its own, or by fuel and venting (model: D2). */
double th_heating_share(const struct th_heater *heater, const struct th_fuel *fuel);

/**
 * Builds the stages of `room`. `dead_time_s` is left from the response section, without a measured
 * overshoot. TH_ERR_MODEL when there are more than TH_STAGES_MAX stages.
 */
enum th_code th_heating_init(struct th_heating *heating, const struct th_room *room,
                             struct th_error *err);

/** Fills in what follows from the stages: their added_w, the sums, the pilots and last_off_k. */
void th_heating_sum_up(struct th_heating *heating);

/** Dead time that makes the room rise `overshoot_k` after stopping at `off_c` (inverse of the
 * cycle). TH_ERR_RANGE when the heaters, settling at `hot_c`, could not rise so far. */
enum th_code th_heating_dead_time(double overshoot_k, double hot_c, double off_c, double ua_w_k,
                                  double capacity_j_k, double *dead_time_s, struct th_error *err);

/** The room as its heaters see it within one hour: linear between ON and OFF of the first stage. */
struct th_heating_in {
    double set_c;
    double free_c; /**< settles here with pilots lit and burners off */
    double ua_w_k;
    double ramp_c, ramp_band_k, ramp_w_k; /**< see cycle.h */
};

/** Mean behaviour over the hour, in W unless named otherwise. */
struct th_heating_out {
    double gas_w;  /**< burners lit */
    double heat_w; /**< of it, into the room, without blowers */
    double blower_w;
    double pilot_gas_w; /**< burners off */
    double pilot_heat_w;
    double unvented_w; /**< part of gas_w and pilot_gas_w that burns into the room */
    double added_w;    /**< heat beyond that of lit pilots: what moves the room from free_c */
    double waste_w;    /**< thrown out by the ramp */
    double heater_hours, room_hours, starts;
    double mean_c, low_c, high_c;
    bool all_on; /**< full fire does not reach the OFF point */
    bool interact, beyond_stage;
};

#endif
