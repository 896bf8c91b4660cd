/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Small value tables: growth, set points, minimum air. Plain values; copying copies the table. */
#ifndef TURNHEAT_TABLE_H
#define TURNHEAT_TABLE_H

#include "turnheat/error.h"
#include <stdbool.h>

#define TH_TABLE_MAX 64

/**
 * Points (x, y) with x strictly increasing. Between points the value is linear or, with `step`,
 * that of the point below; outside the table it is that of the nearest end.
 */
struct th_table {
    int n;
    bool step;
    double x[TH_TABLE_MAX];
    double y[TH_TABLE_MAX];
};

/** Checks 1 ≤ n ≤ TH_TABLE_MAX, finite values and increasing x. TH_ERR_RANGE names the point. */
enum th_code th_table_check(const struct th_table *table, struct th_error *err);

/** The table's value at `x`. The table must have passed th_table_check(). */
double th_table_at(const struct th_table *table, double x);

#endif
