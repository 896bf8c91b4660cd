/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Weeks and cash as figures. */
#ifndef TURNHEAT_AHEAD_FIGURES_H
#define TURNHEAT_AHEAD_FIGURES_H

#include "report.h"
#include "turnheat/ahead.h"

/** Gallons used by week: from low to high, and the middle; `dated`: their year is known. */
void th_ahead_week_figure(struct th_report *report, const struct th_ahead *ahead, bool dated);

/** What is to be paid by month, at signing and for interest too; `in`: as th_ahead_months(). */
void th_ahead_cash_figure(struct th_report *report, const struct th_ahead *ahead,
                          const struct th_split_cash *cash);

#endif
