/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Small tables in CSV files: growth, set points, comfort limits, minimum air. */
#ifndef TURNHEAT_BARN_TABLES_H
#define TURNHEAT_BARN_TABLES_H

#include "files.h"
#include "quantity.h"
#include "turnheat/table.h"

/** A column that a table may have. Its header is the name, for dimensional ones with the unit, as
 * in weight_lb or weight (lb). */
struct th_table_column {
    const char *name;
    enum th_dimension dimension;
    int meaning; /**< handed back when the column is the table's x */
};

/**
 * Reads a table of two columns with a header line: one of `x_columns` (ended by a NULL name) and
 * `y_column`, in either order; SI results. Lines starting with # are comments. `x_meaning` (may be
 * NULL) receives the meaning of the x column. TH_ERR_READ, TH_ERR_INPUT or TH_ERR_RANGE with file
 * and line.
 */
enum th_code th_table_read(struct th_files *files, const char *path,
                           const struct th_table_column *x_columns,
                           const struct th_table_column *y_column, struct th_table *table,
                           int *x_meaning, struct th_error *err);

#endif
