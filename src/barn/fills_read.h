/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Reads tank fills from a CSV file. */
#ifndef TURNHEAT_FILLS_READ_H
#define TURNHEAT_FILLS_READ_H

#include "files.h"
#include "turnheat/calibrate.h"

#define TH_FILLS_MAX 400

/**
 * Reads fills with the columns `date` (2018-01-31), `gallons` and `level_before_pct` (gauge before
 * the delivery), in order of date, one row a fill of all tanks together; other columns are left
 * alone. Where a level is not told the fill brought the gauge to `kept_full_share` (0: a level is
 * needed). Errors name file and line: TH_ERR_READ, TH_ERR_INPUT for a date out of order or given
 * twice, a level outside 0–100, gallons below 0 or above what `capacity_gal` can take.
 */
enum th_code th_fills_read(struct th_files *files, const char *path, double capacity_gal,
                           double kept_full_share, struct th_tank_fill *fills, size_t *n,
                           struct th_error *err);

#endif
