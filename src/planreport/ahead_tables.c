/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ahead_tables.h"

#include "balance_text.h"
#include "season_text.h"
#include "turnheat/calendar.h"

#include <stdio.h>

const char *const *th_ahead_headings(enum th_range_kind kind)
{
    static const char *const percentiles[] = {"P10", "P50", "P90"};
    static const char *const plain[] = {"low", "middle", "high"};
    return kind == TH_RANGE_P10_P90 ? percentiles : plain;
}

static void span_cells(struct th_report *report, const struct th_ahead *ahead,
                       const struct th_ahead_span *span)
{
    const char *const *heads = th_ahead_headings(ahead->kind);
    th_report_cell(report, "mean_gal", "Mean", "gal", TH_BULK, th_number(span->mean));
    th_report_cell(report, "low_gal", heads[0], "gal", TH_BULK, th_number(span->low));
    th_report_cell(report, "middle_gal", heads[1], "gal", TH_BULK, th_number(span->middle));
    th_report_cell(report, "high_gal", heads[2], "gal", TH_BULK, th_number(span->high));
}

/* A date, or "Nov 3" where the year means nothing. */
static struct th_value week_name(long day, bool dated, char text[24])
{
    const struct th_date date = th_date_of(day);
    snprintf(text, 24, "%s %d", th_month_name(date.month - 1), date.day);
    return dated ? th_number((double)day) : th_text(text);
}

static void week_row(struct th_report *report, const struct th_ahead *ahead,
                     const struct th_ahead_week *week, bool dated, bool tanks)
{
    char from[24];
    th_report_row(report);
    th_report_cell(report, "from", "Week from", "", dated ? TH_DAY : TH_PLAIN,
                   week_name(week->first_day, dated, from));
    span_cells(report, ahead, &week->used_gal);
    th_report_cell(report, "loads_count", "Loads", "", TH_TENTHS, th_number_if(tanks, week->loads));
}

static void week_total(struct th_report *report, const struct th_ahead *ahead, bool tanks)
{
    double loads = 0.0;
    for (int w = 0; w < ahead->n_weeks; w++)
        loads += ahead->weeks[w].loads;
    th_report_total(report);
    th_report_cell(report, "from", "Week from", "", TH_PLAIN, th_text("In all"));
    span_cells(report, ahead, &ahead->used);
    th_report_cell(report, "loads_count", "Loads", "", TH_TENTHS, th_number_if(tanks, loads));
}

/* Whether people see that anything is used or delivered in it. */
static bool is_idle(const struct th_ahead_week *week)
{
    return week->used_gal.high < 0.5 && week->used_gal.mean < 0.5 && week->loads < 0.05;
}

void th_ahead_weeks(struct th_report *report, const struct th_ahead *ahead, bool dated, bool tanks)
{
    bool left_out = false;
    th_report_section(report, "weeks", "By week");
    th_report_table(report, NULL, "Used by all barns and other users, and truck loads");
    for (int w = 0; w < ahead->n_weeks; w++) {
        left_out |= is_idle(&ahead->weeks[w]);
        if (!is_idle(&ahead->weeks[w]))
            week_row(report, ahead, &ahead->weeks[w], dated, tanks);
    }
    week_total(report, ahead, tanks);
    th_report_table(report, "weeks", NULL);
    for (int w = 0; w < ahead->n_weeks; w++)
        week_row(report, ahead, &ahead->weeks[w], dated, tanks);
    week_total(report, ahead, tanks);
    th_report_paragraph(
        report, NULL, "Means add up; a week's high and another's come from different winters.%s%s",
        tanks ? " Loads are means too: 0.5 is a truck in every second case." : "",
        left_out ? " Weeks in which nothing is used are left out." : "");
}

/* A row in which nothing is used. */
static void cash_row(struct th_report *report, const struct th_ahead *ahead, const char *name,
                     double usd)
{
    const char *const *heads = th_ahead_headings(ahead->kind);
    th_report_row(report);
    th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "mean_gal", "Mean", "gal", TH_BULK, th_missing());
    th_report_cell(report, "low_gal", heads[0], "gal", TH_BULK, th_missing());
    th_report_cell(report, "middle_gal", heads[1], "gal", TH_BULK, th_missing());
    th_report_cell(report, "high_gal", heads[2], "gal", TH_BULK, th_missing());
    th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_BULK, th_missing());
    th_report_cell(report, "cash_usd", "To pay", "$", TH_BULK, th_number(usd));
}

