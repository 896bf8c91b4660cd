/* SPDX-License-Identifier: GPL-3.0-or-later */
/** From a room's [money] and a purchase to what payback.h computes with. */
#ifndef TURNHEAT_STUDY_H
#define TURNHEAT_STUDY_H

#include "turnheat/payback.h"
#include "turnheat/room.h"

/** The study of a room: its [money] section and fuel price. */
struct th_study th_study_of(const struct th_room *room);

/**
 * Adds a purchase to `outlay`: `copies` times the cost, bought again whenever its life ends within
 * the study (`life_years` 0: never), upkeep, and what is left of it at the end of the study as a
 * share of the first cost.
 */
void th_outlay_buy(struct th_outlay *outlay, int copies, double cost_usd, double life_years,
                   double upkeep_usd_year, double residual_share, int years);

#endif
