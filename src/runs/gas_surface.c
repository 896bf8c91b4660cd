/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/gas_surface.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Strengths of the ridge that are tried, each this much above the one before. */
#define RIDGE_FIRST 1e-4
#define RIDGE_STEP 3.0
#define RIDGES 14
/* Slopes are hardly held; curvature is expected to be smaller. */
#define HOLD_SLOPE 1e-3
#define HOLD_CURVATURE 1.0
/* Of a run's own weight in the fit; nearer to 1 rounding is all that is left to judge it by. */
#define LEVERAGE_MAX (1.0 - 1e-9)

enum th_code th_gas_surface_points(const struct th_room *room, size_t n, size_t n_winters,
                                   const double *ln_y0, struct th_gas_surface_run *runs,
                                   struct th_error *err)
{
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, TH_UNKNOWNS + 1);
    if (!sobol)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const double mean = gsl_stats_mean(ln_y0, 1, n_winters);
    for (size_t i = 0; i < n; i++) {
        double u[TH_UNKNOWNS + 1];
        gsl_qrng_get(sobol, u);
        for (int k = 0; k < TH_UNKNOWNS; k++)
            runs[i].z[k] = th_unknown_deviate(u[k]);
        th_unknowns_reach(room, runs[i].z, runs[i].reach);
        const size_t winter = (size_t)(u[TH_UNKNOWNS] * (double)n_winters);
        runs[i].winter = winter < n_winters ? winter : n_winters - 1;
        runs[i].l = ln_y0[runs[i].winter] - mean;
        runs[i].ln_ratio = NAN;
    }
    gsl_qrng_free(sobol);
    return TH_OK;
}

/* Slopes first, then squares, products with l, products of two. */
static void fill_terms(const double x[TH_UNKNOWNS], double l, double *term)
{
    size_t n = 0;
    for (int i = 0; i < TH_UNKNOWNS; i++)
        term[n++] = x[i];
    for (int i = 0; i < TH_UNKNOWNS; i++)
        term[n++] = x[i] * x[i];
    for (int i = 0; i < TH_UNKNOWNS; i++)
        term[n++] = x[i] * l;
    for (int i = 0; i < TH_UNKNOWNS; i++)
        for (int j = 0; j < i; j++)
            term[n++] = x[i] * x[j];
}

/* Working space of a fit. */
struct fit {
    size_t n;
    gsl_matrix *x;       /* runs × terms */
    gsl_vector *y;       /* runs */
    gsl_matrix *inverse; /* of X'X + ridge */
    gsl_vector *xy;      /* X'y */
    gsl_vector *term;
    gsl_vector *row; /* terms */
};

static bool open_fit(struct fit *fit, size_t n, const struct th_gas_surface_run *runs)
{
    *fit = (struct fit){.n = n,
                        .x = gsl_matrix_alloc(n, TH_GAS_SURFACE_TERMS),
                        .y = gsl_vector_alloc(n),
                        .inverse = gsl_matrix_alloc(TH_GAS_SURFACE_TERMS, TH_GAS_SURFACE_TERMS),
                        .xy = gsl_vector_alloc(TH_GAS_SURFACE_TERMS),
                        .term = gsl_vector_alloc(TH_GAS_SURFACE_TERMS),
                        .row = gsl_vector_alloc(TH_GAS_SURFACE_TERMS)};
    if (!fit->x || !fit->y || !fit->inverse || !fit->xy || !fit->term || !fit->row)
        return false;
    for (size_t i = 0; i < n; i++) {
        fill_terms(runs[i].reach, runs[i].l, gsl_matrix_ptr(fit->x, i, 0));
        gsl_vector_set(fit->y, i, runs[i].ln_ratio);
    }
    gsl_blas_dgemv(CblasTrans, 1.0, fit->x, fit->y, 0.0, fit->xy);
    return true;
}

static void close_fit(struct fit *fit)
{
    gsl_matrix_free(fit->x);
    gsl_vector_free(fit->y);
    gsl_matrix_free(fit->inverse);
    gsl_vector_free(fit->xy);
    gsl_vector_free(fit->term);
    gsl_vector_free(fit->row);
}

