/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything is solved in u, the independent standard normal deviates behind z. */
#include "turnheat/learn.h"

#include "turnheat/unknowns.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Draws about the most likely farm are spread a little wider than the farms that fit. */
#define WIDEN 1.5
#define STEPS_MAX 200
#define STEP_TOLERANCE 1e-6
/* GSL finds slopes by steps of a share of the variable; about 10 no variable is near 0. */
#define CENTRE 10.0
/* From the very best the solver finds no step that helps and gives up, so it starts beside it. */
#define START_OFF_SD 0.1
#define SLOPE_SHARE 1e-3
#define SEED 2

/* The most likely u, and a lower Cholesky factor of its covariance. */
struct likely {
    double u[TH_LEARN_Z_MAX];
    gsl_matrix *lower;
};

struct solving {
    const struct th_evidence *e;
    double *rows; /* n_rows */
};

/* GSL's vector may be a column of a matrix. */
static int rows_of(const gsl_vector *v, void *params, gsl_vector *f)
{
    const struct solving *s = params;
    const struct th_evidence *e = s->e;
    double u[TH_LEARN_Z_MAX], z[TH_LEARN_Z_MAX];
    for (int i = 0; i < e->n_z; i++) {
        u[i] = gsl_vector_get(v, (size_t)i) - CENTRE;
        gsl_vector_set(f, (size_t)(e->n_rows + i), u[i]);
    }
    th_belief_at(e->before, e->n_z, u, z);
    e->rows(e->context, z, s->rows);
    for (int r = 0; r < e->n_rows; r++)
        gsl_vector_set(f, (size_t)r, s->rows[r]);
    return GSL_SUCCESS;
}

/* C = (J'J)^-1 with the belief among J's rows; then its lower Cholesky factor. */
static enum th_code find_spread(gsl_multifit_nlinear_workspace *work, int n_z,
                                struct likely *likely, struct th_error *err)
{
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, gsl_multifit_nlinear_jac(work), 0.0, likely->lower);
    if (gsl_linalg_cholesky_decomp1(likely->lower) || gsl_linalg_cholesky_invert(likely->lower) ||
        gsl_linalg_cholesky_decomp1(likely->lower))
        return th_fail(err, TH_ERR_NUMERIC, "the farms that fit could not be spread out");
    for (int i = 0; i < n_z; i++)
        likely->u[i] = gsl_vector_get(gsl_multifit_nlinear_position(work), (size_t)i) - CENTRE;
    return TH_OK;
}

static enum th_code solve(gsl_multifit_nlinear_workspace *work, gsl_multifit_nlinear_fdf *fdf,
                          gsl_vector *start, struct th_error *err)
{
    int info = 0;
    gsl_vector_set_all(start, CENTRE + START_OFF_SD);
    int status = gsl_multifit_nlinear_init(start, fdf, work);
    if (status == GSL_SUCCESS)
        status = gsl_multifit_nlinear_driver(STEPS_MAX, STEP_TOLERANCE, 1e-10, 0.0, NULL, NULL,
                                             &info, work);
    /* "No progress": nothing near is more likely. Out of steps: near enough to draw about. */
    if (status == GSL_SUCCESS || status == GSL_ENOPROG || status == GSL_EMAXITER)
        return TH_OK;
    return th_fail(err, TH_ERR_NUMERIC, "no most likely farm was found: %s", gsl_strerror(status));
}

static enum th_code find_likely(const struct th_evidence *e, struct likely *likely,
                                struct th_error *err)
{
    const size_t p = (size_t)e->n_z;
    struct solving solving = {e, calloc((size_t)e->n_rows + 1, sizeof *solving.rows)};
    gsl_multifit_nlinear_fdf fdf = {
        .f = rows_of, .n = p + (size_t)e->n_rows, .p = p, .params = &solving};
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    how.h_df = SLOPE_SHARE;
    how.fdtype = GSL_MULTIFIT_NLINEAR_CTRDIFF;
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, fdf.n, p);
    gsl_vector *start = gsl_vector_alloc(p);
    enum th_code code = work && start && solving.rows
                            ? solve(work, &fdf, start, err)
                            : th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK)
        code = find_spread(work, e->n_z, likely, err);
    gsl_multifit_nlinear_free(work);
    gsl_vector_free(start);
    free(solving.rows);
    return code;
}

static double ln_likelihood(const struct th_evidence *e, const double *z, double *rows)
{
    double sum = 0.0;
    if (e->ln_likelihood)
        return e->ln_likelihood(e->context, z);
    e->rows(e->context, z, rows);
    for (int r = 0; r < e->n_rows; r++)
        sum += rows[r] * rows[r];
    return -0.5 * sum;
}

/* Where draws are made. */
struct drawing {
    const struct th_evidence *e;
    const struct likely *likely;
    gsl_rng *rng;
    gsl_vector *step;
    double *rows;
    double *drawn; /* n × n_z */
    double *weight;
};

