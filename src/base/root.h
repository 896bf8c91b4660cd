/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: one root of a continuous function: secants from what is known, else GSL's Brent method
 * with a reusable workspace. */
#ifndef TURNHEAT_CORE_ROOT_H
#define TURNHEAT_CORE_ROOT_H

#include "turnheat/error.h"
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>
#include <stdbool.h>

/**
 * Root of `f` in [low, high] to an absolute `tolerance`. TH_ERR_NUMERIC when the ends have the same
 * sign or 100 steps do not suffice. `solver` is a Brent solver; nothing is allocated.
 */
enum th_code th_root(gsl_root_fsolver *solver, gsl_function *f, double low, double high,
                     double tolerance, double *root);

/** A point of a function. */
struct th_point {
    double x, y;
};

/**
 * Looks for the same root by secants, the first through `a` and `b`, without enclosing it, which
 * takes a smooth function fewer calls. The root is `b.x` or where `f` was
 * called last. False, with nothing found, when a step leaves [low, high] or a dozen do not suffice;
 * then th_root() is the one to ask.
 */
bool th_secants(gsl_function *f, struct th_point a, struct th_point b, double low, double high,
                double tolerance, double *root);

#endif
