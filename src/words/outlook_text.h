/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The answer on top of a report: what a winter takes, how sure that is, and what records said. */
#ifndef TURNHEAT_OUTLOOK_TEXT_H
#define TURNHEAT_OUTLOOK_TEXT_H

#include "report.h"
#include "turnheat/record.h"
#include "turnheat/room.h"

/** Adds the section "answer" with its lines, and the warnings that a record gives cause for. */
void th_report_answer(struct th_report *report, const struct th_answer *answer);

/**
 * Adds to that section the range, gallons and, where every room has the same price, dollars, and
 * what was recorded.
 */
void th_report_answer_facts(struct th_report *report, const struct th_answer *answer);

/** "just as given", or "as they most likely are" where fills or records taught of them. */
const char *th_barns_text(bool learnt);

/** What the range is called by machines: "p10_p90", "generated_10_90", "few_winters_10_90". */
const char *th_range_key(enum th_range_kind kind);

/** Adds a paragraph that says what was weighed in, and its warnings; nothing where nothing was. */
void th_report_learnt(struct th_report *report, const struct th_answer *answer);

/** Adds a paragraph where the room's file holds what its fills taught. */
void th_report_fitted(struct th_report *report, const struct th_room *room);

#endif
