/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The exact on/off cycle of a heater in a room that answers as a first-order system with dead time,
 * and whose first fan stage throws heat out above a ramp start. Closed form, derived in
 * docs/heater-control.md; no stepping in time and no iteration.
 */
#ifndef TURNHEAT_CYCLE_H
#define TURNHEAT_CYCLE_H

#include "turnheat/error.h"
#include <stdbool.h>

/** Temperatures in °C; flows of heat in W; conductances in W/K. */
struct th_cycle_in {
    double on_c;         /**< the heater starts when the probe falls to this */
    double off_c;        /**< and stops when it rises to this, > on_c */
    double free_c;       /**< where the room would settle without this heater */
    double ua_w_k;       /**< slope of the room's heat balance, > 0 */
    double heat_w;       /**< heat the heater adds while lit, > 0 */
    double capacity_j_k; /**< what warms and cools within one cycle, > 0 */
    double dead_time_s;  /**< heater, mixing and probe, ≥ 0 */
    double ramp_c;       /**< first fan stage starts here, ≥ off_c */
    double ramp_band_k;  /**< and is at full this much higher, > 0 */
    double ramp_w_k;     /**< heat it throws out per K above ramp_c, ≥ 0 */
};

struct th_cycle {
    double lit;        /**< share of time with the burner lit, 0…1 */
    double waste_w;    /**< mean heat thrown out by the ramp */
    double starts_h;   /**< per hour */
    double mean_c;     /**< mean room temperature, exact */
    double low_c;      /**< trough of the swing */
    double high_c;     /**< peak of the swing */
    double burn_s;     /**< lit time in one cycle; 0 when it never or always burns */
    double fall_s;     /**< unlit time in one cycle */
    bool beyond_stage; /**< the peak went beyond the first stage's band */
};

/**
 * Mean behaviour of the cycle. Without need for heat (free_c ≥ on_c) the heater stays off; when it
 * cannot reach off_c it stays on. TH_ERR_MODEL when ua_w_k ≤ 0 or the thresholds are out of order.
 */
enum th_code th_cycle_solve(const struct th_cycle_in *in, struct th_cycle *out,
                            struct th_error *err);

#endif
