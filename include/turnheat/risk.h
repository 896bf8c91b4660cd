/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How far the barn's own uncertain numbers (unknowns.h) move the gallons of one season. */
#ifndef TURNHEAT_RISK_H
#define TURNHEAT_RISK_H

#include "turnheat/runs.h"
#include "turnheat/unknowns.h"

/** Gas of one season, J, with a number at the low and the high end of its band. */
struct th_risk_range {
    double low_j, high_j;
};

/**
 * One number at a time, on the season of `year`. TH_ERR_COVERAGE when the season is not counted;
 * otherwise as th_runs_gas().
 */
enum th_code th_risk_one_by_one(struct th_runs *runs, const struct th_room *room,
                                const struct th_climate *climate, int year,
                                struct th_risk_range ranges[TH_UNKNOWNS], struct th_error *err);

#endif
