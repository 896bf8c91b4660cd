/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: one root of a continuous function by GSL's Brent method, with a reusable workspace. */
#ifndef TURNHEAT_CORE_ROOT_H
#define TURNHEAT_CORE_ROOT_H

#include "turnheat/error.h"
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>

/**
 * Root of `f` in [low, high] to an absolute `tolerance`. TH_ERR_NUMERIC when the ends have the same
 * sign or 100 steps do not suffice. `solver` is a Brent solver; nothing is allocated.
 */
enum th_code th_root(gsl_root_fsolver *solver, gsl_function *f, double low, double high,
                     double tolerance, double *root);

#endif
