/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The fuel plan: gallons over winters, what to book, and whether the tanks keep up. */
#ifndef TURNHEAT_PLAN_REPORT_H
#define TURNHEAT_PLAN_REPORT_H

#include "barn_draft.h"
#include "farm_demand.h"
#include "progress.h"
#include "report.h"
#include "risk_text.h"
#include "turnheat/contract.h"
#include "turnheat/spread.h"

/** What the plan is made from; pointers are borrowed. */
struct th_plan_in {
    const struct th_case *cases;
    int n_cases;
    const struct th_tank *tanks;
    int n_tanks;
    const struct th_contract *contracts;
    int n_contracts;
    const struct th_use *uses;
    int n_uses;
    const struct th_price_model *price; /**< posted price 0: no dollars */
    unsigned long seed;
    size_t n_paths;
    struct th_progress *progress; /**< NULL: none */
};

/** What the tanks did in one fuel year, all groups together. */
struct th_tank_year {
    double delivered_gal;
    double lowest_share; /**< lowest level of any group, of its capacity */
    int run_out_days;
    size_t hours_short;                  /**< hours in which a group made less vapour than asked */
    size_t days_supply;                  /**< from the fill level, the coldest stretch */
    double level_gal[TH_FUEL_YEAR_DAYS]; /**< all groups together, after each day's use */
    size_t n_deliveries;
    struct th_delivery *deliveries; /**< owned, in order of day */
};

/** Gas of one season of all barns: as they are, one number off, and all of them drawn. */
struct th_plan_unknowns {
    int year; /**< its place among the years of the demand: the season nearest the mean */
    double base_j;
    struct th_risk_range ranges[TH_RISK_COUNT];
    double drawn_j[TH_RISK_DRAWS];
};

struct th_plan {
    const struct th_plan_in *in;
    struct th_farm_demand demand;
    struct th_plan_unknowns unknowns;
    struct th_tank_year *tank_years;    /**< one per year of the demand; empty for unusable ones */
    struct th_tank tanks[TH_TANKS_MAX]; /**< with their outer sizes */
    double reorder_gal[TH_TANKS_MAX];
};

/** Runs rooms and tanks. Errors as th_farm_demand_run() and th_tank_run(). Finish in any case. */
enum th_code th_plan_run(struct th_plan *plan, const struct th_plan_in *in, struct th_error *err);

/** Frees; a second call is allowed. */
void th_plan_finish(struct th_plan *plan);

/** Adds the whole plan. Errors as th_contract_costs(). */
enum th_code th_plan_report(struct th_report *report, const struct th_plan *plan,
                            struct th_error *err);

/** Runs the barns with their unknown numbers off. Errors as th_risk_together(). */
enum th_code th_plan_unknowns_run(struct th_plan *plan, struct th_error *err);

/** Parts of the report: how sure, a slip of a week, one number of the barns at a time. */
void th_plan_barns_open(struct th_report *report, const struct th_plan *plan);
enum th_code th_plan_sure(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err);
enum th_code th_plan_slip(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err);

/** Name of the season `year` (its place among the years of the demand), such as 2017-18. */
void th_plan_season_name(const struct th_plan *plan, int year, char name[]);

/** Gallons put into the tanks in the year. */
double th_plan_delivered_gal(const struct th_plan *plan, int year, int unused);

/** Spread of a value over the usable years. Errors as th_spread_of(). */
enum th_code th_plan_spread(const struct th_plan *plan,
                            double (*value)(const struct th_plan *plan, int year, int index),
                            int index, struct th_spread *spread, struct th_error *err);

#endif
