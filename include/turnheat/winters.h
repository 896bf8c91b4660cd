/* SPDX-License-Identifier: GPL-3.0-or-later */
/** All the seasons of one room that a climate holds. */
#ifndef TURNHEAT_WINTERS_H
#define TURNHEAT_WINTERS_H

#include "turnheat/season.h"

/** Seasons in order of their year. Owns them. */
struct th_winters {
    int n;
    int n_counted;
    struct th_season *seasons;
};

/**
 * Simulates every season from `first_year` to `last_year` that the climate touches. Uncounted
 * seasons are kept with their cover. `watch` may be NULL. TH_ERR_MEMORY, or as th_season_run();
 * TH_ERR_COVERAGE when the climate touches none of the years.
 */
enum th_code th_winters_run(struct th_winters *winters, const struct th_room *room,
                            const struct th_climate *climate, int first_year, int last_year,
                            const struct th_watch *watch, struct th_error *err);

/** Frees the seasons; NULL and a second call are allowed. */
void th_winters_finish(struct th_winters *winters);

/** The season that starts in `year`, counted or not; NULL when there is none. */
const struct th_season *th_winters_season(const struct th_winters *winters, int year);

/** Adds all counted seasons of `winters` into one tally. */
void th_winters_total(const struct th_winters *winters, struct th_tally *total);

/** The counted season whose gas is nearest the mean, the first of equals; NULL without any. */
const struct th_season *th_winters_middle(const struct th_winters *winters);

/** The counted season that took most gas; NULL without any. */
const struct th_season *th_winters_worst(const struct th_winters *winters);

/** Mean gas of a counted season in J; 0 without any. */
double th_winters_mean_gas_j(const struct th_winters *winters);

#endif
