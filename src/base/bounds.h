/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: the lesser and the greater of two numbers that are numbers. Unlike fmin() and fmax(),
 * which also look for NAN, they are an instruction each. */
#ifndef TURNHEAT_BOUNDS_H
#define TURNHEAT_BOUNDS_H

static inline double th_lesser(double a, double b)
{
    return a < b ? a : b;
}

static inline double th_greater(double a, double b)
{
    return a > b ? a : b;
}

/** `x`, or the nearer of the bounds. */
static inline double th_within(double x, double low, double high)
{
    return th_lesser(th_greater(x, low), high);
}

#endif
