/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/record.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <float.h>
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

enum th_code th_record_check(const struct th_record *record, struct th_error *err)
{
    if (!(record->gal > 0.0 && record->gal <= 1e8))
        return th_fail(err, TH_ERR_RANGE, "record %s: gallons must be above 0", record->name);
    if (!(record->error >= 0.001 && record->error <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: the error must be 0.1 to 100 %%",
                       record->name);
    if (!(record->share >= 0.0 && record->share <= 1.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: its days must be a part of a season",
                       record->name);
    if (!(record->tank_gal >= 0.0))
        return th_fail(err, TH_ERR_RANGE, "record %s: the tanks must not be below 0 gallons",
                       record->name);
    return TH_OK;
}

/* The records as the likelihood sees them. */
struct evidence {
    const struct th_outlook *outlook;
    int n;
    const struct th_record *records;
    double variance[TH_RECORDS_MAX]; /* of ln gallons, winter known */
    long winter[TH_RECORDS_MAX];     /* -1: not known */
};

static bool on_meter(const struct th_record *record, int barn)
{
    return record->barns == 0 || (record->barns >> barn & 1ul);
}

/* Of a season's gallons. */
static double share_of(const struct th_record *record)
{
    return record->share > 0.0 ? record->share : 1.0;
}

static double ln_burn(const struct evidence *e, int r, size_t winter, const double *z)
{
    double gal = 0.0;
    for (int b = 0; b < e->outlook->n_barns; b++)
        if (on_meter(&e->records[r], b))
            gal += e->outlook->barns[b].room->copies *
                   exp(th_outlook_ln_gal(e->outlook, b, winter, z));
    return log(fmax(gal, DBL_MIN)) + log(share_of(&e->records[r])); /* a meter has a barn */
}

/* Turns and surfaces of barns on one meter are off each by itself. */
static double variance_of(const struct evidence *e, int r)
{
    const struct th_record *record = &e->records[r];
    const size_t winter = e->winter[r] < 0 ? 0 : (size_t)e->winter[r];
    double total = 0.0, barns = 0.0;
    for (int b = 0; b < e->outlook->n_barns; b++) {
        const struct th_outlook_barn *barn = &e->outlook->barns[b];
        const double gal = barn->room->copies * exp(barn->ln_y0[winter]);
        if (!on_meter(record, b))
            continue;
        total += gal;
        barns += gal * gal *
                 (TH_TURN_SD * TH_TURN_SD / barn->room->n_turns +
                  barn->surface.error * barn->surface.error);
    }
    const double levels =
        record->delivered ? M_SQRT2 * TH_GAUGE_SD * record->tank_gal / record->gal : 0.0;
    const double beyond = TH_RECORD_BEYOND * (1.0 - share_of(record));
    return record->error * record->error + levels * levels + beyond * beyond +
           barns / (total * total);
}

static enum th_code open_evidence(struct evidence *e, const struct th_outlook *outlook, int n,
                                  const struct th_record *records, struct th_error *err)
{
    *e = (struct evidence){.outlook = outlook, .n = n, .records = records};
    if (n < 1 || n > TH_RECORDS_MAX || outlook->n_z > TH_LEARN_Z_MAX)
        return th_fail(err, TH_ERR_INPUT, "at most %d records and %d barn files are weighed",
                       TH_RECORDS_MAX, (TH_LEARN_Z_MAX - 5) / 3);
    for (int r = 0; r < n; r++) {
        const enum th_code code = th_record_check(&records[r], err);
        if (code != TH_OK)
            return code;
        e->winter[r] = -1;
        for (size_t w = 0; w < outlook->n_winters; w++)
            if (outlook->years[w] == records[r].year)
                e->winter[r] = (long)w;
        e->variance[r] = variance_of(e, r);
    }
    return TH_OK;
}

/* Mean and variance of ln gallons over the winters a record may be of. */
static void winters_of(const struct evidence *e, int r, const double *z, double *mean, double *var)
{
    const size_t n = e->winter[r] < 0 ? e->outlook->n_winters : 1;
    double sum = 0.0, squares = 0.0;
    for (size_t w = 0; w < n; w++) {
        const double ln = ln_burn(e, r, e->winter[r] < 0 ? w : (size_t)e->winter[r], z);
        sum += ln;
        squares += ln * ln;
    }
    *mean = sum / (double)n;
    *var = fmax(squares / (double)n - *mean * *mean, 0.0);
}

/* Of a winter that is not known the likelihood is the mean over the winters. */
static double ln_likelihood(const struct evidence *e, const double *z)
{
    double sum = 0.0;
    for (int r = 0; r < e->n; r++) {
        const size_t n = e->winter[r] < 0 ? e->outlook->n_winters : 1;
        double mean = 0.0;
        for (size_t w = 0; w < n; w++) {
            const double off = log(e->records[r].gal) -
                               ln_burn(e, r, e->winter[r] < 0 ? w : (size_t)e->winter[r], z);
            mean += exp(-0.5 * off * off / e->variance[r]) / (double)n;
        }
        sum += log(fmax(mean, 1e-300));
    }
    return sum;
}

/* Rows for the solver: records, then the prior. */
static int rows(const gsl_vector *v, void *params, gsl_vector *f)
{
    const struct evidence *e = params;
    double z[TH_LEARN_Z_MAX];
    for (int i = 0; i < e->outlook->n_z; i++) {
        z[i] = gsl_vector_get(v, (size_t)i) - CENTRE;
        gsl_vector_set(f, (size_t)(e->n + i), z[i]);
    }
    for (int r = 0; r < e->n; r++) {
        double mean, var;
        winters_of(e, r, z, &mean, &var);
        gsl_vector_set(f, (size_t)r, (log(e->records[r].gal) - mean) / sqrt(e->variance[r] + var));
    }
    return GSL_SUCCESS;
}

/* C = (J'J)^-1 with the prior among J's rows; leaves C's lower Cholesky factor too. */
static enum th_code find_spread(gsl_multifit_nlinear_workspace *work, struct th_learnt *learnt,
                                gsl_matrix *lower, struct th_error *err)
{
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, gsl_multifit_nlinear_jac(work), 0.0, lower);
    if (gsl_linalg_cholesky_decomp1(lower) || gsl_linalg_cholesky_invert(lower))
        return th_fail(err, TH_ERR_NUMERIC, "the farms that fit could not be spread out");
    for (int i = 0; i < learnt->n_z; i++) {
        learnt->z[i] = gsl_vector_get(gsl_multifit_nlinear_position(work), (size_t)i) - CENTRE;
        learnt->sd[i] = sqrt(gsl_matrix_get(lower, (size_t)i, (size_t)i));
    }
    if (gsl_linalg_cholesky_decomp1(lower))
        return th_fail(err, TH_ERR_NUMERIC, "the farms that fit could not be spread out");
    return TH_OK;
}

/* The most likely farm, and the spread about it. */
static enum th_code find_most_likely(struct evidence *e, struct th_learnt *learnt,
                                     gsl_matrix *lower, struct th_error *err)
{
    const size_t p = (size_t)learnt->n_z;
    gsl_multifit_nlinear_fdf fdf = {.f = rows, .n = p + (size_t)e->n, .p = p, .params = e};
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    how.h_df = SLOPE_SHARE;
    how.fdtype = GSL_MULTIFIT_NLINEAR_CTRDIFF;
    gsl_multifit_nlinear_workspace *work =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, fdf.n, p);
    gsl_vector *start = gsl_vector_alloc(p);
    enum th_code code = TH_OK;
    if (!work || !start)
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (code == TH_OK) {
        int info = 0;
        gsl_vector_set_all(start, CENTRE + START_OFF_SD);
        int status = gsl_multifit_nlinear_init(start, &fdf, work);
        if (status == GSL_SUCCESS)
            status = gsl_multifit_nlinear_driver(STEPS_MAX, STEP_TOLERANCE, 1e-10, 0.0, NULL, NULL,
                                                 &info, work);
        /* "No progress": nothing near is more likely. Out of steps: near enough to draw about. */
        if (status != GSL_SUCCESS && status != GSL_ENOPROG && status != GSL_EMAXITER)
            code = th_fail(err, TH_ERR_NUMERIC, "no most likely farm was found: %s",
                           gsl_strerror(status));
    }
    if (code == TH_OK)
        code = find_spread(work, learnt, lower, err);
    gsl_multifit_nlinear_free(work);
    gsl_vector_free(start);
    return code;
}

