/* SPDX-License-Identifier: GPL-3.0-or-later */
/** From a room's [money] and a purchase to what payback.h computes with. */
#ifndef TURNHEAT_STUDY_H
#define TURNHEAT_STUDY_H

#include "turnheat/payback.h"
#include "turnheat/room.h"

/** The study of a room: its [money] section and fuel price. */
struct th_study th_study_of(const struct th_room *room);

/** Something to buy for one room: a choice of `compare` or an option of `quote`. */
struct th_purchase {
    char name[TH_NAME_MAX];
    char note[160];
    double cost_usd;        /**< extra first cost */
    double life_years;      /**< bought again when it ends; 0: not within the study */
    double upkeep_usd_year; /**< extra upkeep */
    double residual_share;  /**< of the first cost, worth at the end of the study */
};

/** Adds `copies` of a purchase to `outlay`, bought again whenever its life ends within `years`. */
void th_outlay_buy(struct th_outlay *outlay, int copies, const struct th_purchase *purchase,
                   int years);

#endif
