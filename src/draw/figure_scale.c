/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure_scale.h"

#include "turnheat/calendar.h"

#define HOURS_A_DAY 24.0

/* Over more days than this a month alone does not tell which one. */
#define MONTHS_NEED_YEARS_D 400

double figure_position(const struct figure_scale *scale, double value)
{
    return scale->start +
           (value - scale->from) / (scale->to - scale->from) * (scale->end - scale->start);
}

/* The smallest of 1, 2, 5, 10… that makes no more than `most` ticks of the span. */
static double round_step(double span, int most)
{
    const double least = span / most;
    const double power = pow(10, floor(log10(least)));
    const double factor = least / power;
    return power * (factor <= 1 ? 1 : factor <= 2 ? 2 : factor <= 5 ? 5 : 10);
}

void figure_number_ticks(double from, double to, int most, struct figure_ticks *ticks)
{
    const double step = round_step(to - from, most - 1);
    *ticks = (struct figure_ticks){0};
    /* A thousandth of a step lets rounding not lose the tick at an end. */
    const double first = ceil(from / step - 1e-3);
    for (int i = 0; i < FIGURE_TICKS_MAX && (first + i) * step <= to + 1e-3 * step; i++)
        ticks->at[ticks->n++] = (first + i) * step;
}

void figure_widen(double *from, double *to, int most)
{
    if (*from == *to) {
        const double half = *from == 0 ? 1 : fabs(*from) / 2;
        *from -= *from == 0 ? 0 : half;
        *to += half;
    }
    const double step = round_step(*to - *from, most - 1);
    *from = step * floor(*from / step + 1e-3);
    *to = step * ceil(*to / step - 1e-3);
}

/* Days apart, or months apart, from fine to coarse. */
static const struct {
    int days, months;
} time_steps[] = {{1, 0}, {2, 0},  {7, 0},  {14, 0}, {0, 1},   {0, 2},   {0, 3},
                  {0, 6}, {0, 12}, {0, 24}, {0, 60}, {0, 120}, {0, 240}, {0, 600}};
#define N_TIME_STEPS (int)(sizeof time_steps / sizeof *time_steps)

/* The first beginning at or after the day: every `days` from it, or the 1st of a month. */
static long next_tick(long day, int days, int months, bool first)
{
    if (days > 0)
        return first ? day : day + days;
    const struct th_date date = th_date_of(day);
    const int count = 12 * date.year + date.month - 1 + (date.day > 1 || !first);
    const int next = (count + months - 1) / months * months;
    return th_day_number(next / 12, next % 12 + 1, 1);
}

static void fill_time_ticks(long from, double to, int step, struct figure_ticks *ticks)
{
    const int days = time_steps[step].days, months = time_steps[step].months;
    *ticks = (struct figure_ticks){0};
    for (long day = next_tick(from, days, months, true);
         (double)day <= to && ticks->n < FIGURE_TICKS_MAX;
         day = next_tick(day, days, months, false))
        ticks->at[ticks->n++] = (double)day;
}

static enum figure_date_form date_form(int months, double days)
{
    if (months == 0)
        return FIGURE_MONTH_AND_DAY;
    if (months >= 12)
        return FIGURE_YEAR;
    return days > MONTHS_NEED_YEARS_D ? FIGURE_MONTH_AND_YEAR : FIGURE_MONTH;
}

void figure_time_ticks(double from, double to, bool hours, int most, struct figure_ticks *ticks)
{
    const double per = hours ? HOURS_A_DAY : 1;
    const long first = (long)ceil(from / per - 1e-6);
    int step = 0;
    do
        fill_time_ticks(first, to / per, step, ticks);
    while (ticks->n > most && ++step < N_TIME_STEPS);
    ticks->date_form =
        date_form(time_steps[step < N_TIME_STEPS ? step : 0].months, (to - from) / per);
    for (int i = 0; i < ticks->n; i++)
        ticks->at[i] *= per;
}

static const char *date_text(char buffer[TH_SHOWN_MAX], long day, enum figure_date_form form)
{
    const struct th_date date = th_date_of(day);
    const char *month = th_month_name(date.month - 1);
    switch (form) {
    case FIGURE_MONTH_AND_DAY:
        snprintf(buffer, TH_SHOWN_MAX, "%s %d", month, date.day);
        break;
    case FIGURE_MONTH:
        snprintf(buffer, TH_SHOWN_MAX, "%s", month);
        break;
    case FIGURE_MONTH_AND_YEAR:
        snprintf(buffer, TH_SHOWN_MAX, "%s %d", month, date.year);
        break;
    case FIGURE_YEAR:
        snprintf(buffer, TH_SHOWN_MAX, "%d", date.year);
        break;
    }
    return buffer;
}

static long day_of(const struct th_axis *axis, double at)
{
    return (long)floor(axis->kind == TH_AXIS_HOUR ? at / HOURS_A_DAY : at);
}

const char *figure_tick_text(char buffer[TH_SHOWN_MAX], const struct th_axis *axis,
                             const struct figure_ticks *ticks, double at)
{
    if (axis->kind != TH_AXIS_NUMBER)
        return date_text(buffer, day_of(axis, at), ticks->date_form);
    const double step = ticks->n > 1 ? ticks->at[1] - ticks->at[0] : 1;
    const bool money = *axis->unit == '$';
    const int digits = step >= 0.999 ? 0 : step >= 0.0999 && !money ? 1 : 2;
    const enum th_format formats[] = {TH_WHOLE, TH_TENTHS, TH_HUNDREDTHS};
    return th_show_with_unit(buffer, th_number(at), formats[digits], money ? "$" : "");
}

const char *figure_value_text(char buffer[TH_SHOWN_MAX], const struct th_axis *axis, double value)
{
    char day[TH_SHOWN_MAX / 2];
    if (axis->kind == TH_AXIS_NUMBER)
        return th_show_with_unit(buffer, th_number(value), axis->format, axis->unit);
    const struct th_date date = th_date_of(day_of(axis, value));
    const bool dated = axis->kind != TH_AXIS_YEARLESS;
    snprintf(day, sizeof day, dated ? "%s %d, %d" : "%s %d", th_month_name(date.month - 1),
             date.day, date.year);
    if (axis->kind == TH_AXIS_HOUR)
        snprintf(buffer, TH_SHOWN_MAX, "%s, %02d:00", day, th_hour_of_day((long)floor(value)));
    else
        snprintf(buffer, TH_SHOWN_MAX, "%s", day);
    return buffer;
}