/* One draw; returns the logarithm of belief × likelihood ÷ proposal. */
static double propose(const struct drawing *d, double *z)
{
    const int n_z = d->e->n_z;
    double u[TH_LEARN_Z_MAX], squares = 0.0, believed = 0.0;
    for (int i = 0; i < n_z; i++) {
        const double g = gsl_ran_ugaussian(d->rng);
        squares += g * g;
        gsl_vector_set(d->step, (size_t)i, g);
    }
    gsl_blas_dtrmv(CblasLower, CblasNoTrans, CblasNonUnit, d->likely->lower, d->step);
    for (int i = 0; i < n_z; i++) {
        u[i] = d->likely->u[i] + sqrt(WIDEN) * gsl_vector_get(d->step, (size_t)i);
        believed += u[i] * u[i];
    }
    th_belief_at(d->e->before, n_z, u, z);
    for (int i = 0; i < n_z; i++)
        if (fabs(z[i]) > TH_UNKNOWN_CUT_SD)
            return -HUGE_VAL;
    return ln_likelihood(d->e, z, d->rows) - 0.5 * believed + 0.5 * squares;
}

/* Takes draws in proportion to their weights, evenly (systematic resampling). */
static void resample(const struct drawing *d, double sum, struct th_draws *draws)
{
    const size_t n = draws->n, p = (size_t)d->e->n_z;
    double passed = d->weight[0];
    size_t from = 0;
    for (size_t i = 0; i < n; i++) {
        const double at = ((double)i + 0.5) / (double)n * sum;
        while (passed < at && from + 1 < n)
            passed += d->weight[++from];
        memcpy(draws->z + i * p, d->drawn + from * p, p * sizeof *d->drawn);
    }
}

static enum th_code weigh(const struct drawing *d, struct th_draws *draws, struct th_error *err)
{
    const size_t n = draws->n, p = (size_t)d->e->n_z;
    double highest = -HUGE_VAL, sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < n; i++) {
        d->weight[i] = propose(d, d->drawn + i * p);
        highest = fmax(highest, d->weight[i]);
    }
    if (!isfinite(highest))
        return th_fail(
            err, TH_ERR_NUMERIC,
            "no barn within what is not known of these comes near what was measured; "
            "check it, its dates and barns, and in the files pigs, dates and set points");
    for (size_t i = 0; i < n; i++) {
        d->weight[i] = exp(d->weight[i] - highest);
        sum += d->weight[i];
        squares += d->weight[i] * d->weight[i];
    }
    draws->effective = sum * sum / squares;
    resample(d, sum, draws);
    return TH_OK;
}

static enum th_code draw(const struct th_evidence *e, const struct likely *likely,
                         struct th_draws *draws, struct th_error *err)
{
    const size_t n = draws->n, p = (size_t)e->n_z;
    struct drawing d = {.e = e,
                        .likely = likely,
                        .rng = gsl_rng_alloc(gsl_rng_mt19937),
                        .step = gsl_vector_alloc(p),
                        .rows = calloc((size_t)e->n_rows + 1, sizeof *d.rows),
                        .drawn = calloc(n * p, sizeof *d.drawn),
                        .weight = calloc(n, sizeof *d.weight)};
    enum th_code code = TH_ERR_MEMORY;
    if (d.rng && d.step && d.rows && d.drawn && d.weight) {
        gsl_rng_set(d.rng, SEED);
        code = weigh(&d, draws, err);
    } else {
        th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    gsl_rng_free(d.rng);
    gsl_vector_free(d.step);
    free(d.rows);
    free(d.drawn);
    free(d.weight);
    return code;
}

/* From u to z. */
static void tell(const struct th_evidence *e, const struct likely *likely, struct th_belief *after)
{
    *after = (struct th_belief){.n_z = e->n_z};
    th_belief_at(e->before, e->n_z, likely->u, after->z);
    for (int i = 0; i < e->n_z; i++)
        for (int j = 0; j <= i; j++) {
            double sum =
                e->before->n_z > 0 ? 0.0 : gsl_matrix_get(likely->lower, (size_t)i, (size_t)j);
            for (int k = j; k <= i && e->before->n_z > 0; k++)
                sum +=
                    e->before->spread[i][k] * gsl_matrix_get(likely->lower, (size_t)k, (size_t)j);
            after->spread[i][j] = sum;
        }
}

enum th_code th_learn_from(const struct th_evidence *evidence, struct th_belief *after,
                           struct th_draws *draws, struct th_error *err)
{
    const size_t p = (size_t)evidence->n_z;
    if (evidence->n_z < 1 || evidence->n_z > TH_LEARN_Z_MAX)
        return th_fail(err, TH_ERR_INPUT, "at most %d barn files are weighed together",
                       (TH_LEARN_Z_MAX - 5) / 3);
    struct likely likely = {.lower = gsl_matrix_alloc(p, p)};
    if (!likely.lower)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = find_likely(evidence, &likely, err);
    if (code == TH_OK && draws->n > 0)
        code = draw(evidence, &likely, draws, err);
    if (code == TH_OK)
        tell(evidence, &likely, after);
    gsl_matrix_free(likely.lower);
    return code;
}
