/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "root.h"

#include <gsl/gsl_errno.h>

#define SECANTS_MAX 12

enum th_code th_root(gsl_root_fsolver *solver, gsl_function *f, double low, double high,
                     double tolerance, double *root)
{
    if (gsl_root_fsolver_set(solver, f, low, high) != GSL_SUCCESS)
        return TH_ERR_NUMERIC;
    for (int i = 0; i < 100; i++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
            return TH_ERR_NUMERIC;
        if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                   gsl_root_fsolver_x_upper(solver), tolerance,
                                   0.0) == GSL_SUCCESS) {
            *root = gsl_root_fsolver_root(solver);
            return TH_OK;
        }
    }
    return TH_ERR_NUMERIC;
}

bool th_secants(gsl_function *f, struct th_point a, struct th_point b, double low, double high,
                double tolerance, double *root)
{
    for (int i = 0; i < SECANTS_MAX; i++) {
        const double next = b.x - b.y * (b.x - a.x) / (b.y - a.y);
        if (fabs(next - b.x) <= tolerance) {
            *root = b.x;
            return true;
        }
        if (!(next >= low && next <= high))
            return false;
        a = b;
        b = (struct th_point){next, GSL_FN_EVAL(f, next)};
    }
    return false;
}
