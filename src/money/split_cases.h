/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The cases that offers are weighed over, shared by split_cases.c and the search of split.c. */
#ifndef TURNHEAT_SPLIT_CASES_H
#define TURNHEAT_SPLIT_CASES_H

#include "turnheat/split.h"

/* Cases of a final cost; the grid takes the first of them. */
#define TH_SPLIT_CASES 1024
#define TH_SPLIT_GRID_CASES 256
/* Deliveries of a season that a case can have. */
#define TH_SPLIT_DELIVERIES_MAX 732

/* A winter's deliveries as offers see them. */
struct th_split_days {
    size_t n;
    double gal[TH_SPLIT_DELIVERIES_MAX];
    int period[TH_SPLIT_DELIVERIES_MAX];
    /* Of each offer: those of its window. */
    size_t n_inside[TH_SPLIT_OFFERS_MAX];
    unsigned short inside[TH_SPLIT_OFFERS_MAX][TH_SPLIT_DELIVERIES_MAX];
    int end_period[TH_SPLIT_OFFERS_MAX]; /* of the last day of its window */
};

/* One case: its winter's deliveries times a factor, and its prices. */
struct th_split_case {
    size_t winter;
    double scale;
    double posted_usd_gal[TH_PRICE_PERIODS];
};

/* Offers with a set of volumes, without those not taken, in the order they are drawn from. */
struct th_split_set {
    size_t n;
    size_t offer[TH_SPLIT_OFFERS_MAX];
    double volume_gal[TH_SPLIT_OFFERS_MAX];
    struct th_contract taken[TH_SPLIT_OFFERS_MAX]; /* as th_contract_bill() has them */
};

/* Sets of volumes weighed over all cases, since searches come back to them. */
struct th_split_known {
    size_t n, room;
    struct th_split *splits;
};

struct th_split_search {
    const struct th_split_market *market;
    size_t n;
    const struct th_contract *offers;
    size_t order[TH_SPLIT_OFFERS_MAX];
    struct th_split_days *winters;
    size_t n_cases;
    struct th_split_case *cases;
    struct th_split *grid; /* every set of volumes that was tried */
    size_t n_grid;
    double *usd; /* of the cases, for sorting */
    struct th_split_known *known;
    double search_gal;
    double all_gal, grid_gal; /* of all cases, and of those of the grid */
    bool by_bad;              /* what is refined: the bad case, or the mean */
    double mean_limit_usd;    /* means above it are not taken, when refining the bad case */
};

/** Makes the cases. Errors as th_split_run(). Close in any case. */
enum th_code th_split_open(struct th_split_search *s, const struct th_split_market *market,
                           size_t n, const struct th_contract *offers, struct th_error *err);

/** Frees what the search holds. */
void th_split_close(struct th_split_search *s);

/** Sums over cases of one set of volumes. */
struct th_split_sums {
    double usd, left_gal, covered_gal;
    struct th_split_cash *cash; /* sums too; NULL: not wanted */
    double *fails_usd;          /* by offer: th_contract_fails_usd(); NULL: not wanted */
};

/** The offers with `volume_gal` of each. */
void th_split_set_of(const struct th_split_search *s, const double *volume_gal,
                     struct th_split_set *set);

/** What one case costs with the volumes of `set`; adds to the gallons of `sums`. */
double th_split_case_usd(const struct th_split_search *s, const struct th_split_set *set,
                         const struct th_split_case *one, struct th_split_sums *sums);

/** Gallons of the first `n` cases. */
double th_split_all_gal(const struct th_split_search *s, size_t n);

/** Paid early for one offer at that volume (HUGE_VAL: a cap on everything). */
double th_split_early_usd(const struct th_contract *offer, double volume_gal);

/** Adds what a bill comes to by when it is paid; the offer as th_contract_bill() had it. */
void th_split_pay(const struct th_contract *offer, const struct th_draw *draw,
                  const double *posted_usd_gal, const struct th_bill *bill,
                  struct th_split_cash *cash);

/** Mean over all cases of what is lost when each offer's supplier fails. */
void th_split_fails(const struct th_split_search *s, const double *volume_gal, double *fails_usd);

/** Mean cash of a way to buy over all cases. */
struct th_split_cash th_split_cash_of(const struct th_split_search *s, const double *volume_gal);

/** One offer alone, what it leaves bought at the posted price: the volume with the lowest mean. */
struct th_split th_split_alone(const struct th_split_search *s, size_t offer);

/** The mean posted price of a gallon, and that at which buying as you go costs the same as the
 * volumes; NAN without a contract or where none does. */
void th_split_break_even(const struct th_split_search *s, const double *volume_gal,
                         double *posted_usd_gal, double *break_even_usd_gal);

/** The first `n` cases with the volumes; all of them are weighed once for each set. */
void th_split_weigh(const struct th_split_search *s, size_t n, const double *volume_gal,
                    struct th_split *split);

#endif
