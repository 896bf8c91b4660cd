/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Ways of buying propane for a season and what each costs over many winters and prices.
 *
 * Volumes are US gallons and prices dollars per gallon, the unit propane is sold in (as in struct
 * th_fuel). Gallons are those delivered to the tanks, not those burnt. Contract gallons are drawn
 * first; what goes beyond them, or falls outside the contract's window, is bought at the posted
 * price of its day.
 */
#ifndef TURNHEAT_CONTRACT_H
#define TURNHEAT_CONTRACT_H

#include "turnheat/error.h"
#include "turnheat/price.h"
#include "turnheat/room.h"
#include "turnheat/spread.h"
#include <stdbool.h>
#include <stddef.h>

/** Offers on one farm. */
#define TH_CONTRACTS_MAX 12

enum th_contract_kind {
    TH_CONTRACT_SPOT,    /**< every gallon at the posted price of its day */
    TH_CONTRACT_PREPAID, /**< volume paid in full before the season */
    TH_CONTRACT_BOOKED,  /**< volume at a fixed price, a deposit now, the rest when delivered */
    TH_CONTRACT_CAPPED   /**< posted price, but never more than the cap */
};

/**
 * What happens to contract gallons that were not taken. Q volume, X gallons taken in the window,
 * p_c contract price, p_e posted price at the window's end.
 */
enum th_settle {
    TH_SETTLE_NONE, /**< booked: the shortfall is forgiven; prepaid: the money is lost */
    /** S1, per short gallon: booked pays (p_c − p_e)+, prepaid gets back min(p_c, p_e) */
    TH_SETTLE_MARKET,
    /** S2, share f must be taken: booked pays p_c (f Q − X)+, prepaid gets p_c (Q − max(X, f Q))+
     */
    TH_SETTLE_TAKE,
    /** S3, prepaid only: the dollars count next time, worth p_c / (1 + i)^years a gallon */
    TH_SETTLE_ROLL_DOLLARS,
    /** S3, prepaid only: the gallons count next time, worth min(p_c, p_e) / (1 + i)^years a gallon:
     * the lower of what they cost and what they fetch, as stock is valued, less the money tied up
     */
    TH_SETTLE_ROLL_GALLONS,
    /** S4, prepaid only: refund less a fee, p_c (1 − fee) a gallon */
    TH_SETTLE_REFUND
};

/** One offer, as in `[contract N]`. */
struct th_contract {
    char name[TH_NAME_MAX];
    enum th_contract_kind kind;
    double volume_gal;      /**< Q, ≥ 0; 0 with a cap: every gallon of the window is capped */
    double least_gal;       /**< it is sold in no fewer, ≥ 0 */
    double most_gal;        /**< no more can be had; 0: any */
    double price_usd_gal;   /**< p_c, or the cap; > 0 unless spot */
    double deposit_usd_gal; /**< booked: paid at signing, per gallon, credited to the price */
    double fee_usd;         /**< flat fee, ≥ 0 */
    double fee_usd_gal;     /**< fee per contract gallon (with volume 0: per gallon taken), ≥ 0 */
    enum th_settle settle;
    double take_share;        /**< f of S2, 0…1 (0.80) */
    double refund_fee_share;  /**< of S4, 0…1 (0.20) */
    double roll_years;        /**< of S3, until what rolls is used, ≥ 0 (1) */
    double carry_rate;        /**< interest i on money paid early, per year, ≥ 0 (0.08) */
    double carry_days;        /**< from payment to the middle of deliveries, ≥ 0 (120) */
    int from_month, from_day; /**< first day of the window (1 October) */
    int to_month, to_day;     /**< last day of the window (31 March) */
};

/**
 * The gallons of one winter split as a contract sees them, by posted-price period: the calendar
 * month (0 = January) and, from TH_PRICE_MONTHS on, the same months during tight supply.
 */
struct th_draw {
    double contract_gal[TH_PRICE_PERIODS]; /**< within the contract */
    double posted_gal[TH_PRICE_PERIODS];   /**< at the posted price */
    double taken_gal;                      /**< X: all gallons of the window */
    int end_period;                        /**< period of the window's last day */
};

/** What one winter at one price path costs. `total_usd` is the sum of the others. */
struct th_bill {
    double contract_usd; /**< contract gallons, deposit included */
    double posted_usd;   /**< gallons at the posted price */
    double carry_usd;    /**< interest on money paid early */
    double fee_usd;
    double settle_usd; /**< for contract gallons not taken; negative = money or value back */
    double total_usd;
};

