/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A record of some days: what part of a season's gallons they are, or of two seasons'. */
#ifndef TURNHEAT_RECORD_SHARE_H
#define TURNHEAT_RECORD_SHARE_H

#include "turnheat/demand.h"
#include "turnheat/record.h"

/** Days that take less of a season's gas say too little of it (judgement). */
#define TH_RECORD_SHARE_LEAST 0.05

/**
 * Sets `share` and `next_share` of a record with days: gallons of its barns in them over those of
 * the season, the barns as the files have them; of the record's own season where the weather holds
 * it, else the mean over all winters. TH_ERR_INPUT when the days take too little of it, otherwise
 * as th_demand_run().
 */
enum th_code th_record_find_share(struct th_runs *runs, const struct th_case *cases, int n,
                                  struct th_record *record, struct th_error *err);

#endif
