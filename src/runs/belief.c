/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/learn.h"

#include "turnheat/outlook.h"

#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

_Static_assert(TH_FITTED_NUMBERS == (int)TH_UNKNOWNS, "one deviate for each number not known");

/* A direction is left out when the fills narrowed it by less. */
#define WAY_LEAST 0.01
/* Numbers of one fit are printed in several files, each rounded. */
#define SAME 1e-9

void th_belief_at(const struct th_belief *belief, int n_z, const double *u, double *z)
{
    for (int i = 0; i < n_z; i++) {
        z[i] = belief->n_z > 0 ? belief->z[i] : u[i];
        for (int j = 0; j <= i && belief->n_z > 0; j++)
            z[i] += belief->spread[i][j] * u[j];
    }
}

double th_belief_sd(const struct th_belief *belief, int i)
{
    double squares = 0.0;
    for (int j = 0; j <= i; j++)
        squares += belief->spread[i][j] * belief->spread[i][j];
    return belief->n_z > 0 ? sqrt(squares) : 1.0;
}

double th_belief_distance2(const struct th_belief *belief, int n_z, const double *z)
{
    double u[TH_LEARN_Z_MAX], sum = 0.0;
    for (int i = 0; i < n_z; i++) {
        u[i] = belief->n_z > 0 ? z[i] - belief->z[i] : z[i];
        for (int j = 0; j < i && belief->n_z > 0; j++)
            u[i] -= belief->spread[i][j] * u[j];
        u[i] /= belief->n_z > 0 ? belief->spread[i][i] : 1.0;
        sum += u[i] * u[i];
    }
    return sum;
}

/* One fit among the rooms: its deviates, and in C the covariance I − Σ way wayᵀ. */
static enum th_code gather_fit(const struct th_room *const *rooms, int n, int first, double *z,
                               gsl_matrix *c, struct th_error *err)
{
    const struct th_fitted *one = &rooms[first]->fitted;
    double way[TH_FITTED_WAYS][TH_LEARN_Z_MAX] = {{0}};
    for (int b = first; b < n; b++) {
        const struct th_fitted *f = &rooms[b]->fitted;
        if (!f->given || strcmp(f->fit, one->fit) != 0)
            continue;
        for (int u = 0; u < TH_FITTED_NUMBERS; u++) {
            const int at = th_outlook_place(b, (enum th_unknown)u);
            bool differs = fabs(f->z[u] - one->z[u]) > SAME;
            z[at] = f->z[u];
            for (int w = 0; w < TH_FITTED_WAYS; w++) {
                differs = differs || fabs(f->way[w][u] - one->way[w][u]) > SAME;
                way[w][at] = f->way[w][u];
            }
            if (differs && th_unknown_scope((enum th_unknown)u) != TH_SCOPE_BARN)
                return th_fail(err, TH_ERR_INPUT,
                               "[calibration] of %s and %s are both of fit %s and differ in what "
                               "barns share; run turnheat calibrate again",
                               rooms[first]->name, rooms[b]->name, one->fit);
        }
    }
    gsl_matrix_set_identity(c);
    for (size_t i = 0; i < c->size1; i++)
        for (size_t j = 0; j < c->size2; j++)
            for (int w = 0; w < TH_FITTED_WAYS; w++)
                *gsl_matrix_ptr(c, i, j) -= way[w][i] * way[w][j];
    return TH_OK;
}

/* What fits add up to: precision less that of N(0, I), and precision times deviates. */
struct adding {
    gsl_matrix *precision, *c;
    double pull[TH_LEARN_Z_MAX];
};

static enum th_code add_fit(const struct th_room *const *rooms, int n, int first,
                            struct adding *sum, struct th_error *err)
{
    double z[TH_LEARN_Z_MAX] = {0};
    const enum th_code code = gather_fit(rooms, n, first, z, sum->c, err);
    if (code != TH_OK)
        return code;
    if (gsl_linalg_cholesky_decomp1(sum->c) || gsl_linalg_cholesky_invert(sum->c))
        return th_fail(err, TH_ERR_INPUT,
                       "[calibration] of %s is not as it was printed; run turnheat calibrate again",
                       rooms[first]->name);
    for (size_t i = 0; i < sum->c->size1; i++)
        for (size_t j = 0; j < sum->c->size2; j++) {
            const double c = gsl_matrix_get(sum->c, i, j);
            sum->pull[i] += c * z[j];
            *gsl_matrix_ptr(sum->precision, i, j) += c - (i == j);
        }
    return TH_OK;
}