/* One draw about the most likely farm; returns the logarithm of prior × likelihood ÷ proposal. */
static double propose(const struct evidence *e, const struct th_learnt *learnt,
                      const gsl_matrix *lower, gsl_rng *rng, gsl_vector *step, double *z)
{
    double squares = 0.0, prior = 0.0;
    for (int i = 0; i < learnt->n_z; i++) {
        const double g = gsl_ran_ugaussian(rng);
        squares += g * g;
        gsl_vector_set(step, (size_t)i, g);
    }
    gsl_blas_dtrmv(CblasLower, CblasNoTrans, CblasNonUnit, lower, step);
    for (int i = 0; i < learnt->n_z; i++) {
        z[i] = learnt->z[i] + sqrt(WIDEN) * gsl_vector_get(step, (size_t)i);
        prior += z[i] * z[i];
        if (fabs(z[i]) > TH_UNKNOWN_CUT_SD)
            return -HUGE_VAL;
    }
    return ln_likelihood(e, z) - 0.5 * prior + 0.5 * squares;
}

/* Takes draws in proportion to their weights, evenly (systematic resampling). */
static void resample(const double *drawn, const double *weight, double sum,
                     struct th_outlook *outlook)
{
    const size_t n = outlook->n_draws, p = (size_t)outlook->n_z;
    double passed = weight[0];
    size_t from = 0;
    for (size_t d = 0; d < n; d++) {
        const double at = ((double)d + 0.5) / (double)n * sum;
        while (passed < at && from + 1 < n)
            passed += weight[++from];
        memcpy(outlook->z + d * p, drawn + from * p, p * sizeof *drawn);
    }
}

