/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The market of a plan, and how costs over it are shown. */
#ifndef TURNHEAT_PLAN_BUYING_H
#define TURNHEAT_PLAN_BUYING_H

#include "plan_report.h"

/** Volumes that are tried of each contract. */
#define TH_PLAN_VOLUMES 11
#define TH_PLAN_KEY_MAX 96

/** One contract that takes a volume, weighed. */
struct th_plan_weighed {
    const struct th_contract *contract;
    char key[TH_PLAN_KEY_MAX]; /**< of its table */
    struct th_volume_cost costs[TH_PLAN_VOLUMES];
    struct th_volume_choice choice;
    bool has_formula;
    double formula_gal;
};

/** Winters as the contracts see them, the prices over them, and how much of each to take. */
struct th_plan_market {
    struct th_winter *winters;
    struct th_price_paths paths;
    struct th_market calm, tight; /**< without and with tight supply in every path */
    double step_gal;              /**< between volumes */
    int n_weighed;
    struct th_plan_weighed *weighed; /**< TH_CONTRACTS_MAX */
};

/**
 * Draws prices and weighs every prepaid and booked contract; without a fuel price or contracts
 * there is nothing to do. TH_ERR_INPUT when two contracts would share a key; otherwise as
 * th_contract_costs(). Close in any case.
 */
enum th_code th_plan_market_open(struct th_plan_market *market, const struct th_plan *plan,
                                 struct th_error *err);
void th_plan_market_close(struct th_plan_market *market);

/**
 * Adds cells: mean, then cheapest, middle and dearest season (two to nine seasons), then P50, P90
 * and worst twentieth (ten and more); what does not hold is missing.
 */
void th_plan_cost_cells(struct th_report *report, const struct th_volume_cost *cost);

/** Fills `weighed` and `n_weighed`. */
enum th_code th_plan_weigh(struct th_plan_market *market, const struct th_plan *plan,
                           struct th_error *err);

/** Adds how much to take of every prepaid and booked contract. */
void th_plan_volumes(struct th_report *report, const struct th_plan *plan,
                     const struct th_plan_market *market);

/** The section on buying. Errors as th_contract_costs(). */
enum th_code th_plan_buying(struct th_report *report, const struct th_plan *plan,
                            const struct th_plan_market *market, struct th_error *err);

/** The few lines on top: how much, when, what to take, when to order. */
enum th_code th_plan_short(struct th_report *report, const struct th_plan *plan,
                           const struct th_plan_market *market, struct th_error *err);

#endif
