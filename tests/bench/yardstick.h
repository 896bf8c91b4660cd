/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Weather files of invented numbers, and the bare CSV loop that everything is measured against. */
#ifndef TURNHEAT_BENCH_YARDSTICK_H
#define TURNHEAT_BENCH_YARDSTICK_H

#include <stdbool.h>

/** A typical year as wide as the public ones: 71 columns, 8,760 rows. False on a write error. */
bool yardstick_write_wide(const char *path);

/** `years` years of hours in 5 columns: time, temperature, humidity, pressure, wind. */
bool yardstick_write_narrow(const char *path, int years);

/**
 * Reads `path` `times` times in pieces of 64 KiB through libcsv and returns the fields seen; the
 * callbacks do nothing else. -1 when the file cannot be read.
 */
long yardstick_loop(const char *path, int times);

#endif
