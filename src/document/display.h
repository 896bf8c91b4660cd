/* SPDX-License-Identifier: GPL-3.0-or-later */
/** How values and user texts are shown to people: rounding, units, widths. */
#ifndef TURNHEAT_DISPLAY_H
#define TURNHEAT_DISPLAY_H

#include "report.h"
#include "turnheat/calendar.h"

/** Room enough for any value shown, its unit included; longer texts are not copied, see below. */
#define TH_SHOWN_MAX 96

/** What is shown for a missing value. */
#define TH_SHOWN_MISSING "–"

/**
 * The value as people read it, without its unit: rounded by `format`, thousands with commas,
 * "yes" or "no", TH_SHOWN_MISSING. Returns `buffer`, or the text itself for a text value.
 */
const char *th_show(char buffer[TH_SHOWN_MAX], struct th_value value, enum th_format format);

/** The same with its unit: "1,230 gal", "$1.85/gal", "31 %". Texts come without. */
const char *th_show_with_unit(char buffer[TH_SHOWN_MAX], struct th_value value,
                              enum th_format format, const char *unit);

/** The value as machines read it: nine significant digits, ISO dates, "" when missing. */
const char *th_show_exact(char buffer[TH_SHOWN_MAX], struct th_value value, enum th_format format);

/** Whether the format stands for a date, written as a text in JSON. */
bool th_format_is_date(enum th_format format);

/** "January" … "December" for 0 … 11. */
const char *th_month_in_prose(int month);

/** Columns a UTF-8 text takes on a terminal, counting one per code point. */
int th_display_width(const char *text);

#endif
