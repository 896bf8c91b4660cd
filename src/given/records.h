/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The records of all barn files and the farm file, with the barns each is of. */
#ifndef TURNHEAT_RECORDS_H
#define TURNHEAT_RECORDS_H

#include "cases.h"
#include "turnheat/record.h"

struct th_records {
    int n;
    struct th_record list[TH_RECORDS_MAX];
};

/**
 * Gathers them. TH_ERR_INPUT when one names a barn that is not given, is of a barn that burns
 * natural gas, or is one too many; otherwise as
 * th_record_find_share().
 */
enum th_code th_records_gather(struct th_cases *cases, struct th_records *records,
                               struct th_error *err);

#endif
