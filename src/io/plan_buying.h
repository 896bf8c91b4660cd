/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The market of a plan, and how costs over it are shown. */
#ifndef TURNHEAT_PLAN_BUYING_H
#define TURNHEAT_PLAN_BUYING_H

#include "plan_report.h"

/** Winters as the contracts see them, and the prices over them. */
struct th_plan_market {
    struct th_winter *winters;
    struct th_price_paths paths;
    struct th_market calm, tight; /**< without and with tight supply in every path */
    double most_gal;              /**< delivered in the winter that takes the most */
};

/** Number of th_plan_cost_columns and of th_plan_cost_values() values. */
#define TH_PLAN_COST_COLUMNS 7
extern const struct th_column th_plan_cost_columns[TH_PLAN_COST_COLUMNS];

/**
 * Mean, then cheapest, middle and dearest season (two to nine seasons), then P50, P90 and worst
 * twentieth (ten and more); what does not hold is missing.
 */
void th_plan_cost_values(const struct th_volume_cost *cost,
                         struct th_value values[TH_PLAN_COST_COLUMNS]);

/** How much to book of every prepaid and booked contract. Errors as th_contract_costs(). */
enum th_code th_plan_volumes(struct th_report *report, const struct th_plan *plan,
                             const struct th_plan_market *market, struct th_error *err);

#endif
