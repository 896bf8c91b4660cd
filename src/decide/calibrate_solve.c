/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate_rows.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>

/* Slopes are taken over ± this share of the variable: ± 0.05 prior deviations, wide enough that the
   hourly model's own small steps do not show. */
#define SLOPE_SHARE 0.005
#define STEPS_MAX 60
/* From the very best the solver finds no step that helps and gives up, so it starts beside it. */
#define START_OFF_SD 0.1
/* Of the variable: a hundredth of a prior deviation and less. */
#define STEP_TOLERANCE 1e-4
#define INTERVAL_SHARE 0.90
#define MISFIT_CHANCE 0.05

static enum th_code solve(gsl_multifit_nlinear_workspace *work, struct th_fit_rows *rows,
                          struct th_error *err)
{
    const size_t p = (size_t)rows->problem->n_params;
    gsl_multifit_nlinear_fdf rows_of = {.f = th_fit_rows_eval,
                                        .df = NULL,
                                        .fvv = NULL,
                                        .n = rows->n_intervals + p,
                                        .p = p,
                                        .params = rows};
    const double start[TH_FIT_AT_ONCE] = {TH_FIT_CENTRE + START_OFF_SD,
                                          TH_FIT_CENTRE + START_OFF_SD};
    const gsl_vector_const_view v = gsl_vector_const_view_array(start, p);
    int info = 0;
    int status = gsl_multifit_nlinear_init(&v.vector, &rows_of, work);
    if (status == GSL_SUCCESS)
        status = gsl_multifit_nlinear_driver(STEPS_MAX, STEP_TOLERANCE, 1e-10, 0.0, NULL, NULL,
                                             &info, work);
    if (rows->code)
        return rows->code;
    /* "No progress": within the model's own small steps nothing lowers the misfit further. */
    if (status != GSL_SUCCESS && status != GSL_ENOPROG)
        return th_fail(err, TH_ERR_NUMERIC, "the fit did not converge: %s", gsl_strerror(status));
    return TH_OK;
}

static enum th_code errors_of(struct th_fit_rows *rows, const gsl_vector *v, double *nmbe,
                              double *cv_rmse, struct th_error *err)
{
    const struct th_calibration trial = th_fit_trial(rows->problem, v);
    const struct th_fit_problem *problem = rows->problem;
    enum th_code code = problem->predict(problem->context, &trial, rows->model_gal, err);
    if (!code)
        code = th_fit_nmbe(rows->n_intervals, rows->measured_gal, rows->model_gal,
                           problem->n_params, nmbe, err);
    if (!code)
        code = th_fit_cv_rmse(rows->n_intervals, rows->measured_gal, rows->model_gal,
                              problem->n_params, cv_rmse, err);
    return code;
}

/* Widens all deviations when the gauge's error alone can hardly explain the misfit. */
static double judge_misfit(const struct th_fit_rows *rows, const gsl_vector *residuals,
                           struct th_fit *fit)
{
    double chi_square = 0.0;
    gsl_blas_ddot(residuals, residuals, &chi_square);
    fit->chance = gsl_cdf_chisq_Q(chi_square, (double)rows->n_intervals);
    fit->widened = fit->chance < MISFIT_CHANCE;
    return fit->widened ? sqrt(chi_square / (double)rows->n_intervals) : 1.0;
}

static void fill_value(const struct th_fit_problem *problem, int i, const gsl_vector *v,
                       double sd_ratio, struct th_fit_value *value)
{
    const struct th_fit_prior *prior = &problem->priors[problem->params[i]];
    const double z = gsl_cdf_ugaussian_Pinv(0.5 + 0.5 * INTERVAL_SHARE);
    value->param = problem->params[i];
    value->value = prior->mean + prior->sd * (gsl_vector_get(v, (size_t)i) - TH_FIT_CENTRE);
    value->sd = prior->sd * sd_ratio;
    value->low = value->value - z * value->sd;
    value->high = value->value + z * value->sd;
    value->sd_ratio = sd_ratio;
    value->identified = sd_ratio <= M_SQRT1_2;
}

