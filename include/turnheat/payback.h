/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Whether an investment returns its money. Measures of NIST Handbook 135 and 10 CFR 436 subpart A:
 * amounts at the end of the year they fall in, in constant dollars, at a real discount rate.
 *
 * A result never is NaN or infinite: it carries a state, and a value only when it is defined.
 */
#ifndef TURNHEAT_PAYBACK_H
#define TURNHEAT_PAYBACK_H

#include "turnheat/error.h"
#include <stdbool.h>
#include <stddef.h>

#define TH_PAYBACK_YEARS_MAX 60
/** One sum for each year of the longest study. */
#define TH_PAYBACK_ONCE_MAX TH_PAYBACK_YEARS_MAX

/** An amount at the end of one year of the study. */
struct th_once {
    int year; /**< 1…years */
    double usd;
};

/** What one alternative costs. Amounts per year are at today's prices, the same every year. */
struct th_outlay {
    double first_usd;       /**< paid at the start, ≥ 0 */
    double residual_usd;    /**< worth at the end of the study */
    double fuel_units_year; /**< gallons of propane or therms of natural gas, ≥ 0 */
    double electricity_usd_year;
    double upkeep_usd_year; /**< operation and maintenance */
    int n_upkeep;
    struct th_once upkeep[TH_PAYBACK_ONCE_MAX]; /**< upkeep that falls due now and then */
    int n_replacements;
    struct th_once replacements[TH_PAYBACK_ONCE_MAX]; /**< counted as investment */
};

/** The terms both alternatives are compared on. */
struct th_study {
    int years;             /**< 1…TH_PAYBACK_YEARS_MAX */
    double discount;       /**< real, per year, > −0.5 */
    double price_usd_unit; /**< of fuel today, ≥ 0 */
    double fuel_growth;    /**< real growth of the fuel price per year, > −0.5 */
    bool has_index;        /**< use `fuel_index` instead of growth */
    double fuel_index[TH_PAYBACK_YEARS_MAX]; /**< fuel price of year 1, 2, … over today's */
    double payer_share; /**< of the fuel bill paid by whoever buys the equipment, 0…1 */
    double loan_share;  /**< of the extra first cost borrowed, 0…1 */
    double loan_rate;   /**< nominal, per year, ≥ 0 */
    int loan_years;     /**< level payments at year ends, 1…years when loan_share > 0 */
    double inflation; /**< turns nominal payments and write-offs into constant dollars, > −0.5 */
    double tax_rate;  /**< on yearly savings less the write-off, 0…0.9 */
};

enum th_measure_state {
    TH_MEASURE_DEFINED,
    TH_MEASURE_NONE,           /**< has no meaning here */
    TH_MEASURE_NEVER,          /**< not within the study */
    TH_MEASURE_BETTER_AT_ONCE, /**< costs no more and saves, so there is nothing to return */
    TH_MEASURE_NOT_UNIQUE      /**< more than one rate fits */
};

struct th_measure {
    enum th_measure_state state;
    double value; /**< 0 unless defined */
};

/** Years until savings, less replacements, have returned the extra first cost. What is left at the
 * end of the study is worth, not money in hand, and returns nothing. */
struct th_payback {
    struct th_measure interpolated; /**< part years, money taken as coming evenly in a year */
    struct th_measure in_year;      /**< the whole year in which it happens */
};

/** An alternative against a base. */
struct th_return {
    double investment_usd; /**< extra first cost (with the loan), replacements, less residual; PV */
    double savings_usd;    /**< fuel, electricity, upkeep, after tax; PV */
    double net_usd;        /**< NS = savings − investment; ranks alternatives */
    struct th_measure sir; /**< savings over investment; ranks only under a budget */
    struct th_measure airr;
    struct th_measure irr;
    struct th_payback simple;
    struct th_payback discounted;
    struct th_measure break_even_price;   /**< today's fuel price with NS 0, $ per unit */
    struct th_measure break_even_savings; /**< units of fuel saved a year with NS 0 */
};

/** Present value of 1 at the end of year `year`: (1 + d)^−year. NIST HB 135 "SPV". */
double th_payback_spv(double discount, int year);

/** Present value of 1 at the end of each of `years` years. NIST HB 135 "UPV". */
double th_payback_upv(double discount, int years);

/** The same, growing by `growth` a year from today's 1. NIST HB 135 "UPV*". */
double th_payback_upv_growing(double discount, double growth, int years);

/** UPV* of the study's fuel price, by its index or growth. */
double th_payback_fuel_upv(const struct th_study *study);

/** Checks ranges; TH_ERR_RANGE names the value. */
enum th_code th_study_check(const struct th_study *study, struct th_error *err);

/** Checks ranges and that years lie within the study; TH_ERR_RANGE names the value. */
enum th_code th_outlay_check(const struct th_outlay *outlay, const struct th_study *study,
                             struct th_error *err);

/**
 * Life-cycle cost of one alternative, paid in cash, before tax: PV of first cost, replacements,
 * fuel (the payer's share), electricity and upkeep, less the residual.
 */
enum th_code th_payback_lcc(const struct th_outlay *outlay, const struct th_study *study,
                            double *usd, struct th_error *err);

/**
 * All measures of `better` against `base`. Signs:
 *
 *     investment > 0, savings > 0    all defined; payback "never" when not within the study
 *     investment > 0, savings ≤ 0    AIRR none, payback never
 *     investment ≤ 0, savings ≥ 0    SIR, AIRR, IRR "better at once"; payback too, unless there is
 *                                    an extra first cost, which then has a payback of its own
 *     investment ≤ 0, savings < 0    SIR, AIRR and IRR none; payback none
 *     both 0                         all none: nothing differs
 *
 * Paybacks and IRR are those of the equipment itself, whoever lends the money: flows of the extra
 * first cost, replacements, residual, savings and write-off, without the loan. NS, SIR and AIRR
 * include the loan. Tax is taken on yearly savings less a straight-line write-off of the extra
 * first cost over the study (judgement; interest is not deducted).
 */
enum th_code th_payback_compare(const struct th_outlay *base, const struct th_outlay *better,
                                const struct th_study *study, struct th_return *result,
                                struct th_error *err);

/**
 * Share of the n_winters × n_prices cases with NS > 0. A case holds its winter's fuel and its price
 * for every year of the study. `base_units` and `better_units` replace the outlays' fuel.
 * TH_ERR_INPUT without winters or prices.
 */
enum th_code th_payback_chance(const struct th_outlay *base, const struct th_outlay *better,
                               const struct th_study *study, size_t n_winters,
                               const double *base_units, const double *better_units,
                               size_t n_prices, const double *prices_usd_unit, double *share,
                               struct th_error *err);

#endif
