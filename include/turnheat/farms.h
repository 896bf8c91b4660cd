/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The farms that a barn may be: drawn from what is known of it, records and fills weighed in. */
#ifndef TURNHEAT_FARMS_H
#define TURNHEAT_FARMS_H

#include "turnheat/record.h"

struct th_farms {
    bool drawn;                /**< false: the barn burns nothing in some winter, or none counts */
    bool learnt;               /**< records or fills are weighed in */
    int barn;                  /**< of the outlook */
    const struct th_case *one; /**< that barn; borrowed */
    struct th_outlook outlook;
    struct th_answer answer; /**< where something was learnt; of all barns together */
};

/**
 * Draws the farms that barn `which` of `n` may be. Without records and fills only that barn is
 * looked at, on a surface through few runs; else all of them are, as in th_answer_make(). Cases and
 * records are borrowed. Errors as th_outlook_init() and th_answer_make(), except that TH_ERR_MODEL
 * and TH_ERR_COVERAGE leave `drawn` false. Finish in any case; do not move it before.
 */
enum th_code th_farms_init(struct th_farms *farms, struct th_runs *runs,
                           const struct th_case *cases, int n, int which, int n_records,
                           const struct th_record *records, struct th_error *err);

/** Frees; a second call is allowed. */
void th_farms_finish(struct th_farms *farms);

#endif
