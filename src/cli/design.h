/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Design temperatures for a room: those of its [site], and those of its weather. */
#ifndef TURNHEAT_CLI_DESIGN_H
#define TURNHEAT_CLI_DESIGN_H

#include "case.h"
#include "size_report.h"

/**
 * Fills `cases` (room for 2): first what [site] gives, if it does, then what the weather shows.
 * Errors as th_weather_summarise().
 */
enum th_code th_design_cases(const struct th_case *one, struct th_design_case cases[2], int *n,
                             struct th_error *err);

#endif
