/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The heating fuel budget of one room: every season, what the barn leaves open, the worst winter
 * hour by hour. */
#ifndef TURNHEAT_BUDGET_H
#define TURNHEAT_BUDGET_H

#include "turnheat/held_air.h"
#include "turnheat/risk.h"

/** One hour of the season that took most gas; W are means of the hour. */
struct th_budget_hour {
    long hour_number;
    double out_c, room_low_c, room_high_c;
    double feel_c, feel_low_c; /**< at pig level, under zone heat: mean, and low of the swing */
    double set_c;
    double comfort_c; /**< lower comfort limit; NaN without pigs */
    double gas_w, pigs_w;
    double heaters_w; /**< room heaters and zone heat, into the room */
    double zone_w;    /**< zone heat of it */
    double lost_w;    /**< through shell, minimum air and leakage */
};

/** The hour whose mean lay furthest below the comfort limit. */
struct th_budget_cold {
    int year; /**< its season; 0: no hour lay more than 5 °F below */
    long hour_number;
    double below_k, mass_kg, out_c;
};

/** Owns the seasons and the hours. Gas is of one room. */
struct th_budget {
    const struct th_case *one;
    bool learnt;         /**< `one` is the barn as it most likely is */
    struct th_tally air; /**< of a mean season; of the barn as its file has it where that moves
                            less air */
    struct th_winters winters;      /**< at least one season is counted */
    double fan_floor_j;             /**< of a mean season, for fans that cannot turn down */
    struct th_held_air hold_air;    /**< were humidity and CO₂ held under their ceilings */
    const struct th_season *middle; /**< nearest the mean; the ranges are run on it */
    struct th_risk_range ranges[TH_UNKNOWNS];
    const struct th_season *worst; /**< took most gas */
    struct th_budget_cold coldest;
    size_t n_hours;
    struct th_budget_hour *hours; /**< of the worst season, in order */
};

/**
 * Fills the budget of `one`, which must outlive it; `given` is the same barn as its file has it,
 * where `one` was moved to what was learnt of it, else NULL. TH_ERR_COVERAGE when no season is
 * counted, TH_ERR_MEMORY, otherwise as th_runs_winters(). Finish in any case.
 */
enum th_code th_budget_run(struct th_budget *budget, struct th_runs *runs,
                           const struct th_case *one, const struct th_case *given,
                           struct th_error *err);

/** Frees what the budget owns; NULL and a second call are allowed. */
void th_budget_finish(struct th_budget *budget);

#endif
