/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ahead_figures.h"

#include "ahead_tables.h"
#include "figure.h"
#include "display.h"
#include "season_text.h"
#include "turnheat/calendar.h"

#include <math.h>
#include <stdio.h>

static const struct th_ahead_week *hardest_week(const struct th_ahead *ahead)
{
    const struct th_ahead_week *most = &ahead->weeks[0];
    for (int w = 1; w < ahead->n_weeks; w++)
        if (ahead->weeks[w].used_gal.middle > most->used_gal.middle)
            most = &ahead->weeks[w];
    return most;
}

void th_ahead_week_figure(struct th_report *report, const struct th_ahead *ahead, bool dated)
{
    char caption[160], reading[200], gal[TH_SHOWN_MAX];
    if (ahead->n_weeks == 0)
        return;
    const struct th_ahead_week *const most = hardest_week(ahead);
    const struct th_date date = th_date_of(most->first_day);
    const char *const *heads = th_ahead_headings(ahead->kind);
    th_show_with_unit(gal, th_number(most->used_gal.middle), TH_SIG3, "gal");
    snprintf(caption, sizeof caption, "The week of %s %d takes the most: %s",
             th_month_in_prose(date.month - 1), date.day, gal);
    snprintf(reading, sizeof reading,
             "Gallons a week, barns and other users: %s of the cases as a line, from %s to %s as a "
             "band.",
             heads[1], heads[0], heads[2]);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = reading,
                                  .along = {.kind = dated ? TH_AXIS_DAY : TH_AXIS_YEARLESS},
                                  .value = {.unit = "gal", .format = TH_SIG3, .from_zero = true}});
    th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
    for (int w = 0; w < ahead->n_weeks; w++)
        th_figure_span(report, (double)ahead->weeks[w].first_day, ahead->weeks[w].used_gal.low,
                       ahead->weeks[w].used_gal.high);
    th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, NULL);
    for (int w = 0; w < ahead->n_weeks; w++)
        th_figure_point(report, (double)ahead->weeks[w].first_day, ahead->weeks[w].used_gal.middle);
}

struct payment {
    const char *name, *when; /* in the figure and in prose */
    double usd;
};

/* Those that are not 0. */
static int payments_of(const struct th_ahead *ahead, const struct th_split_cash *cash,
                       struct payment payments[14])
{
    int n = 0;
    if (cash->early_usd > 0.0)
        payments[n++] = (struct payment){"at signing", "at signing", cash->early_usd};
    for (int m = 0; m < ahead->n_months; m++) {
        const int month = ahead->months[m].month;
        if (cash->month_usd[month] != 0.0)
            payments[n++] = (struct payment){th_month_name(month), th_month_in_prose(month),
                                             cash->month_usd[month]};
    }
    if (cash->interest_usd > 0.0)
        payments[n++] = (struct payment){"interest", "interest", cash->interest_usd};
    return n;
}

void th_ahead_cash_figure(struct th_report *report, const struct th_ahead *ahead,
                          const struct th_split_cash *cash)
{
    struct payment payments[14];
    char caption[160], reading[240], usd[TH_SHOWN_MAX];
    const int n = payments_of(ahead, cash, payments);
    int most = 0;
    for (int i = 1; i < n; i++)
        if (fabs(payments[i].usd) > fabs(payments[most].usd))
            most = i;
    if (n == 0)
        return;
    th_show_with_unit(usd, th_number(fabs(payments[most].usd)), TH_SIG3, "$");
    snprintf(reading, sizeof reading, "Dollars to pay, means of all cases. %s",
             th_ahead_below_zero(cash));
    snprintf(caption, sizeof caption, "The largest %s: %s, %s",
             payments[most].usd > 0.0 ? "payment" : "sum, which comes back", usd,
             payments[most].when);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = reading,
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = "$", .format = TH_BULK, .from_zero = true}});
    for (int i = 0; i < n; i++) {
        th_figure_name(report, payments[i].name);
        th_figure_mark(report, TH_MARK_BAR, payments[i].usd < 0.0 ? TH_INK_COLD : TH_INK_HEAT,
                       NULL);
        th_figure_point(report, i, payments[i].usd);
    }
}