static double cash_sum(const struct th_split_cash *cash)
{
    double usd = cash->early_usd + cash->interest_usd;
    for (int m = 0; m < 12; m++)
        usd += cash->month_usd[m];
    return usd;
}

const char *th_ahead_below_zero(const struct th_split_cash *cash)
{
    bool below = false;
    for (int m = 0; m < 12; m++)
        below |= cash->month_usd[m] <= -0.5;
    return below ? "Below 0: money that comes back." : "";
}

/* What rolls is worth something, and pays nobody. */
static void say_credit(struct th_report *report, const struct th_split_cash *cash)
{
    char usd[TH_SHOWN_MAX];
    th_report_fact(report, "credit_usd", NULL, "$", TH_SIG3, th_number(-cash->credit_usd));
    if (cash->credit_usd <= -0.5)
        th_report_paragraph(report, NULL,
                            "What is left over counts next season by the contract, worth %s on "
                            "average: no cash, so it is not in the table. The mean cost of the "
                            "way has it taken off.",
                            th_show_with_unit(usd, th_number(-cash->credit_usd), TH_SIG3, "$"));
}

void th_ahead_months(struct th_report *report, const struct th_ahead *ahead,
                     const struct th_split_cash *cash)
{
    th_report_section(report, "months", "By month");
    th_report_table(report, "months",
                    cash ? "Used, delivered and to pay" : "Used by all barns and other users");
    if (cash && cash->early_usd > 0.0)
        cash_row(report, ahead, "at signing", cash->early_usd);
    for (int m = 0; m < ahead->n_months; m++) {
        const struct th_ahead_month *month = &ahead->months[m];
        th_report_row(report);
        th_report_cell(report, "month", "Month", "", TH_PLAIN,
                       th_text(th_month_name(month->month)));
        span_cells(report, ahead, &month->used_gal);
        th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_BULK,
                       th_number(month->delivered_gal));
        th_report_cell(report, "cash_usd", "To pay", "$", TH_BULK,
                       cash ? th_number(cash->month_usd[month->month]) : th_missing());
    }
    if (cash && cash->interest_usd > 0.0)
        cash_row(report, ahead, "interest", cash->interest_usd);
    th_report_total(report);
    th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text("In all"));
    span_cells(report, ahead, &ahead->used);
    th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_BULK,
                   th_number(ahead->bought.mean));
    th_report_cell(report, "cash_usd", "To pay", "$", TH_BULK,
                   cash ? th_number(cash_sum(cash)) : th_missing());
    th_report_paragraph(
        report, NULL,
        "All is weighed over the farms that fit what is known, so it adds up to other gallons than "
        "those of the barns by themselves. Only the means, deliveries and payments add up. A few "
        "gallons delivered are a truck that seldom comes.");
    if (cash && th_ahead_below_zero(cash)[0])
        th_report_paragraph(report, NULL, "%s", th_ahead_below_zero(cash));
    if (cash)
        say_credit(report, cash);
}

enum th_code th_ahead_balances(struct th_report *report, const struct th_ahead *ahead,
                               const struct th_split_cash *cash, double cost_usd,
                               struct th_error *err)
{
    double weeks_gal = 0.0, months_gal = 0.0;
    for (int w = 0; w < ahead->n_weeks; w++)
        weeks_gal += ahead->weeks[w].used_gal.mean;
    for (int m = 0; m < ahead->n_months; m++)
        months_gal += ahead->months[m].used_gal.mean;
    enum th_code code = th_report_balanced(report, "weeks", "All weeks = used in all", "gal",
                                           weeks_gal, ahead->used.mean, err);
    if (code == TH_OK)
        code = th_report_balanced(report, "months", "All months = used in all", "gal", months_gal,
                                  ahead->used.mean, err);
    if (code == TH_OK && cash)
        code = th_report_balanced(report, "cash", "Cash of all months = cost", "$", cash_sum(cash),
                                  cost_usd, err);
    return code;
}