/** The winters and prices a contract is weighed over; pointers are borrowed. */
struct th_market {
    const struct th_price_paths *paths; /**< made with the season gallons of `winters` */
    const struct th_winter *winters;    /**< as many as the paths have */
    double tight_chance;                /**< as in th_price_posted() */
};

/**
 * Costs of one contract volume over every winter and every price path. Fewer than 10 winters carry
 * no percentile however many prices are drawn: `winters.kind` says so, and the three are then 0.
 */
struct th_volume_cost {
    double volume_gal;
    double mean_usd;
    double p50_usd;
    double p90_usd;           /**< not exceeded in nine cases of ten */
    double cvar95_usd;        /**< mean of the dearest twentieth of the cases */
    struct th_spread winters; /**< over winters, each winter's mean over the price paths */
};

/**
 * Which volume is best. `cheapest` has the lowest mean, `cautious` the lowest CVaR95, or with fewer
 * than 10 winters the lowest cost in its dearest winter (the smaller volume at a tie). The mean is
 * flat near its best, so within `flat_low`…`flat_high` no volume costs more than 0.5 % above the
 * cheapest on average.
 */
struct th_volume_choice {
    size_t cheapest;
    size_t cautious;
    double flat_low_gal;
    double flat_high_gal;
};

/** Fills in the values named in brackets above, no volume and no price. */
void th_contract_defaults(struct th_contract *contract, enum th_contract_kind kind);

/** Checks ranges and that the settlement fits the kind. TH_ERR_RANGE or TH_ERR_INPUT names the key.
 */
enum th_code th_contract_check(const struct th_contract *contract, struct th_error *err);

/** First and last day (day numbers) of the window that begins in the season of `season_year`. */
void th_contract_window(const struct th_contract *contract, int season_year, long *first,
                        long *last);

/** Most gallons it covers: those of its volume; none of a spot offer, HUGE_VAL of a cap without
 * volume. */
double th_contract_limit_gal(const struct th_contract *contract);

/** The volume nearest to `gal` in which it is sold: nothing, or from its least to the lower of its
 * most and `end_gal`; its least where that lies above the end. */
double th_contract_sold_gal(const struct th_contract *contract, double gal, double end_gal);

/** What a gallon still costs when it comes, $: without what was paid at signing. */
double th_contract_due_usd_gal(const struct th_contract *contract, double posted_usd_gal);

/** Whether what is not taken counts next season: a credit, no cash. */
bool th_contract_rolls(const struct th_contract *contract);

/** Deposits on gallons not taken, $: the settlement counts them as paid. */
double th_contract_lost_deposit_usd(const struct th_contract *contract, double taken_gal);

/**
 * Splits a winter's deliveries. `deliveries` are in order of day; the window is the one that
 * begins in the season (1 July – 30 June) of `season_year`. `price` gives the tight weeks.
 */
void th_contract_draw(const struct th_contract *contract, const struct th_price_model *price,
                      int season_year, size_t n, const struct th_delivery *deliveries,
                      struct th_draw *draw);

/** The bill of one winter at posted prices by period, $ per gallon. */
void th_contract_bill(const struct th_contract *contract, const struct th_draw *draw,
                      const double posted_usd_gal[TH_PRICE_PERIODS], struct th_bill *bill);

/**
 * Lost when the supplier delivers and pays nothing more from 1 January on: what was to come is
 * bought at the posted price. `bill` as th_contract_bill() gave it.
 */
double th_contract_fails_usd(const struct th_contract *contract, const struct th_draw *draw,
                             const double posted_usd_gal[TH_PRICE_PERIODS],
                             const struct th_bill *bill);

/**
 * Costs of each of `n_volumes` volumes over every winter and path of the `market`. The volumes
 * replace the contract's own; 0 means no contract, every gallon at the posted price. With
 * `volumes_gal` NULL the one cost is that of the contract as it stands. `winter_usd` (NULL: not
 * wanted) gets each volume's mean cost in each winter, volume after volume. TH_ERR_INPUT without
 * winters, paths or volumes, TH_ERR_MEMORY.
 */
enum th_code th_contract_costs(const struct th_contract *contract, const struct th_market *market,
                               size_t n_volumes, const double *volumes_gal,
                               struct th_volume_cost *costs, double *winter_usd,
                               struct th_error *err);

/** Picks from `n` ≥ 1 costs in ascending order of volume. */
struct th_volume_choice th_contract_choose(size_t n, const struct th_volume_cost *costs);

#endif