/* What a record's barns burn as the files have them. */
static double before_gal(const struct evidence *e, int r)
{
    const double none[TH_LEARN_Z_MAX] = {0};
    double mean, var;
    winters_of(e, r, none, &mean, &var);
    return exp(mean);
}

static enum th_code weigh(const struct evidence *e, struct th_learnt *learnt,
                          const gsl_matrix *lower, gsl_rng *rng, gsl_vector *step, double *drawn,
                          double *weight, struct th_error *err)
{
    const size_t n = e->outlook->n_draws, p = (size_t)learnt->n_z;
    double highest = -HUGE_VAL, sum = 0.0, squares = 0.0;
    for (size_t d = 0; d < n; d++) {
        weight[d] = propose(e, learnt, lower, rng, step, drawn + d * p);
        highest = fmax(highest, weight[d]);
    }
    if (!isfinite(highest))
        return th_fail(err, TH_ERR_NUMERIC,
                       "record %s: no barn within what is not known of these comes near %.0f "
                       "gallons (about %.0f as the files have them); check the record, its season "
                       "and barns, and in the files pigs, dates and set points",
                       e->records[0].name, e->records[0].gal, before_gal(e, 0));
    for (size_t d = 0; d < n; d++) {
        weight[d] = exp(weight[d] - highest);
        sum += weight[d];
        squares += weight[d] * weight[d];
    }
    learnt->effective_draws = sum * sum / squares;
    return TH_OK;
}

