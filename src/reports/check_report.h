/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What a barn file says, worked out and laid before its owner. Needs no weather. */
#ifndef TURNHEAT_CHECK_REPORT_H
#define TURNHEAT_CHECK_REPORT_H

#include "barn_effects.h"
#include "report.h"

/**
 * Adds the inputs of one barn that was read without errors: files, size, surfaces and their heat
 * loss, air, heaters, turns, pigs by week, choices, options and what the farm has in tanks and
 * contracts, without those of the farm file when they were `farm_told` before. TH_ERR_MEMORY, or
 * TH_ERR_RANGE when a start weight lies outside the growth curve.
 */
enum th_code th_check_report(struct th_report *report, const struct th_barn *barn, bool farm_told,
                             struct th_error *err);

/** Adds every input as given or default, in the order of what each does to the gas where `effects`
 * tells it. TH_ERR_MEMORY. */
enum th_code th_checked_inputs(struct th_report *report, const struct th_barn *barn,
                               const struct th_barn_effects *effects, struct th_error *err);

/* The pieces, each adding one or two sections. */

void th_checked_shell(struct th_report *report, const struct th_room *room);
void th_checked_air(struct th_report *report, const struct th_room *room);
void th_checked_heaters(struct th_report *report, const struct th_room *room);
enum th_code th_checked_pigs(struct th_report *report, const struct th_room *room,
                             struct th_error *err);
void th_checked_farm(struct th_report *report, const struct th_barn *barn, bool farm_told);

#endif
