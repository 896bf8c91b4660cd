/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Internal: the parts of a plan, in the order th_plan_run() goes through them. */
#ifndef TURNHEAT_FARM_PLAN_PARTS_H
#define TURNHEAT_FARM_PLAN_PARTS_H

#include "turnheat/contract.h"
#include "turnheat/plan.h"
#include "turnheat/price.h"

/** Share of the demand that group `i` of the tanks supplies. */
double th_plan_tank_share(const struct th_plan_in *in, int i);

/** Without tanks every week's use counts as delivered on its last day; returns how many weeks. */
size_t th_plan_weekly(long first_day, size_t n_days, const double *day_gal,
                      struct th_delivery *deliveries);

/** Puts deliveries of several groups in order of day. */
void th_plan_by_day(struct th_delivery *deliveries, size_t n);

/** When to order: fills `reorder_gal`, with the rooms as they most likely are and as their files
 * have them, whichever is higher. */
enum th_code th_plan_reorder(struct th_runs *runs, struct th_plan *plan, struct th_error *err);

/** Gallons of all barns in the season of `year` as planned: the barns as they most likely are. */
double th_plan_season_gal(const struct th_plan *plan, int year);

/** The tanks through every usable year: fills `tanks` and `tank_years`. */
enum th_code th_plan_tanks(struct th_plan *plan, const struct th_plan_in *in, struct th_error *err);

/** The barns with their unknown numbers off, in the season nearest the mean. */
enum th_code th_plan_unknowns(struct th_runs *runs, struct th_plan *plan,
                              const struct th_plan_in *in, struct th_error *err);

/** Every placement a week later. */
enum th_code th_plan_slip(struct th_runs *runs, struct th_plan *plan, const struct th_plan_in *in,
                          struct th_error *err);

/** Winters as the contracts see them, and the prices over them. */
struct th_plan_market {
    struct th_winter *winters;
    struct th_price_paths paths;
    struct th_market calm, tight; /* without and with tight supply in every path */
};

/** The market of a plan; where no price is known or nothing is offered, no winters. Close it in any
 * case. */
enum th_code th_plan_market_open(struct th_plan_market *market, const struct th_plan *plan,
                                 struct th_error *err);

void th_plan_market_close(struct th_plan_market *market);

/** What each contract costs and how much of it to take; nothing without winters. */
enum th_code th_plan_offers(struct th_plan *plan, const struct th_plan_market *market,
                            struct th_error *err);

/** All offers together, over winters, farms of the outlook and calm prices; nothing without
 * winters. */
enum th_code th_plan_split(struct th_plan *plan, const struct th_plan_market *market,
                           struct th_error *err);

#endif
