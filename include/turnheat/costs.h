/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What settings and faults of a room cost (enum th_cost_kind), over all winters. Where these are
 * more than five the room without and with it are run roughly and the change is scaled to the whole
 * runs.
 */
#ifndef TURNHEAT_COSTS_H
#define TURNHEAT_COSTS_H

#include "turnheat/runs.h"
#include "turnheat/variant.h"

/** Winters up to which both are run whole. */
#define TH_COST_WHOLE_WINTERS 5

/** What was asked for. */
struct th_cost_asked {
    int now, other; /**< requests */
    double sign;
};

/** Asks for the runs of one cost; th_cost_read() reads them after th_runs_do(). */
void th_cost_ask(struct th_runs *runs, const struct th_room *room, const struct th_climate *climate,
                 int first_year, int last_year, enum th_cost_kind kind,
                 struct th_cost_asked *asked);

/** Gas of a mean season, J, that it costs in a room which burns `mean_j` in one. Errors as
 * th_runs_gas(). */
enum th_code th_cost_read(const struct th_runs *runs, const struct th_cost_asked *asked,
                          double mean_j, double *cost_j, struct th_error *err);

#endif
