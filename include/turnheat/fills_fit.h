/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Rooms fitted to the fills of the tanks they share, and what is still to burn this season. */
#ifndef TURNHEAT_FILLS_FIT_H
#define TURNHEAT_FILLS_FIT_H

#include "turnheat/calibrate.h"
#include "turnheat/case.h"
#include "turnheat/record.h"
#include "turnheat/runs.h"
#include "turnheat/spread.h"
#include "turnheat/tank.h"

/** What is fitted; pointers are borrowed. */
struct th_fills_in {
    const struct th_runs *runs;  /**< its jobs and onlooker are used */
    const struct th_case *cases; /**< all rooms on the tanks, one climate */
    int n_cases;
    const struct th_use *uses;
    int n_uses;
    const struct th_tank_fill *fills;
    size_t n_fills;
    double capacity_gal;
    int n_params; /**< 0 = as many as the fills allow */
    enum th_fit_param params[TH_FIT_AT_ONCE];
};

/** What `th_fills_fit()` finds. Owns the gallons between fills. */
struct th_fills_fit {
    struct th_fit fit;
    size_t n_intervals;  /**< between two fills: n_fills − 1 */
    double *used_gal;    /**< by the tanks */
    double *before_gal;  /**< as the barn files say */
    double *after_gal;   /**< with the fit */
    double in_tanks_gal; /**< after the last fill */
    /** Still to burn to 30 June on each earlier year's weather; left_gal.n 0: no such year. */
    struct th_spread left_gal;
    bool has_record;         /**< the fills span enough of a season the weather covers */
    struct th_record record; /**< that season's gallons by the fills, and their error; no name */
    struct th_tally books;   /**< of all seasons behind after_gal, one of each room */
};

/**
 * Fits by least squares, see calibrate.h. TH_ERR_INPUT with too few fills; TH_ERR_COVERAGE when the
 * weather misses a turn between them; otherwise as th_fit_run() and th_runs_winters(). Finish
 * `found` in any case.
 */
enum th_code th_fills_fit(const struct th_fills_in *in, struct th_fills_fit *found,
                          struct th_error *err);

/** Frees; NULL and a second call are allowed. */
void th_fills_fit_finish(struct th_fills_fit *found);

#endif
