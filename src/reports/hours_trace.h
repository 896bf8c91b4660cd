/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The hourly trace: one line of CSV for every simulated hour. */
#ifndef TURNHEAT_HOURS_TRACE_H
#define TURNHEAT_HOURS_TRACE_H

#include "turnheat/trace.h"

#include <stdio.h>

/**
 * Writes a header and all hours of the counted seasons of one room (one copy) to `out`. Errors as
 * th_trace_run(); write errors are left in `out`.
 */
enum th_code th_hours_write(FILE *out, struct th_runs *runs, const struct th_case *one,
                            struct th_error *err);

#endif
