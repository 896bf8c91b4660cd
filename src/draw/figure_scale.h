/* SPDX-License-Identifier: GPL-3.0-or-later */
/** From values to places on paper: linear scales and their ticks. */
#ifndef TURNHEAT_FIGURE_SCALE_H
#define TURNHEAT_FIGURE_SCALE_H

#include "display.h"
#include "figure.h"

/** `from` lies at `start`, `to` at `end`; to > from. */
struct figure_scale {
    double from, to;
    double start, end;
};

/** Where the value lies. */
double figure_position(const struct figure_scale *scale, double value);

#define FIGURE_TICKS_MAX 16

/** How ticks of time are written: Jan 5, Jan, Jan 2014, 2014. */
enum figure_date_form { FIGURE_MONTH_AND_DAY, FIGURE_MONTH, FIGURE_MONTH_AND_YEAR, FIGURE_YEAR };

struct figure_ticks {
    int n;
    double at[FIGURE_TICKS_MAX];
    enum figure_date_form date_form; /**< for ticks of time */
};

/** At most `most` (2 to 14) round numbers in from…to: 1, 2 or 5 times a power of ten apart. */
void figure_number_ticks(double from, double to, int most, struct figure_ticks *ticks);

/** Widens from…to to whole steps of at most `most` ticks; equal ends become a span around them. */
void figure_widen(double *from, double *to, int most);

/**
 * At most `most` beginnings of days, months or years in from…to, which are day numbers, or hour
 * numbers when `hours`.
 */
void figure_time_ticks(double from, double to, bool hours, int most, struct figure_ticks *ticks);

/** What is written at a tick of the axis. */
const char *figure_tick_text(char buffer[TH_SHOWN_MAX], const struct th_axis *axis,
                             const struct figure_ticks *ticks, double at);

/** The place or value in words, for hovering: "Jan 5, 2014, 06:00", "712 gal". */
const char *figure_value_text(char buffer[TH_SHOWN_MAX], const struct th_axis *axis, double value);

#endif
