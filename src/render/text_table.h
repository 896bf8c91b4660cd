/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A table of a report in plain text: aligned, headed, and never wider than the page. */
#ifndef TURNHEAT_TEXT_TABLE_H
#define TURNHEAT_TEXT_TABLE_H

#include "report_doc.h"

/**
 * Prints the table. One too wide for the page is laid on its side when that fits, else it is cut
 * into groups of columns, each beginning with the first column. TH_ERR_MEMORY.
 */
enum th_code th_text_table(FILE *out, const struct grid *grid, struct th_error *err);

#endif
