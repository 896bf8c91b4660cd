/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Many barns in one run, each reported alone: --json-lines and --barns. */
#ifndef TURNHEAT_FLEET_H
#define TURNHEAT_FLEET_H

#include "cases.h"

/**
 * Prints one JSON object a line for every operand and every line of --barns, in their order and as
 * soon as it is known: the report of that barn alone with its `file`, or what is wrong with it as
 * `errors`. With TH_LISTS_FARMS a line of the list is a farm file and its barn files. Weather is
 * read once for all that use it. TH_ERR_INPUT when any had errors; what ends the run at once is
 * TH_ERR_USAGE, TH_ERR_WRITE, TH_ERR_CANCELLED, TH_ERR_MEMORY, TH_ERR_INTERNAL and TH_ERR_READ of
 * the list.
 */
enum th_code th_fleet_report(const struct th_arguments *arguments, th_cases_tell tell,
                             struct th_error *err);

#endif
