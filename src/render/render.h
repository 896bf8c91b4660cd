/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The forms a report takes. */
#ifndef TURNHEAT_RENDER_H
#define TURNHEAT_RENDER_H

#include "report.h"
#include <stdio.h>

/** TH_AS_JSON_LINE is the object on one line, for many reports in one file. */
enum th_rendering { TH_AS_TEXT, TH_AS_JSON, TH_AS_JSON_LINE, TH_AS_CSV, TH_AS_HTML };

/**
 * Writes the report to `out`, which is neither flushed nor closed: th_output_commit() finds write
 * errors. Returns TH_ERR_MEMORY or TH_ERR_INTERNAL (a key used twice, rows without a table).
 */
enum th_code th_report_write(const struct th_report *report, enum th_rendering rendering, FILE *out,
                             struct th_error *err);

#endif
