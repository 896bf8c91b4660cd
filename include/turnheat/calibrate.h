/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Fits a room to its tank fills: at most two of the envelope factor, the minimum-air factor and the
 * set-point shift, by least squares with what was believed before as extra rows (a maximum a
 * posteriori estimate). Gallons are US gallons.
 *
 * Used between fills k and k + 1 = delivered at k + (gauge at k − gauge at k + 1) · capacity, the
 * gauge read before each delivery. One reading's error enters two neighbouring intervals with
 * opposite signs, so their errors are correlated; the rows are decorrelated before the fit.
 */
#ifndef TURNHEAT_CALIBRATE_H
#define TURNHEAT_CALIBRATE_H

#include "turnheat/error.h"
#include "turnheat/room.h"
#include <stdbool.h>
#include <stddef.h>

enum th_fit_param { TH_FIT_UA, TH_FIT_AIR, TH_FIT_SET, TH_FIT_PARAMS };

#define TH_FIT_AT_ONCE 2
/** Fills needed to fit one parameter, and two. */
#define TH_FIT_FILLS_ONE 5
#define TH_FIT_FILLS_TWO 8

struct th_tank_fill {
    long day;             /**< day number, ascending */
    double level_share;   /**< gauge before the delivery, of capacity, 0…1 */
    double delivered_gal; /**< ≥ 0 */
};

struct th_fit_prior {
    double mean;
    double sd; /**< > 0 */
};

/**
 * Gallons the model burns in each of the n_fills − 1 intervals with `trial`'s factors. A code other
 * than TH_OK ends the fit with it.
 */
typedef enum th_code th_fit_predict(void *context, const struct th_calibration *trial, double *gal,
                                    struct th_error *err);

struct th_fit_problem {
    size_t n_fills;
    const struct th_tank_fill *fills;
    double capacity_gal; /**< water capacity of all tanks the gauge stands for, > 0 */
    double gauge_sd;     /**< standard error of one reading, share of capacity, > 0 (0.03) */
    int n_params;        /**< 1 or 2 */
    enum th_fit_param params[TH_FIT_AT_ONCE];
    struct th_fit_prior priors[TH_FIT_PARAMS]; /**< of all; a parameter not fitted keeps its mean */
    th_fit_predict *predict;
    void *context;
};

/** One fitted parameter. */
struct th_fit_value {
    enum th_fit_param param;
    double value;
    double sd;
    double low, high; /**< 90 % interval */
    double sd_ratio;  /**< sd over the prior's */
    bool identified;  /**< the fills say at least as much as the prior: sd_ratio ≤ 1/√2 */
};

struct th_fit {
    int n_params;
    struct th_fit_value values[TH_FIT_AT_ONCE];
    double correlation;                /**< of the two values; 0 with one */
    double condition;                  /**< of the scaled least-squares problem, ≥ 1 */
    struct th_calibration calibration; /**< all three parameters, as found or believed */
    double
        chance; /**< that the gauge alone gives so bad a fit (χ²); small = something else is off */
    bool widened; /**< chance below 0.05: sd and interval widened by √(χ²/intervals) */
    double nmbe_before, nmbe_after; /**< shares, p = n_params; > 0: the model burns too little */
    double cv_rmse_before, cv_rmse_after; /**< shares, p = n_params */
    double total_used_gal;                /**< measured, all intervals */
};

/** Priors 1 ± 0.15 (UA), 1 ± 0.15 (air), 0 ± 2 °F (set point) as standard deviations; gauge 3 %. */
void th_fit_defaults(struct th_fit_problem *problem);

/** Measured gallons of the n_fills − 1 intervals. */
void th_fit_used_gal(const struct th_fit_problem *problem, double *gal);

/**
 * The fit. TH_ERR_INPUT with too few fills or fills out of order, TH_ERR_RANGE, TH_ERR_NUMERIC when
 * it does not converge, TH_ERR_MEMORY, and whatever `predict` returns.
 */
enum th_code th_fit_run(const struct th_fit_problem *problem, struct th_fit *fit,
                        struct th_error *err);

/**
 * Normalised mean bias error Σ(m − s) / ((n − p) m̄) as a share (ASHRAE Guideline 14; ± 5 % asked of
 * monthly fits). TH_ERR_INPUT unless n > p and the mean is above 0.
 */
enum th_code th_fit_nmbe(size_t n, const double *measured, const double *simulated, int p,
                         double *nmbe, struct th_error *err);

/**
 * Coefficient of variation of the root mean square error √(Σ(m − s)² / (n − p)) / m̄ as a share
 * (ASHRAE Guideline 14; 15 % asked of monthly fits). Errors as th_fit_nmbe().
 */
enum th_code th_fit_cv_rmse(size_t n, const double *measured, const double *simulated, int p,
                            double *cv_rmse, struct th_error *err);

#endif
