/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_rows.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>

/* A trial this many prior deviations off is not a room any more (an envelope that gains heat). */
#define FARTHEST_SD 5.0

/* A reading's error enters the interval before it and, with the other sign, the one after. */
static void fill_covariance(const struct th_fit_problem *problem, gsl_matrix *covariance)
{
    const double sd_gal = problem->gauge_sd * problem->capacity_gal;
    gsl_matrix_set_zero(covariance);
    for (size_t i = 0; i < covariance->size1; i++) {
        gsl_matrix_set(covariance, i, i, 2.0 * sd_gal * sd_gal);
        if (i > 0) {
            gsl_matrix_set(covariance, i, i - 1, -sd_gal * sd_gal);
            gsl_matrix_set(covariance, i - 1, i, -sd_gal * sd_gal);
        }
    }
}

enum th_code th_fit_rows_init(struct th_fit_rows *rows, const struct th_fit_problem *problem,
                              struct th_error *err)
{
    const size_t n = problem->n_fills - 1;
    *rows = (struct th_fit_rows){.problem = problem, .n_intervals = n, .err = err};
    rows->measured_gal = calloc(n, sizeof *rows->measured_gal);
    rows->model_gal = calloc(n, sizeof *rows->model_gal);
    rows->error_l = gsl_matrix_alloc(n, n);
    if (!rows->measured_gal || !rows->model_gal || !rows->error_l)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_fit_used_gal(problem, rows->measured_gal);
    fill_covariance(problem, rows->error_l);
    if (gsl_linalg_cholesky_decomp1(rows->error_l) != GSL_SUCCESS)
        return th_fail(err, TH_ERR_NUMERIC, "the gauge errors could not be decorrelated");
    return TH_OK;
}

void th_fit_rows_finish(struct th_fit_rows *rows)
{
    free(rows->measured_gal);
    free(rows->model_gal);
    gsl_matrix_free(rows->error_l);
    rows->measured_gal = rows->model_gal = NULL;
    rows->error_l = NULL;
}

struct th_calibration th_fit_trial(const struct th_fit_problem *problem, const gsl_vector *v)
{
    double value[TH_FIT_PARAMS];
    for (int i = 0; i < TH_FIT_PARAMS; i++)
        value[i] = problem->priors[i].mean;
    for (int i = 0; i < problem->n_params; i++) {
        const double off_sd = gsl_vector_get(v, (size_t)i) - TH_FIT_CENTRE;
        const struct th_fit_prior *prior = &problem->priors[problem->params[i]];
        value[problem->params[i]] =
            prior->mean + prior->sd * fmin(fmax(off_sd, -FARTHEST_SD), FARTHEST_SD);
    }
    return (struct th_calibration){.given = true,
                                   .ua_factor = value[TH_FIT_UA],
                                   .air_factor = value[TH_FIT_AIR],
                                   .set_shift_k = value[TH_FIT_SET]};
}

int th_fit_rows_eval(const gsl_vector *v, void *params, gsl_vector *f)
{
    struct th_fit_rows *rows = params;
    const struct th_fit_problem *problem = rows->problem;
    const struct th_calibration trial = th_fit_trial(problem, v);
    /* GSL may go on after a failure, with what it had: the first one must stay known. */
    if (rows->code)
        return GSL_EBADFUNC;
    rows->code = problem->predict(problem->context, &trial, rows->model_gal, rows->err);
    if (rows->code)
        return GSL_EBADFUNC;
    for (size_t i = 0; i < rows->n_intervals; i++) {
        if (!isfinite(rows->model_gal[i])) {
            rows->code = th_fail(rows->err, TH_ERR_NUMERIC,
                                 "the model's gallons of interval %zu are not a number", i + 1);
            return GSL_EBADFUNC;
        }
        gsl_vector_set(f, i, rows->measured_gal[i] - rows->model_gal[i]);
    }
    gsl_vector_view misfit = gsl_vector_subvector(f, 0, rows->n_intervals);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, rows->error_l, &misfit.vector);
    for (int i = 0; i < problem->n_params; i++)
        gsl_vector_set(f, rows->n_intervals + (size_t)i,
                       gsl_vector_get(v, (size_t)i) - TH_FIT_CENTRE);
    return GSL_SUCCESS;
}
