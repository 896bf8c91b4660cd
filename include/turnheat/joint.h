/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What rooms burn on the farms that a barn may be, and what that is worth. */
#ifndef TURNHEAT_JOINT_H
#define TURNHEAT_JOINT_H

#include "turnheat/beside.h"
#include "turnheat/compare.h"

/** Fuel of a mean winter by room and farm, all copies, in units of the base's fuel that cost as
 * much. A purchase meets many winters, so each farm holds their mean. */
struct th_joint {
    size_t n;                     /**< farms; 0: none were drawn */
    double *units[TH_BESIDE_MAX]; /**< NULL: not of this room */
    double error;                 /**< the largest cross-validated error of a surface, of gas */
};

/** Runs `n` rooms, none without `farms`; one whose `room` is NULL is left out. `base` has the fuel.
 * Errors as th_beside_init(). Finish in any case. */
enum th_code th_joint_run(struct th_joint *joint, struct th_runs *runs,
                          const struct th_farms *farms, const struct th_room *base,
                          const struct th_beside_room *rooms, int n, struct th_error *err);

/** Frees; a second call is allowed. */
void th_joint_finish(struct th_joint *joint);

/** Price cases of a chance, times today's: TH_FLIP_PRICES of them. */
double th_price_factor(int k);

/** Net savings that nothing else than `usd` is known of. */
struct th_net th_net_of_one(double usd);

/** An outlay beside another, of rooms `against_at` and `choice_at` of the farms. */
struct th_joint_pair {
    const struct th_study *study;
    const struct th_outlay *against, *choice; /**< fuel as the file has the barn */
    int against_at, choice_at;
};

/** Net savings when the choice saves so much fuel. Errors as th_payback_compare(). */
enum th_code th_joint_net_usd(const struct th_joint_pair *pair, double saved_units, double *usd,
                              struct th_error *err);

/** Net savings over the farms, and the share of farms and prices in which it pays: `net` and
 * `chance` as they were where no farms were drawn or one room is not known on them. TH_ERR_MEMORY,
 * errors as th_payback_compare(). */
enum th_code th_joint_weigh(const struct th_joint *joint, const struct th_joint_pair *pair,
                            struct th_net *net, double *chance, struct th_error *err);

#endif
