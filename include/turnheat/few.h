/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A few winters that stand for all: in order of their gas they are cut into equal parts, of each of
 * which the middle one is taken. What a change of the room comes to in a mean winter is found from
 * them alone, by a straight line of gas after the change over gas before it: winters differ far
 * more among themselves than in what a change does to them.
 */
#ifndef TURNHEAT_FEW_H
#define TURNHEAT_FEW_H

#include "turnheat/runs.h"

#define TH_FEW_WINTERS 5

struct th_few {
    int n;                        /**< all of them when there are no more than TH_FEW_WINTERS */
    int years[TH_FEW_WINTERS];    /**< mildest first */
    double gas_j[TH_FEW_WINTERS]; /**< of the room they were chosen by */
    double mean_j;                /**< of that room over all winters */
};

/** Chooses from `n` winters with their years and the gas of a room in them; NAN where a winter does
 * not count. */
void th_few_of(struct th_few *few, int n, const int *years, const double *gas_j);

/** The same from winters run. TH_ERR_MEMORY. */
enum th_code th_few_of_winters(struct th_few *few, const struct th_winters *winters,
                               struct th_error *err);

/** Requests for a changed room in those winters. */
struct th_few_asked {
    int requests[TH_FEW_WINTERS];
};

/** Asks for them; th_few_mean_j() reads them after th_runs_do(). */
void th_few_ask(const struct th_few *few, struct th_runs *runs, const struct th_room *changed,
                const struct th_climate *climate, struct th_few_asked *asked);

/** Gas of the changed room in a mean winter, J. Winters that do not count for it are left out;
 * TH_ERR_COVERAGE when none is left, otherwise as th_runs_gas(). */
enum th_code th_few_mean_j(const struct th_few *few, const struct th_runs *runs,
                           const struct th_few_asked *asked, double *mean_j, struct th_error *err);

#endif
