/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How far the barn's own uncertain numbers (unknowns.h) move the gallons of one season. */
#ifndef TURNHEAT_RISK_H
#define TURNHEAT_RISK_H

#include "turnheat/unknowns.h"
#include "turnheat/winters.h"

/** Gas of one season, J, with a number at the low and the high end of its band. */
struct th_risk_range {
    double low_j, high_j;
};

/**
 * One number at a time, on the season of `year`. TH_ERR_COVERAGE when the season is not counted;
 * otherwise as th_season_run().
 */
enum th_code th_risk_one_by_one(const struct th_room *room, const struct th_climate *climate,
                                int year, struct th_risk_range ranges[TH_UNKNOWNS],
                                struct th_error *err);

/**
 * All numbers together, each by its own deviate (Sobol sequence), on the
 * season of `year`: fills `gas_j` with `n` results. Draw i is the same for every room, so that
 * rooms whose numbers are off together add up draw by draw. Errors as above.
 */
enum th_code th_risk_together(const struct th_room *room, const struct th_climate *climate,
                              int year, int n, double *gas_j, struct th_error *err);

#endif
