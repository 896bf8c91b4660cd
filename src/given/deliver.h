/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Where a report goes. */
#ifndef TURNHEAT_DELIVER_H
#define TURNHEAT_DELIVER_H

#include "options.h"
#include "render.h"

/**
 * Prints the report on standard output as --json or --csv ask, as text otherwise, and writes the
 * file of --html. Does not free the report. What th_report_write() and th_output_commit() return.
 */
enum th_code th_deliver(const struct th_arguments *arguments, const struct th_report *report,
                        struct th_error *err);

#endif
