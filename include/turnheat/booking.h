/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The volume to book before the season by formula: the newsvendor problem. Each gallon booked too
 * few costs `under`, each too many costs `over`; at the best volume Q the chance of needing no more
 * than Q is the critical fractile under / (under + over). A check on th_contract_costs(), whose
 * settlement rules no formula covers. Gallons are US gallons, prices dollars per gallon.
 */
#ifndef TURNHEAT_BOOKING_H
#define TURNHEAT_BOOKING_H

#include "turnheat/contract.h"
#include "turnheat/error.h"
#include <stddef.h>

/** Seasons needed before a distribution is fitted instead of taking an order statistic. */
#define TH_BOOKING_FIT_FROM 15

struct th_booking_terms {
    double posted_usd_gal; /**< expected posted price, > 0 */
    double posted_sigma;   /**< standard deviation of its logarithm, 0…3 */
    double price_usd_gal;  /**< contract price, > resale */
    double resale_usd_gal; /**< worth of a booked gallon not needed, ≥ 0 */
    double rho; /**< Pearson correlation of the logarithms of price and gallons, −1…1 */
};

/** Critical fractile; TH_ERR_MODEL unless both costs are finite, ≥ 0 and not both 0. */
enum th_code th_booking_fractile(double under_usd, double over_usd, double *fractile,
                                 struct th_error *err);

/**
 * Normally distributed need: best volume and its expected cost of booking too few or too many
 * (Snyder & Shen, Fundamentals of Supply Chain Theory, 2019, ch. 4: S = μ + σ z, cost =
 * (under + over) σ φ(z)). TH_ERR_MODEL unless sd ≥ 0 and both costs > 0.
 */
enum th_code th_booking_normal(double mean_gal, double sd_gal, double under_usd, double over_usd,
                               double *volume_gal, double *cost_usd, struct th_error *err);

/**
 * Lognormal need (mean, coefficient of variation) and lognormal price, correlated. The best volume
 * is exp(m + s k) with k the root of E[p] Φ(ρ σ − k) − p_c Φ(−k) − (p_c − resale) Φ(k), derived by
 * setting the derivative of the expected cost to 0. 0 when the contract price is no lower than the
 * expected posted price. TH_ERR_RANGE names a term out of range.
 */
enum th_code th_booking_lognormal(double mean_gal, double cv, const struct th_booking_terms *terms,
                                  double *volume_gal, struct th_error *err);

/** Lowest of `n` ≥ 1 season gallons (any order) that at least `fractile` of them do not exceed. */
enum th_code th_booking_ordered(size_t n, const double *season_gal, double fractile,
                                double *volume_gal, struct th_error *err);

/**
 * The best volume for `n` seasons: the order statistic below TH_BOOKING_FIT_FROM seasons (price
 * correlation is then left out), the lognormal fitted by moments from there on.
 */
enum th_code th_booking_best(size_t n, const double *season_gal,
                             const struct th_booking_terms *terms, double *volume_gal,
                             struct th_error *err);

/**
 * Terms of a booked contract that is settled at market (S1), for th_booking_best(): a gallon too
 * few or too many is worth the posted price of the window's last day, over all winters and paths of
 * the market; one too many then costs the mean of what S1 asks for it, and every booked gallon its
 * fee and the interest on its deposit. `taken_gal` gets each winter's gallons of the window.
 * TH_ERR_MODEL for other contracts, or when a gallon too many costs nothing: there is no best
 * volume then.
 */
enum th_code th_booking_terms(const struct th_contract *contract, const struct th_market *market,
                              struct th_booking_terms *terms, double *taken_gal,
                              struct th_error *err);

#endif
