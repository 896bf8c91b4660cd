/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What tank fills say of the rooms on those tanks, by the one likelihood of learn.h: every stretch
 * from a fill to the next weighs all numbers not known of all rooms. A gauge is read to TH_GAUGE_SD
 * of the tanks, and one reading's error enters two neighbouring stretches with opposite signs; a
 * turn is off by TH_TURN_SD in all its stretches together. Gallons of a stretch are a surface over
 * the deviates (gas_surface.h), laid through full runs on the weather of the fills.
 */
#ifndef TURNHEAT_FILLS_FIT_H
#define TURNHEAT_FILLS_FIT_H

#include "turnheat/calibrate.h"
#include "turnheat/case.h"
#include "turnheat/gas_surface.h"
#include "turnheat/learn.h"
#include "turnheat/record.h"
#include "turnheat/runs.h"
#include "turnheat/spread.h"
#include "turnheat/tank.h"

/** Fills needed: a stretch needs two. */
#define TH_FILLS_LEAST 2

/** What is fitted; pointers are borrowed. What rooms bring along from earlier fits is left out. */
struct th_fills_in {
    const struct th_runs *runs;  /**< its jobs and onlooker are used */
    const struct th_case *cases; /**< all rooms on the tanks, one climate */
    int n_cases;
    const struct th_use *uses;
    int n_uses;
    const struct th_tank_fill *fills;
    size_t n_fills;
    double capacity_gal; /**< of all tanks the gauge stands for, > 0 */
};

/** A room's gallons from fill to fill. */
struct th_fills_room {
    double *gal;                    /**< of each stretch, all copies, as the file has the room */
    double *turn_gal;               /**< the same by turn: turns × stretches */
    double floor_gal;               /**< added before a logarithm is taken: summer burns nothing */
    struct th_gas_surface *surface; /**< of each stretch: ln (gal + floor) over its default */
};

/** Gallons from fill to fill for any farm. Good for any gallons on the same dates. Owns memory. */
struct th_fills_model {
    const struct th_fills_in *in;
    size_t n; /**< stretches: n_fills − 1 */
    double *uses_gal;
    struct th_fills_room *rooms; /**< n_cases */
    double *variance;            /**< n × n: of turns and surfaces, at the files' gallons */
};

/** Runs the rooms at the points of their surfaces. TH_ERR_INPUT with too few fills or a room that
 * burns natural gas; TH_ERR_COVERAGE when the weather misses a turn between them; TH_ERR_MODEL when
 * the rooms burn nothing between fills; otherwise as th_runs_winters(). Finish in any case. */
enum th_code th_fills_model_init(struct th_fills_model *model, const struct th_fills_in *in,
                                 struct th_error *err);

/** Gallons of all rooms and other users in each stretch, for a farm with deviates `z`. */
void th_fills_model_gal(const struct th_fills_model *model, const double *z, double *gal);

/** What fills say. */
struct th_fills_learnt {
    struct th_belief belief;
    double effective_draws; /**< of TH_OUTLOOK_DRAWS */
    double strain_sd;       /**< how far from what was expected, in standard deviations */
    double doubt_sd;        /**< of ln gallons after the last fill: what the fills left open, by
                               their last stretch, and turns that are off by themselves */
};

/** The fit to gallons used between the fills (th_fill_used_gal()). Errors as th_learn_from(). */
enum th_code th_fills_learn(const struct th_fills_model *model, const double *used_gal,
                            struct th_fills_learnt *learnt, struct th_error *err);

/** Frees; NULL and a second call are allowed. */
void th_fills_model_finish(struct th_fills_model *model);

/** What `th_fills_fit()` finds. Owns memory. */
struct th_fills_fit {
    struct th_fills_learnt learnt;
    struct th_fitted *fitted; /**< of each room: what it brings along, without inputs */
    size_t n_stretches;
    double *used_gal;   /**< by the tanks */
    double *before_gal; /**< as the barn files say */
    double *after_gal;  /**< of the most likely farm, by full runs */
    double nmbe_before, nmbe_after, cv_rmse_before, cv_rmse_after; /**< shares, p = 1 */
    double in_tanks_gal;                                           /**< after the last fill */
    /** Still to burn to 30 June by the most likely farm on each earlier year's weather, or on that
     * of the days themselves; left_gal.n 0: neither is known. */
    struct th_spread left_gal;
    double left_low_gal,
        left_high_gal;     /**< eight cases of ten, with what is not known of the farm */
    long known_end_day;    /**< of the days from the last fill on the weather is known up to here */
    bool known;            /**< all of them */
    struct th_tally books; /**< of all seasons behind after_gal, one of each room */
};

/** The whole fit. Errors as th_fills_model_init() and th_fills_learn(); TH_ERR_INPUT when the fills
 * hold no gallons. Finish `found` in any case. */
enum th_code th_fills_fit(const struct th_fills_in *in, struct th_fills_fit *found,
                          struct th_error *err);

/** Frees; NULL and a second call are allowed. */
void th_fills_fit_finish(struct th_fills_fit *found);

#endif
