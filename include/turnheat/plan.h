/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A farm's fuel plan: gallons over winters, whether the tanks keep up, what is not known, and what
 * each way of buying costs.
 */
#ifndef TURNHEAT_PLAN_H
#define TURNHEAT_PLAN_H

#include "turnheat/contract.h"
#include "turnheat/demand.h"
#include "turnheat/record.h"
#include "turnheat/risk.h"
#include "turnheat/split.h"
#include "turnheat/spread.h"

/** Volumes that are tried of each contract. */
#define TH_PLAN_VOLUMES 11

struct th_ahead;

/** What the plan is made from; pointers are borrowed. */
struct th_plan_in {
    const struct th_case *cases;
    int n_cases;
    const struct th_tank *tanks;
    int n_tanks; /**< ≤ TH_TANKS_MAX; 0: every week's use is taken as delivered */
    const struct th_contract *contracts;
    int n_contracts; /**< ≤ TH_CONTRACTS_MAX */
    const struct th_use *uses;
    int n_uses;
    const struct th_record *records;
    int n_records;                      /**< ≤ TH_RECORDS_MAX */
    const struct th_price_model *price; /**< posted price 0: no dollars */
    unsigned long seed;
    size_t n_paths;
};

/** What the tanks did in one fuel year, all groups together. */
struct th_tank_year {
    double delivered_gal;
    double lowest_share; /**< lowest level of any group, of its capacity */
    int run_out_days;
    size_t hours_short;                  /**< hours in which a group made less vapour than asked */
    size_t days_supply;                  /**< from the fill level, the coldest stretch */
    double level_gal[TH_FUEL_YEAR_DAYS]; /**< all groups together, after each day's use */
    double start_gal, end_gal;           /**< in the tanks; 0 without any */
    double short_gal;                    /**< asked for when they had run out */
    size_t n_deliveries;
    struct th_delivery *deliveries; /**< owned, in order of day */
};

/** Gas of one season of all barns: as they are, and one number off. */
struct th_plan_unknowns {
    int year; /**< its place among the years of the demand: the season nearest the mean */
    double base_j;
    struct th_risk_range ranges[TH_UNKNOWNS];
};

/** An offer taken as it stands, over winters and prices. */
struct th_plan_offer {
    const struct th_contract *contract;
    struct th_volume_cost calm, tight; /**< without and with tight supply in every path */
    double *winter_usd;                /**< mean cost in each usable year, owned */
};

/** How much to take of a prepaid or booked contract. */
struct th_plan_volume {
    const struct th_contract *contract;
    struct th_volume_cost costs[TH_PLAN_VOLUMES];
    struct th_volume_choice choice;
    bool has_formula;
    double formula_gal; /**< best volume by th_booking_best(), where its conditions hold */
};

struct th_plan_buying {
    int n_offers; /**< 0 without contracts or a price */
    struct th_plan_offer offers[TH_CONTRACTS_MAX];
    double step_gal; /**< between volumes */
    int n_volumes;
    struct th_plan_volume *volumes; /**< owned */
    bool has_split;
    struct th_split_advice split; /**< all offers together, in the order of the contracts */
};

/** What `th_plan_run()` finds. Owns memory. */
struct th_plan {
    const struct th_plan_in *in; /**< what it was made from, borrowed */
    struct th_demand demand;
    struct th_plan_unknowns unknowns;
    struct th_outlook outlook; /**< nothing drawn where the barns burn nothing */
    struct th_answer answer;   /**< of it */
    bool learnt;               /**< from fills or records */
    struct th_likely likely; /**< the barns as they most likely are: demand, tanks and trucks, what
                                is not known and a week's slip are theirs */
    bool has_slip;           /**< some season is covered both ways */
    double slip_gal;         /**< what a mean season takes more when every placement slips a week */
    struct th_tank_year *tank_years;    /**< one per year of the demand; empty for unusable ones */
    struct th_tank tanks[TH_TANKS_MAX]; /**< with their outer sizes */
    double reorder_gal[TH_TANKS_MAX];
    struct th_plan_buying buying;
    int season_year;         /**< of dated placements; 0 without */
    struct th_ahead *season; /**< the season to come by week and month; owned */
};

/**
 * The first part of th_plan_run(): demand, tanks and the outlook with its records. Errors as there.
 * Finish `plan` in any case.
 */
enum th_code th_plan_winters(struct th_runs *runs, const struct th_plan_in *in,
                             struct th_plan *plan, struct th_error *err);

/**
 * Runs rooms and tanks and weighs the contracts. Errors as th_demand_run(), th_tank_run() and
 * th_contract_costs(). Finish `plan` in any case.
 */
enum th_code th_plan_run(struct th_runs *runs, const struct th_plan_in *in, struct th_plan *plan,
                         struct th_error *err);

/** Frees; a second call is allowed. */
void th_plan_finish(struct th_plan *plan);

/** A value of the year at place `year` of the plan; `index` as the function wants it. */
typedef double th_plan_value(const struct th_plan *plan, int year, int index);

/** Gallons of all barns; of barns and other users; put into the tanks; of month `index`. */
th_plan_value th_plan_barns_gal, th_plan_used_gal, th_plan_delivered_gal, th_plan_month_gal;

/** Spread of a value over the usable years. Errors as th_spread_of(). */
enum th_code th_plan_spread(const struct th_plan *plan, th_plan_value *value, int index,
                            struct th_spread *spread, struct th_error *err);

/** The usable year that uses most, its place among the years. */
int th_plan_worst_year(const struct th_plan *plan);

/** The usable year with as many above it as below. */
int th_plan_middle_year(const struct th_plan *plan);

#endif
