/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * How far the barn's own uncertain numbers move the gallons, beside the weather's spread. Ranges:
 * CIGR's factor and the published spread of pig heat and activity, our judgement for the rest.
 */
#ifndef TURNHEAT_RISK_H
#define TURNHEAT_RISK_H

#include "turnheat/winters.h"

enum th_risk_kind {
    TH_RISK_SENSIBLE,  /**< house-level sensible factor 0.75 … 0.95 */
    TH_RISK_PIG_HEAT,  /**< total heat ± 10 % */
    TH_RISK_ACTIVITY,  /**< day-night activity 0 … 0.43 */
    TH_RISK_AIR,       /**< minimum air ± 10 % */
    TH_RISK_LEAKAGE,   /**< half … twice */
    TH_RISK_SET_POINT, /**< actual set point ± 1 °F */
    TH_RISK_RESPONSE,  /**< dead time over capacity, half … twice */
    TH_RISK_COUNT
};

/** Plain name of a number and of its range. */
const char *th_risk_text(enum th_risk_kind kind);
const char *th_risk_range(enum th_risk_kind kind);

/**
 * Sets one number of `room` at `place` of its range: -1 the low end, 0 unchanged, 1 the high end;
 * factors move geometrically, the others in a straight line through the room's own value.
 */
void th_risk_apply(struct th_room *room, enum th_risk_kind kind, double place);

/** Gas of one season, J, with a number at the low and the high end of its range. */
struct th_risk_range {
    double low_j, high_j;
};

/**
 * One number at a time, on the season of `year`. TH_ERR_COVERAGE when the season is not counted;
 * otherwise as th_season_run().
 */
enum th_code th_risk_one_by_one(const struct th_room *room, const struct th_climate *climate,
                                int year, struct th_risk_range ranges[TH_RISK_COUNT],
                                struct th_error *err);

/**
 * All numbers together, each evenly spread over its range and independent (Sobol sequence), on the
 * season of `year`: fills `gas_j` with `n` results. Draw i is the same for every room, so that
 * rooms whose numbers are off together add up draw by draw. Errors as above.
 */
enum th_code th_risk_together(const struct th_room *room, const struct th_climate *climate,
                              int year, int n, double *gas_j, struct th_error *err);

#endif