/* Each run's misfit had it been left out, e / (1 − h); returns their root mean square. */
static double left_out(struct fit *fit, double *residual)
{
    double sum = 0.0;
    for (size_t i = 0; i < fit->n; i++) {
        const gsl_vector_const_view x = gsl_matrix_const_row(fit->x, i);
        double fitted = 0.0, leverage = 0.0;
        gsl_blas_ddot(&x.vector, fit->term, &fitted);
        gsl_blas_dsymv(CblasLower, 1.0, fit->inverse, &x.vector, 0.0, fit->row);
        gsl_blas_ddot(&x.vector, fit->row, &leverage);
        residual[i] = (gsl_vector_get(fit->y, i) - fitted) / (1.0 - fmin(leverage, LEVERAGE_MAX));
        sum += residual[i] * residual[i];
    }
    return sqrt(sum / (double)fit->n);
}

static bool solve(struct fit *fit, double ridge)
{
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, fit->x, 0.0, fit->inverse);
    for (size_t k = 0; k < TH_GAS_SURFACE_TERMS; k++) {
        const double hold = k < TH_UNKNOWNS ? HOLD_SLOPE : HOLD_CURVATURE;
        *gsl_matrix_ptr(fit->inverse, k, k) += ridge * hold * (double)fit->n;
    }
    if (gsl_linalg_cholesky_decomp1(fit->inverse) || gsl_linalg_cholesky_invert(fit->inverse))
        return false;
    gsl_blas_dsymv(CblasLower, 1.0, fit->inverse, fit->xy, 0.0, fit->term);
    return true;
}

static enum th_code fit_best(struct fit *fit, struct th_gas_surface *surface, struct th_error *err)
{
    double residual[TH_GAS_SURFACE_RUNS], ridge = RIDGE_FIRST;
    surface->error = HUGE_VAL;
    for (int i = 0; i < RIDGES; i++) {
        ridge *= i > 0 ? RIDGE_STEP : 1.0;
        const double error = solve(fit, ridge) ? left_out(fit, residual) : HUGE_VAL;
        if (!(error < surface->error))
            continue;
        surface->error = error;
        memcpy(surface->residual, residual, fit->n * sizeof *residual);
        for (size_t k = 0; k < TH_GAS_SURFACE_TERMS; k++)
            surface->term[k] = gsl_vector_get(fit->term, k);
    }
    if (!isfinite(surface->error))
        return th_fail(err, TH_ERR_NUMERIC, "no surface could be laid through the runs");
    return TH_OK;
}

enum th_code th_gas_surface_fit(size_t n, const struct th_gas_surface_run *runs,
                                struct th_gas_surface *surface, struct th_error *err)
{
    if (n < 1 || n > TH_GAS_SURFACE_RUNS)
        return th_fail(err, TH_ERR_INPUT, "a surface takes 1 to %d runs, not %zu",
                       TH_GAS_SURFACE_RUNS, n);
    for (size_t i = 0; i < n; i++)
        if (!isfinite(runs[i].ln_ratio))
            return th_fail(err, TH_ERR_INPUT, "run %zu of a surface burnt nothing", i + 1);
    struct fit fit;
    *surface = (struct th_gas_surface){.n_runs = n};
    const enum th_code code = open_fit(&fit, n, runs)
                                  ? fit_best(&fit, surface, err)
                                  : th_fail(err, TH_ERR_MEMORY, "out of memory");
    close_fit(&fit);
    return code;
}

struct th_gas_surface_line th_gas_surface_at(const struct th_gas_surface *surface,
                                             const double reach[TH_UNKNOWNS])
{
    double at_0[TH_GAS_SURFACE_TERMS], at_1[TH_GAS_SURFACE_TERMS];
    struct th_gas_surface_line line = {0};
    fill_terms(reach, 0.0, at_0);
    fill_terms(reach, 1.0, at_1);
    for (size_t k = 0; k < TH_GAS_SURFACE_TERMS; k++) {
        line.level += surface->term[k] * at_0[k];
        line.slope += surface->term[k] * (at_1[k] - at_0[k]);
    }
    return line;
}