static enum th_code conclude(struct adding *sum, struct th_belief *belief, struct th_error *err)
{
    if (gsl_linalg_cholesky_decomp1(sum->precision) || gsl_linalg_cholesky_invert(sum->precision))
        return th_fail(err, TH_ERR_INPUT, "the [calibration] sections contradict each other");
    for (int i = 0; i < belief->n_z; i++)
        for (int j = 0; j < belief->n_z; j++)
            belief->z[i] += gsl_matrix_get(sum->precision, (size_t)i, (size_t)j) * sum->pull[j];
    if (gsl_linalg_cholesky_decomp1(sum->precision))
        return th_fail(err, TH_ERR_INPUT, "the [calibration] sections contradict each other");
    for (int i = 0; i < belief->n_z; i++)
        for (int j = 0; j <= i; j++)
            belief->spread[i][j] = gsl_matrix_get(sum->precision, (size_t)i, (size_t)j);
    return TH_OK;
}

/* Whether a room before it is of the same fit. */
static bool seen(const struct th_room *const *rooms, int b)
{
    for (int before = 0; before < b; before++)
        if (rooms[before]->fitted.given &&
            strcmp(rooms[before]->fitted.fit, rooms[b]->fitted.fit) == 0)
            return true;
    return false;
}

static enum th_code add_fits(const struct th_room *const *rooms, int n, struct adding *sum,
                             struct th_belief *belief, struct th_error *err)
{
    enum th_code code = TH_OK;
    gsl_matrix_set_identity(sum->precision);
    for (int b = 0; b < n && code == TH_OK; b++)
        if (rooms[b]->fitted.given && !seen(rooms, b))
            code = add_fit(rooms, n, b, sum, err);
    return code == TH_OK ? conclude(sum, belief, err) : code;
}

enum th_code th_belief_of_rooms(const struct th_room *const *rooms, int n, struct th_belief *belief,
                                struct th_error *err)
{
    const int n_z = th_outlook_deviates(n);
    int n_given = 0;
    *belief = (struct th_belief){0};
    for (int b = 0; b < n; b++)
        n_given += rooms[b]->fitted.given;
    if (n_given == 0)
        return TH_OK;
    if (n_z > TH_LEARN_Z_MAX)
        return th_fail(err, TH_ERR_INPUT, "at most %d barn files with [calibration] go together",
                       (TH_LEARN_Z_MAX - 5) / 3);
    struct adding sum = {.precision = gsl_matrix_alloc((size_t)n_z, (size_t)n_z),
                         .c = gsl_matrix_alloc((size_t)n_z, (size_t)n_z)};
    enum th_code code = TH_ERR_MEMORY;
    belief->n_z = n_z;
    if (sum.precision && sum.c)
        code = add_fits(rooms, n, &sum, belief, err);
    else
        th_fail(err, TH_ERR_MEMORY, "out of memory");
    gsl_matrix_free(sum.precision);
    gsl_matrix_free(sum.c);
    return code;
}

/* The directions in which I − C is largest. */
static void take_ways(const gsl_vector *values, const gsl_matrix *vectors, int n,
                      struct th_fitted *fitted)
{
    for (size_t w = 0; w < TH_FITTED_WAYS && w < values->size; w++) {
        const double value = gsl_vector_get(values, w);
        for (int b = 0; b < n && value > WAY_LEAST; b++)
            for (int u = 0; u < TH_FITTED_NUMBERS; u++)
                fitted[b].way[w][u] =
                    sqrt(value) *
                    gsl_matrix_get(vectors, (size_t)th_outlook_place(b, (enum th_unknown)u), w);
    }
}

enum th_code th_belief_to_rooms(const struct th_belief *belief, int n, struct th_fitted *fitted,
                                struct th_error *err)
{
    const size_t n_z = (size_t)belief->n_z;
    gsl_matrix *narrowed = gsl_matrix_alloc(n_z, n_z), *vectors = gsl_matrix_alloc(n_z, n_z);
    gsl_vector *values = gsl_vector_alloc(n_z);
    gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc(n_z);
    enum th_code code = TH_ERR_MEMORY;
    if (narrowed && vectors && values && work) {
        for (size_t i = 0; i < n_z; i++)
            for (size_t j = 0; j < n_z; j++) {
                double c = 0.0;
                for (size_t k = 0; k <= i && k <= j; k++)
                    c += belief->spread[i][k] * belief->spread[j][k];
                gsl_matrix_set(narrowed, i, j, (i == j) - c);
            }
        gsl_eigen_symmv(narrowed, values, vectors, work);
        gsl_eigen_symmv_sort(values, vectors, GSL_EIGEN_SORT_VAL_DESC);
        for (int b = 0; b < n; b++)
            for (int u = 0; u < TH_FITTED_NUMBERS; u++)
                fitted[b].z[u] = belief->z[th_outlook_place(b, (enum th_unknown)u)];
        take_ways(values, vectors, n, fitted);
        code = TH_OK;
    } else {
        th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    gsl_matrix_free(narrowed);
    gsl_matrix_free(vectors);
    gsl_vector_free(values);
    if (work)
        gsl_eigen_symmv_free(work);
    return code;
}
