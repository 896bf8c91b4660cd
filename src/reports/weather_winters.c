/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_winters.h"

#include "display.h"
#include "figure.h"
#include "weather_sums.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define SEASON_MAX 16

static struct th_value degree_days(double k_d)
{
    return th_number(k_d / TH_K_PER_F);
}

static void dd_row(struct th_report *report, const char *name, double missing, double filled,
                   const struct th_degree_days *dd)
{
    th_report_row(report);
    th_report_cell(report, "period", "Period", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "missing_h", "Missing", "h", TH_WHOLE, th_number(missing));
    th_report_cell(report, "filled_h", "Filled", "h", TH_WHOLE, th_number(filled));
    th_report_cell(report, "hourly_f_d", "By the hour", "°F·day", TH_TENTHS,
                   degree_days(dd->hourly_k_d));
    th_report_cell(report, "mean_f_d", "By the 24 h mean", "°F·day", TH_TENTHS,
                   degree_days(dd->mean_k_d));
    th_report_cell(report, "midrange_f_d", "By mid-range", "°F·day", TH_TENTHS,
                   degree_days(dd->midrange_k_d));
    th_report_cell(report, "nws_f_d", "NWS, whole °F", "°F·day", TH_WHOLE, th_number(dd->nws_f_d));
}

static void add_years(struct th_report *report, const struct th_weather_summary *summary,
                      bool typical)
{
    th_report_table(report, "years", "By calendar year");
    const int first = summary->months[0].year;
    const int last = summary->months[summary->n_months - 1].year;
    for (int year = first; year <= last; year++) {
        const struct th_weather_sum sum = th_year_sum(summary, year);
        char name[16];
        snprintf(name, sizeof name, "%d", year);
        dd_row(report, typical ? "typical" : name, sum.missing, sum.filled, &sum.degree_days);
    }
}

static void season_name(const struct th_season_cover *season, char name[SEASON_MAX])
{
    snprintf(name, SEASON_MAX, "%d-%02d", season->year, (season->year + 1) % 100);
}

static void add_seasons(struct th_report *report, const struct th_weather_summary *summary)
{
    th_report_table(report, "seasons", "By fuel season, 1 July – 30 June");
    for (size_t i = 0; i < summary->n_seasons; i++) {
        const struct th_season_cover *season = &summary->seasons[i];
        const double low_c = th_season_sum(summary, season->year).low_c;
        char name[SEASON_MAX];
        season_name(season, name);
        dd_row(report, name, (double)season->span.missing, (double)season->span.filled,
               &season->degree_days);
        th_report_cell(report, "low_f", "Coldest hour", "°F", TH_TENTHS,
                       th_number(th_f_from_c(low_c)));
    }
}

/* A winter with a larger share of its hours missing reads low and is not drawn. */
#define WINTER_MISSING_MAX 0.01

static bool is_whole(const struct th_season_cover *season)
{
    return season->span.hours > 0 &&
           (double)season->span.missing <= WINTER_MISSING_MAX * (double)season->span.hours;
}

/* What winters are set beside each other by. */
static double degree_days_of(const struct th_weather_summary *summary, size_t i)
{
    return summary->seasons[i].degree_days.hourly_k_d / TH_K_PER_F;
}

static double coldest_of(const struct th_weather_summary *summary, size_t i)
{
    return th_f_from_c(th_season_sum(summary, summary->seasons[i].year).low_c);
}

typedef double winter_number(const struct th_weather_summary *summary, size_t i);

/* That of every whole winter, ascending; returns how many. */
static size_t sort_winters(const struct th_weather_summary *summary, winter_number *number,
                           double *sorted)
{
    size_t n = 0;
    for (size_t i = 0; i < summary->n_seasons; i++)
        if (is_whole(&summary->seasons[i]))
            sorted[n++] = number(summary, i);
    gsl_sort(sorted, 1, n);
    return n;
}

static void winter_dots(struct th_report *report, const struct th_weather_summary *summary,
                        winter_number *number)
{
    th_figure_mark(report, TH_MARK_DOT, TH_INK_COLD, NULL);
    for (size_t i = 0; i < summary->n_seasons; i++) {
        const struct th_season_cover *season = &summary->seasons[i];
        char name[SEASON_MAX];
        season_name(season, name);
        if (is_whole(season))
            th_figure_named_point(report, (double)th_day_number(season->year + 1, 1, 1),
                                  number(summary, i), name);
    }
}

/* The least and the most of whole winters; false without any. */
static bool span_winters(const struct th_weather_summary *summary, winter_number *number,
                         double *least, double *most)
{
    bool any = false;
    for (size_t i = 0; i < summary->n_seasons; i++) {
        if (!is_whole(&summary->seasons[i]))
            continue;
        const double value = number(summary, i);
        *least = any ? fmin(*least, value) : value;
        *most = any ? fmax(*most, value) : value;
        any = true;
    }
    return any;
}

