/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The builder's quotation. */
#ifndef TURNHEAT_QUOTE_REPORT_H
#define TURNHEAT_QUOTE_REPORT_H

#include "report.h"
#include "turnheat/quote.h"

/** Adds the quotation document. TH_ERR_BALANCE when the books of a run do not close. */
enum th_code th_quote_report(struct th_report *report, const struct th_quote_in *in,
                             const struct th_quote *quote, struct th_error *err);

#endif
