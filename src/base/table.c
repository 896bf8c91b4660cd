/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/table.h"

#include <gsl/gsl_interp.h>
#include <math.h>

enum th_code th_table_check(const struct th_table *table, struct th_error *err)
{
    if (table->n < 1 || table->n > TH_TABLE_MAX)
        return th_fail(err, TH_ERR_RANGE, "a table has %d points; 1 to %d are allowed", table->n,
                       TH_TABLE_MAX);
    for (int i = 0; i < table->n; i++) {
        if (!isfinite(table->x[i]) || !isfinite(table->y[i]))
            return th_fail(err, TH_ERR_RANGE, "point %d of a table is not a number", i + 1);
        if (i > 0 && table->x[i] <= table->x[i - 1])
            return th_fail(err, TH_ERR_RANGE, "point %d of a table is out of order: %g after %g",
                           i + 1, table->x[i], table->x[i - 1]);
    }
    return TH_OK;
}

double th_table_at(const struct th_table *table, double x)
{
    const int last = table->n - 1;
    if (x <= table->x[0])
        return table->y[0];
    if (x >= table->x[last])
        return table->y[last];
    const size_t i = gsl_interp_bsearch(table->x, x, 0, (size_t)last);
    if (table->step)
        return table->y[i];
    const double share = (x - table->x[i]) / (table->x[i + 1] - table->x[i]);
    return table->y[i] + share * (table->y[i + 1] - table->y[i]);
}
