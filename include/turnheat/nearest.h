/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The name a person probably meant. */
#ifndef TURNHEAT_NEAREST_H
#define TURNHEAT_NEAREST_H

#include <stddef.h>

/** How many letters must be changed, added, dropped or swapped with a neighbour to turn `a` into
 * `b`, case aside. Only the first 47 bytes count. */
int th_nearest_distance(const char *a, const char *b);

/** Whether `distance` is small enough for `name` to be a misspelling. */
int th_nearest_likely(const char *name, int distance);

/** The first of the nearest of `n` names, or NULL when `name` is likely none of them misspelt. */
const char *th_nearest(const char *name, const char *const *names, size_t n);

#endif