/* (J'J)^-1. GSL's own gsl_multifit_nlinear_covar() crashes where memory is short (2.7.1). */
static int find_covariance(const gsl_matrix *jacobian, gsl_matrix *covariance)
{
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, jacobian, 0.0, covariance);
    const int status = gsl_linalg_cholesky_decomp1(covariance);
    return status ? status : gsl_linalg_cholesky_invert(covariance);
}

static enum th_code fill_fit(gsl_multifit_nlinear_workspace *work, const struct th_fit_rows *rows,
                             struct th_fit *fit, struct th_error *err)
{
    const struct th_fit_problem *problem = rows->problem;
    const size_t p = (size_t)problem->n_params;
    double cells[TH_FIT_AT_ONCE * TH_FIT_AT_ONCE];
    gsl_matrix_view covariance = gsl_matrix_view_array(cells, p, p);
    double rcond = 0.0;
    if (find_covariance(gsl_multifit_nlinear_jac(work), &covariance.matrix) ||
        gsl_multifit_nlinear_rcond(&rcond, work) || !(rcond > 0.0))
        return th_fail(err, TH_ERR_NUMERIC, "the fit's covariance could not be found");
    const gsl_vector *v = gsl_multifit_nlinear_position(work);
    const double widen = judge_misfit(rows, gsl_multifit_nlinear_residual(work), fit);
    fit->n_params = problem->n_params;
    for (int i = 0; i < problem->n_params; i++) {
        const size_t k = (size_t)i;
        fill_value(problem, i, v, widen * sqrt(gsl_matrix_get(&covariance.matrix, k, k)),
                   &fit->values[i]);
    }
    if (p == 2)
        fit->correlation = gsl_matrix_get(&covariance.matrix, 0, 1) /
                           sqrt(gsl_matrix_get(&covariance.matrix, 0, 0) *
                                gsl_matrix_get(&covariance.matrix, 1, 1));
    fit->condition = fmax(1.0, 1.0 / rcond);
    fit->calibration = th_fit_trial(problem, v);
    return TH_OK;
}

static enum th_code run_on(gsl_multifit_nlinear_workspace *work, struct th_fit_rows *rows,
                           struct th_fit *fit, struct th_error *err)
{
    *fit = (struct th_fit){0};
    for (size_t i = 0; i < rows->n_intervals; i++)
        fit->total_used_gal += rows->measured_gal[i];
    const double believed[TH_FIT_AT_ONCE] = {TH_FIT_CENTRE, TH_FIT_CENTRE};
    const gsl_vector_const_view prior =
        gsl_vector_const_view_array(believed, (size_t)rows->problem->n_params);
    enum th_code code =
        errors_of(rows, &prior.vector, &fit->nmbe_before, &fit->cv_rmse_before, err);
    if (!code)
        code = solve(work, rows, err);
    if (!code)
        code = fill_fit(work, rows, fit, err);
    if (!code)
        code = errors_of(rows, gsl_multifit_nlinear_position(work), &fit->nmbe_after,
                         &fit->cv_rmse_after, err);
    return code;
}

enum th_code th_fit_run(const struct th_fit_problem *problem, struct th_fit *fit,
                        struct th_error *err)
{
    enum th_code code = th_fit_check(problem, err);
    if (code)
        return code;
    struct th_fit_rows rows;
    gsl_multifit_nlinear_workspace *work = NULL;
    code = th_fit_rows_init(&rows, problem, err);
    if (!code) {
        gsl_multifit_nlinear_parameters options = gsl_multifit_nlinear_default_parameters();
        options.fdtype = GSL_MULTIFIT_NLINEAR_CTRDIFF;
        options.h_df = SLOPE_SHARE;
        const size_t p = (size_t)problem->n_params;
        work = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &options,
                                          rows.n_intervals + p, p);
        code = work ? run_on(work, &rows, fit, err) : th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    if (work)
        gsl_multifit_nlinear_free(work);
    th_fit_rows_finish(&rows);
    return code;
}
