/* SPDX-License-Identifier: GPL-3.0-or-later */
/** From a room's [money] and a purchase to what payback.h computes with. */
#ifndef TURNHEAT_STUDY_H
#define TURNHEAT_STUDY_H

#include "turnheat/payback.h"
#include "turnheat/room.h"

/** The study of a room: its [money] section and fuel price. */
struct th_study th_study_of(const struct th_room *room);

/** Units of `now` that cost as much as `gas_j` of `then`, another fuel or at another price; where
 * one has no price, as much as they burn. */
double th_units_as_dear(const struct th_fuel *now, const struct th_fuel *then, double gas_j);

/** Something to buy for one room: a choice of `compare` or an option of `quote`. */
struct th_purchase {
    char name[TH_NAME_MAX];
    char note[160];
    char group[TH_NAME_MAX]; /**< only one of those with the same name can be had; "": no group */
    double cost_usd;         /**< extra first cost */
    double life_years;       /**< bought again when it ends; 0: not within the study */
    double upkeep_usd_year;  /**< extra upkeep */
    bool has_residual;       /**< else the straight-line share of its cost its life leaves */
    double residual_share;   /**< of the first cost, worth at the end of the study */
};

/**
 * Share of its cost that a purchase is worth at the end of a study of `years`: as given, or what
 * the remaining life of the one then in use is of its life, 0 without a life (NIST Handbook 135,
 * from memory; 10 CFR 436.19).
 */
double th_purchase_residual(const struct th_purchase *purchase, int years);

/** What `cost_usd` is a year over a life of `life_years` at the real rate `discount`: the
 * equivalent annual cost. All of it where the life is below a year. */
double th_annual_usd(double cost_usd, double life_years, double discount);

/**
 * Adds `copies` of a purchase to `outlay`: bought again whenever its life ends before the last of
 * `years`, less what is then left of its worth. A rebate, a cost below 0, comes once and leaves
 * nothing.
 */
void th_outlay_buy(struct th_outlay *outlay, int copies, const struct th_purchase *purchase,
                   int years);

#endif
