/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Monthly statistics of a place from a CSV table. */
#ifndef TURNHEAT_NORMALS_READ_H
#define TURNHEAT_NORMALS_READ_H

#include "files.h"
#include "turnheat/normals.h"

/**
 * Reads twelve rows with the columns month (1–12), mean_f, sd_f, lag1, range_f and, where known,
 * dew_point_f, wind_mph and season_offset_f; or mean_c, sd_c, range_c, dew_point_c, wind_m_s,
 * season_offset_c. Lines beginning with #
 * are remarks; "# place: NAME" names the place, else the file does. Without
 * sd, lag1 and range they are those of the nearest known places (places.h), so are dew point, wind
 * and offset where they are absent: then the place must be one of these, or remarks "# latitude:"
 * and "# longitude:" say where it lies. TH_ERR_READ with file and line;
 * what th_normals_check() refuses, with the file.
 */
enum th_code th_normals_read(struct th_files *files, const char *path, struct th_normals *normals,
                             struct th_error *err);

#endif
