/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "root.h"

#include <gsl/gsl_errno.h>

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
