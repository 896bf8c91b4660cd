/* SPDX-License-Identifier: GPL-3.0-or-later */
/** One room over the counted seasons, in short: gas of each season and the mean of everything. */
#ifndef TURNHEAT_TRIAL_H
#define TURNHEAT_TRIAL_H

#include "turnheat/harm.h"
#include "turnheat/winters.h"

#define TH_TRIAL_SEASONS_MAX 128

/** One room over all counted seasons. */
struct th_trial {
    int n; /**< counted seasons */
    int years[TH_TRIAL_SEASONS_MAX];
    double gas_j[TH_TRIAL_SEASONS_MAX];                /**< all gas of each season */
    struct th_hardship hardship[TH_TRIAL_SEASONS_MAX]; /**< of the pigs in each */
    struct th_tally mean; /**< of a counted season; extremes over all */
    int middle;           /**< the season whose gas is nearest the mean */
};

/** Most seasons of a block. */
#define TH_BLOCK_SEASONS 5

/** The winters on which searches and ranges are run: all, or the few around the middle one. */
struct th_block {
    int first_year, last_year;
    double gas_j; /**< of a mean season among them */
    double scale; /**< mean gas of all counted seasons over that of these */
};

/**
 * Sums `winters` up. TH_ERR_COVERAGE when no season of room `name` is counted, TH_ERR_MODEL beyond
 * TH_TRIAL_SEASONS_MAX.
 */
enum th_code th_trial_of(const struct th_winters *winters, const char *name, struct th_trial *trial,
                         struct th_error *err);

/** Mean gas of a season in J. */
double th_trial_gas_j(const struct th_trial *trial);

/** Mean room temperature in °C while heat was wanted. */
double th_trial_heated_c(const struct th_trial *trial);

/** The five counted seasons around the one nearest the mean; all of them when there are fewer. */
struct th_block th_trial_block(const struct th_trial *trial);

/** Mean gas in J of the seasons of `block` in a trial over all of them; 0 without any. */
double th_trial_block_gas_j(const struct th_trial *trial, const struct th_block *block);

/** Year of the counted season whose gas is nearest the mean. */
int th_trial_middle_year(const struct th_trial *trial);

#endif
