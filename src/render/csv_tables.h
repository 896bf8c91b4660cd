/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A report as tidy tables: one row a thing, one column a quantity, the same table of all rooms
 * in one, led by a column `room` with their names. The facts of a section are one row a part.
 */
#ifndef TURNHEAT_CSV_TABLES_H
#define TURNHEAT_CSV_TABLES_H

#include "report.h"
#include <stdio.h>

/** Room for the name of a table, "rooms.months.months". */
#define TH_TABLE_NAME_MAX 160

/** How many tables the report has; 0 for NULL. */
int th_report_tables(const struct th_report *report);

/** The name of table `index`, counted from 0: letters, digits, `_` and `.`. */
const char *th_report_table_name(const struct th_report *report, int index,
                                 char name[TH_TABLE_NAME_MAX]);

/**
 * Writes table `index` with its head; `named` puts the table's name into a first column, so that
 * several can follow each other. TH_ERR_INTERNAL as th_report_write().
 */
enum th_code th_report_write_table(const struct th_report *report, int index, bool named, FILE *out,
                                   struct th_error *err);

#endif
