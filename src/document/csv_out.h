/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Comma-separated output in the common form of RFC 4180, written with libcsv; lines end in LF.
 * A text that begins with = + - or @ gets an apostrophe, so that no spreadsheet runs it. */
#ifndef TURNHEAT_CSV_OUT_H
#define TURNHEAT_CSV_OUT_H

#include "report.h"

/** `n` texts, each quoted, without a line end. NULL is an empty field, not quoted. */
void th_csv_cells(FILE *out, const char *const *texts, int n);

/** The head line of a wide table: the columns' keys. */
void th_csv_head(FILE *out, const struct th_column *columns, int n);

/** One row of a wide table: numbers with nine significant digits, missing values empty. */
void th_csv_row(FILE *out, const struct th_column *columns, const struct th_value *values, int n);

#endif
