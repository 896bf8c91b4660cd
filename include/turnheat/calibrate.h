/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Tank fills, and how far gallons computed are from gallons measured. Gallons are US gallons. */
#ifndef TURNHEAT_CALIBRATE_H
#define TURNHEAT_CALIBRATE_H

#include "turnheat/error.h"
#include <stddef.h>

struct th_tank_fill {
    long day;             /**< day number, ascending */
    double level_share;   /**< gauge before the delivery, of capacity, 0…1 */
    double delivered_gal; /**< ≥ 0 */
};

/**
 * Gallons used from each of the n_fills − 1 fills to the next: delivered, and the change of level,
 * of tanks of `capacity_gal` in all.
 */
void th_fill_used_gal(size_t n_fills, const struct th_tank_fill *fills, double capacity_gal,
                      double *gal);

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
