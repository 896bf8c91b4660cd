/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The least-squares rows of a calibration, shared by calibrate.c and its solver. */
#ifndef TURNHEAT_CALIBRATE_ROWS_H
#define TURNHEAT_CALIBRATE_ROWS_H

#include "turnheat/calibrate.h"

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>

/**
 * What the rows are made from. The solver's variable is v = TH_FIT_CENTRE + (value − mean) / sd of
 * the prior.
 */
struct th_fit_rows {
    const struct th_fit_problem *problem;
    size_t n_intervals;
    double *measured_gal;
    double *model_gal;   /**< of the latest trial */
    gsl_matrix *error_l; /**< Cholesky factor of the intervals' error covariance */
    enum th_code code;   /**< what `predict` ended with */
    struct th_error *err;
};

/* GSL steps each variable by a share of its size to find slopes; about 10 no variable is near 0. */
#define TH_FIT_CENTRE 10.0

/** Ranges, counts and order; see th_fit_run(). */
enum th_code th_fit_check(const struct th_fit_problem *problem, struct th_error *err);

/** Allocates and fills in what does not depend on the trial. */
enum th_code th_fit_rows_init(struct th_fit_rows *rows, const struct th_fit_problem *problem,
                              struct th_error *err);

void th_fit_rows_finish(struct th_fit_rows *rows);

/** The factors of the solver's `v`, held within 5 prior deviations. */
struct th_calibration th_fit_trial(const struct th_fit_problem *problem, const gsl_vector *v);

/** Rows for gsl_multifit_nlinear: n_intervals decorrelated misfits, then one for each prior. */
int th_fit_rows_eval(const gsl_vector *v, void *params, gsl_vector *f);

#endif
