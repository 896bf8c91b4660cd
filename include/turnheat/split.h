/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * How much to take of each of several offers at once. Every case is a winter, a farm that fits what
 * is known, and a price path; gallons are drawn from the offers in an order fixed before the
 * season, what is left is bought at the posted price. Costs are not convex where a minimum share
 * binds, so a grid over all volumes is searched before the best are refined. US gallons and
 * dollars.
 */
#ifndef TURNHEAT_SPLIT_H
#define TURNHEAT_SPLIT_H

#include "turnheat/contract.h"

#define TH_SPLIT_OFFERS_MAX 12
/** Of the cases, the dearest share whose mean is the bad case. */
#define TH_SPLIT_BAD_SHARE 0.10
/** Means this close are no difference: choose by the bad case and by cash. */
#define TH_SPLIT_SAME_SHARE 0.02

/** What the offers are weighed over; pointers are borrowed. */
struct th_split_market {
    struct th_market market; /**< winters, price paths, chance of tight supply */
    size_t n_farms;
    const double *scale; /**< n_farms × winters: gallons of a farm over those of the winter */
    bool enough_winters; /**< ten or more measured: the bad case is the dearest tenth of all */
};

/** One way to buy. */
struct th_split {
    double volume_gal[TH_SPLIT_OFFERS_MAX]; /**< HUGE_VAL: a cap on every gallon */
    double mean_usd;
    double bad_usd;   /**< mean of the dearest tenth, or of the dearest winter */
    double early_usd; /**< paid before the season: prepaid gallons, deposits and fees */
    double left_gal;  /**< mean of contract gallons not taken */
    double covered;   /**< share of all gallons bought under a contract, mean */
    bool at_end[TH_SPLIT_OFFERS_MAX]; /**< all together come to search_gal: its terms
                                         would have more of it on paper */
};

/** What a way to buy costs on average, by when it is paid. The parts add up to its mean, all but
 * `credit_usd` in cash. */
struct th_split_cash {
    double early_usd;     /**< at signing */
    double month_usd[12]; /**< January first; what comes back is below 0 */
    double interest_usd;  /**< on money paid early */
    double credit_usd;    /**< ≤ 0: what rolls into the next season */
};

struct th_split_advice {
    size_t n_cases;
    size_t n_offers;
    double search_gal;          /**< what the hardest cases take (the mean of the tenth or of the
                                   winter that takes most): no more is bought ahead in all */
    struct th_split none;       /**< every gallon at the posted price */
    struct th_split as_written; /**< every offer at the volume it names; without one 0 */
    struct th_split cheapest;   /**< lowest mean */
    struct th_split cautious;   /**< lowest bad case */
    struct th_split between;    /**< lowest bad case among means within TH_SPLIT_SAME_SHARE */
    struct th_split_cash cash;  /**< of `cheapest` */
    /** Of `cheapest`: what more is paid on average when this supplier delivers and pays nothing
     * from 1 January on, and the gallons are bought at the posted price. */
    double fails_usd[TH_SPLIT_OFFERS_MAX];
    /** All from one: each offer without the others at the volume with the lowest mean, the rest at
     * the posted price; of a spot offer every gallon. */
    struct th_split alone[TH_SPLIT_OFFERS_MAX];
    double posted_usd_gal; /**< posted price of a mean gallon over the cases */
    /** That price at which `cheapest` costs no less than buying as you go, all posted prices moved
     * in proportion; NAN where it takes nothing or no such price is near. */
    double break_even_usd_gal;
    double mean_error_usd; /**< standard error of `cheapest.mean_usd − none.mean_usd` */
};

/** What more all from one offer costs on average than the cheapest way: its regret. */
double th_split_regret_usd(const struct th_split_advice *advice, size_t offer);

/** In which order the offers are drawn: earlier end of the window first, then the greater loss per
 * gallon left over at today's price. Fills `order` with offer numbers; spot offers come last. */
void th_split_order(size_t n, const struct th_contract *offers, double posted_usd_gal,
                    size_t *order);

/** Costs of `n_sets` sets of n volumes each (HUGE_VAL: a cap on everything). Errors as below. */
enum th_code th_split_costs(const struct th_split_market *market, size_t n,
                            const struct th_contract *offers, size_t n_sets,
                            const double *volumes_gal, struct th_split *splits,
                            struct th_error *err);

/**
 * Searches the volumes. An offer's `volume_gal` is what it names, not a limit; prepaid and booked
 * volumes and caps with a volume are tried from 0 to search_gal, all together too, within what the
 * offer is sold in (th_contract_sold_gal()), caps without one all or nothing. Volumes are rounded
 * to 100 gal where a farm takes 4,000 or more. TH_ERR_INPUT without winters, farms or offers or
 * with too many, TH_ERR_MEMORY.
 */
enum th_code th_split_run(const struct th_split_market *market, size_t n,
                          const struct th_contract *offers, struct th_split_advice *advice,
                          struct th_error *err);

#endif