void th_weather_say_winters(struct th_report *report, const struct th_weather_summary *summary)
{
    double warmest_f, coldest_f, least_f_d, most_f_d;
    char a[TH_SHOWN_MAX], b[TH_SHOWN_MAX], c[TH_SHOWN_MAX], d[TH_SHOWN_MAX];
    size_t n = 0;
    for (size_t i = 0; i < summary->n_seasons; i++)
        n += is_whole(&summary->seasons[i]);
    if (!span_winters(summary, coldest_of, &coldest_f, &warmest_f) ||
        !span_winters(summary, degree_days_of, &least_f_d, &most_f_d)) {
        th_report_line(report, "Whole winters: none.");
        return;
    }
    th_show(d, th_number(least_f_d), TH_WHOLE);
    if (n == 1)
        th_report_line(report, "Whole winters: 1, of %s degree-days.", d);
    else
        th_report_line(report,
                       "Whole winters: %zu. Their coldest hours lie between %s and %s, their "
                       "degree-days between %s and %s.",
                       n, th_show(a, th_number(warmest_f), TH_TENTHS),
                       th_show_with_unit(b, th_number(coldest_f), TH_TENTHS, "°F"), d,
                       th_show(c, th_number(most_f_d), TH_WHOLE));
}

#define EACH_WINTER                                                                                \
    "Each dot a winter, 1 July to 30 June, at its January. Winters with more than a hundredth of " \
    "their hours missing are left out."

/* The winters beside each other: how much colder the coldest is. */
static void winters_figure(struct th_report *report, const struct th_weather_summary *summary)
{
    double *f_d = malloc((summary->n_seasons + 1) * sizeof *f_d);
    const size_t n = f_d ? sort_winters(summary, degree_days_of, f_d) : 0;
    if (n >= 2) {
        const double middle = gsl_stats_median_from_sorted_data(f_d, 1, n);
        char caption[96];
        snprintf(caption, sizeof caption,
                 "The coldest of %zu winters has %.0f %% more degree-days than the middle one", n,
                 100.0 * (f_d[n - 1] / middle - 1.0));
        th_figure(report,
                  &(struct th_figure){
                      .caption = caption,
                      .reading = EACH_WINTER,
                      .along = {.kind = TH_AXIS_DAY},
                      .value = {.unit = "°F·d", .label = "degree-days, °F·d", .format = TH_WHOLE}});
        winter_dots(report, summary, degree_days_of);
        th_figure_rule(report, TH_MARK_RULE_VALUE, "middle", middle);
    }
    free(f_d);
}

void th_weather_degree_days(struct th_report *report, const struct th_weather_summary *summary,
                            bool typical)
{
    th_report_section(report, "degree_days", "Heating degree-days");
    th_report_fact(report, "base_f", "Base", "°F", TH_TENTHS,
                   th_number(th_f_from_c(summary->base_c)));
    add_years(report, summary, typical);
    if (!typical) {
        add_seasons(report, summary);
        winters_figure(report, summary);
    }
    th_report_paragraph(report, NULL,
                        "Missing hours add nothing, so a period with many of them reads low. Sums "
                        "over hours run 1 to 4 %% above those of daily means. A day with fewer "
                        "than %d hours counts by the hour only.",
                        TH_DAY_HOURS_MIN);
}

void th_weather_cold_figure(struct th_report *report, const struct th_weather_summary *summary)
{
    double *low_f = malloc((summary->n_seasons + 1) * sizeof *low_f);
    const size_t n = low_f ? sort_winters(summary, coldest_of, low_f) : 0;
    if (n > 0) {
        char caption[80 + 2 * TH_SHOWN_MAX], lowest[TH_SHOWN_MAX], highest[TH_SHOWN_MAX];
        th_show(highest, th_number(low_f[n - 1]), TH_TENTHS);
        th_show_with_unit(lowest, th_number(low_f[0]), TH_TENTHS, "°F");
        if (n > 1)
            snprintf(caption, sizeof caption, "Coldest hours of %zu winters: from %s to %s", n,
                     highest, lowest);
        else
            snprintf(caption, sizeof caption, "The coldest hour of the one whole winter: %s",
                     lowest);
        th_figure(report, &(struct th_figure){.caption = caption,
                                              .reading = EACH_WINTER,
                                              .along = {.kind = TH_AXIS_DAY},
                                              .value = {.unit = "°F", .format = TH_TENTHS}});
        winter_dots(report, summary, coldest_of);
        th_figure_rule(report, TH_MARK_RULE_VALUE, "99 % of hours are warmer",
                       th_f_from_c(summary->dry_bulbs.out_99_c));
    }
    free(low_f);
}