static enum th_code draw_farms(const struct evidence *e, struct th_learnt *learnt,
                               const gsl_matrix *lower, struct th_outlook *outlook,
                               struct th_error *err)
{
    const size_t n = outlook->n_draws, p = (size_t)learnt->n_z;
    double *const drawn = calloc(n * p, sizeof *drawn);
    double *const weight = calloc(n, sizeof *weight);
    gsl_vector *step = gsl_vector_alloc(p);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    enum th_code code = TH_ERR_MEMORY;
    if (drawn && weight && step && rng) {
        double sum = 0.0;
        gsl_rng_set(rng, SEED);
        code = weigh(e, learnt, lower, rng, step, drawn, weight, err);
        for (size_t d = 0; d < n && code == TH_OK; d++)
            sum += weight[d];
        if (code == TH_OK)
            resample(drawn, weight, sum, outlook);
    } else {
        th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    gsl_rng_free(rng);
    gsl_vector_free(step);
    free(weight);
    free(drawn);
    return code;
}

static void tell_records(const struct evidence *e, struct th_learnt *learnt)
{
    double squares = 0.0;
    learnt->n_records = e->n;
    for (int r = 0; r < e->n; r++) {
        struct th_record_fit *fit = &learnt->records[r];
        double after, var;
        winters_of(e, r, learnt->z, &after, &var);
        *fit = (struct th_record_fit){.known_winter = e->winter[r] >= 0,
                                      .before_gal = before_gal(e, r),
                                      .after_gal = exp(after),
                                      .sd = sqrt(e->variance[r] + var)};
        fit->misfit_sd = (log(e->records[r].gal) - after) / fit->sd;
        squares += fit->misfit_sd * fit->misfit_sd;
    }
    for (int i = 0; i < learnt->n_z; i++)
        squares += learnt->z[i] * learnt->z[i];
    /* Of one record exactly its distance from the mean expected, of n one expects n − 1 more. */
    learnt->strain_sd = sqrt(fmax(squares - (e->n - 1), 0.0));
}

/* The number whose most likely deviate lies furthest off. */
static void find_moved(const struct th_outlook *outlook, struct th_learnt *learnt)
{
    double furthest = -1.0;
    for (int b = 0; b < outlook->n_barns; b++)
        for (int u = 0; u < TH_UNKNOWNS; u++) {
            const double off = fabs(learnt->z[th_outlook_place(b, (enum th_unknown)u)]);
            if (off <= furthest)
                continue;
            furthest = off;
            learnt->moved_barn = b;
            learnt->moved = (enum th_unknown)u;
        }
}

enum th_code th_learn(struct th_outlook *outlook, int n, const struct th_record *records,
                      struct th_learnt *learnt, struct th_error *err)
{
    struct evidence e;
    *learnt = (struct th_learnt){.n_z = outlook->n_z};
    enum th_code code = open_evidence(&e, outlook, n, records, err);
    if (code == TH_OK && outlook->n_draws == 0)
        code = th_outlook_draw(outlook, err);
    if (code != TH_OK)
        return code;
    gsl_matrix *lower = gsl_matrix_alloc((size_t)outlook->n_z, (size_t)outlook->n_z);
    if (!lower)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    code = find_most_likely(&e, learnt, lower, err);
    if (code == TH_OK)
        code = draw_farms(&e, learnt, lower, outlook, err);
    gsl_matrix_free(lower);
    if (code != TH_OK)
        return code;
    tell_records(&e, learnt);
    find_moved(outlook, learnt);
    return th_outlook_burn(outlook, err);
}

enum th_code th_answer_make(struct th_answer *answer, struct th_outlook *outlook, int n,
                            const struct th_record *records, struct th_error *err)
{
    *answer = (struct th_answer){.outlook = outlook, .n_records = n, .records = records};
    enum th_code code = th_outlook_draw(outlook, err);
    if (code == TH_OK)
        code = th_outlook_range(outlook, &answer->before, err);
    answer->now = answer->before;
    if (code == TH_OK && n > 0)
        code = th_learn(outlook, n, records, &answer->learnt, err);
    if (code == TH_OK && n > 0)
        code = th_outlook_range(outlook, &answer->now, err);
    return code;
}
