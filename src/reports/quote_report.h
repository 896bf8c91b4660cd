/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The builder's quotation. */
#ifndef TURNHEAT_QUOTE_REPORT_H
#define TURNHEAT_QUOTE_REPORT_H

#include "barn_draft.h"
#include "report.h"
#include "turnheat/quote.h"

/** What the document is made of besides the ranking; all pointers are borrowed. */
struct th_quote_paper {
    const struct th_quotation *quotation;
    const struct th_quote_line *lines; /**< of the builder's own */
    int n_lines;
};

/**
 * Adds the quotation document; the builder's own copy with warnings, ranking and options left out.
 * The customer's copy names no file, no command and nothing that is not part of the offer.
 * TH_ERR_BALANCE when the books of a run do not close.
 */
enum th_code th_quote_report(struct th_report *report, const struct th_quote_in *in,
                             const struct th_quote *quote, const struct th_quote_paper *paper,
                             struct th_error *err);

#endif
