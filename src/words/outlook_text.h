/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The answer on top of a report: what a winter takes, how sure that is, and what records said. */
#ifndef TURNHEAT_OUTLOOK_TEXT_H
#define TURNHEAT_OUTLOOK_TEXT_H

#include "report.h"
#include "turnheat/record.h"

/** An outlook with its ranges; `n_records` 0: nothing was learnt and `before` is `now`. */
struct th_answer {
    const struct th_outlook *outlook;
    struct th_range before, now;
    int n_records;
    const struct th_record *records;
    struct th_learnt learnt;
};

/**
 * Draws the outlook, before any record and with the `n` records, and fills in `answer`. Errors as
 * th_outlook_draw() and th_learn().
 */
enum th_code th_answer_make(struct th_answer *answer, struct th_outlook *outlook, int n,
                            const struct th_record *records, struct th_error *err);

/**
 * Adds the section "answer": lines, range, gallons and, where every room has the same price,
 * dollars; and the warnings that a record gives cause for.
 */
void th_report_answer(struct th_report *report, const struct th_answer *answer);

/** What the range is called by machines: "p10_p90", "generated_10_90", "few_winters_10_90". */
const char *th_range_key(enum th_range_kind kind);

#endif
