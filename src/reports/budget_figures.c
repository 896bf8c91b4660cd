/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The budget's figures of whole seasons: gas by month, where the heat goes, heaters at work. */
#include "budget_report.h"

#include "figure.h"
#include "fuel_unit.h"
#include "season_text.h"
#include "turnheat/units.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdio.h>
#include <stdlib.h>

#define MONTHS 12

/* Shares under this are left out of the figure of heat: their bars would not be seen. */
#define SHARE_DRAWN_MIN 0.005

/* Gas of the month over the counted seasons, all rooms alike; returns how many. */
static int month_units(const struct th_case *one, const struct th_winters *winters, int month,
                       double *units)
{
    int n = 0;
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].counted)
            units[n++] = one->room->copies * th_tally_gas_j(&winters->seasons[i].month[month]) /
                         one->room->fuel.hhv_j;
    return n;
}

struct months {
    int first, last;                                       /* places in the season that see gas */
    int most;                                              /* place of the highest middle */
    double low[MONTHS], middle[MONTHS], high[MONTHS], sum; /* sum of the middles */
};

static void find_months(const struct th_case *one, const struct th_winters *winters, double *units,
                        struct months *m)
{
    *m = (struct months){.first = -1};
    for (int place = 0; place < MONTHS; place++) {
        const size_t n = (size_t)month_units(one, winters, th_season_month(place), units);
        gsl_sort(units, 1, n);
        m->low[place] = units[0];
        m->middle[place] = gsl_stats_median_from_sorted_data(units, 1, n);
        m->high[place] = units[n - 1];
        m->sum += m->middle[place];
        if (m->middle[place] > m->middle[m->most])
            m->most = place;
        if (m->high[place] <= 0.0)
            continue;
        m->first = m->first < 0 ? place : m->first;
        m->last = place;
    }
}

static void month_marks(struct th_report *report, const struct th_case *one,
                        const struct th_winters *winters, const struct months *m)
{
    for (int place = m->first; place <= m->last; place++)
        th_figure_name(report, th_month_name(th_season_month(place)));
    if (winters->n_counted == 1) {
        th_figure_mark(report, TH_MARK_BAR, TH_INK_HEAT, NULL);
        for (int place = m->first; place <= m->last; place++)
            th_figure_point(report, place - m->first, m->middle[place]);
        return;
    }
    th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
    for (int place = m->first; place <= m->last; place++)
        th_figure_span(report, place - m->first, m->low[place], m->high[place]);
    th_figure_mark(report, TH_MARK_SPECK, TH_INK_HEAT, NULL);
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *season = &winters->seasons[i];
        char name[TH_SEASON_NAME_MAX];
        th_season_name(season, name);
        for (int place = m->first; season->counted && place <= m->last; place++)
            th_figure_named_point(report, place - m->first,
                                  one->room->copies *
                                      th_tally_gas_j(&season->month[th_season_month(place)]) /
                                      one->room->fuel.hhv_j,
                                  name);
    }
    th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
    for (int place = m->first; place <= m->last; place++)
        th_figure_named_point(report, place - m->first, m->middle[place], "middle");
}

enum th_code th_budget_month_figure(struct th_report *report, const struct th_case *one,
                                    const struct th_winters *winters, struct th_error *err)
{
    const char *const unit = th_fuel_unit(&one->room->fuel)->unit;
    double *units = malloc((size_t)winters->n * sizeof *units);
    struct months m;
    char caption[96], reading[192];
    if (!units)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    find_months(one, winters, units, &m);
    free(units);
    if (m.first < 0)
        return TH_OK;
    snprintf(caption, sizeof caption, "%s takes the most: %.0f %% of the season's gas",
             th_month_in_prose(th_season_month(m.most)), 100.0 * m.middle[m.most] / m.sum);
    if (winters->n_counted == 1)
        snprintf(reading, sizeof reading, "Gas by month in the one season there is.");
    else
        snprintf(reading, sizeof reading,
                 "Gas by month. Large dot: the middle of %d seasons. Line: from the lowest to the "
                 "highest. Small dots: each season.",
                 winters->n_counted);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = reading,
                                  .along = {.kind = TH_AXIS_NAMES},
                                  .value = {.unit = unit, .format = TH_BULK, .from_zero = true}});
    month_marks(report, one, winters, &m);
    return TH_OK;
}

/* A bar a part, the largest first; parts of no weight are left out. */
static void heat_bars(struct th_report *report, const struct th_tally *t, int first, int last,
                      enum th_ink ink, enum th_ink pigs_ink, int *names)
{
    size_t order[TH_TALLY_COUNT];
    const size_t n = (size_t)(last - first + 1);
    double all = 0.0;
    gsl_sort_index(order, &t->sum[first], 1, n);
    for (int i = first; i <= last; i++)
        all += t->sum[i];
    for (size_t k = n; k-- > 0;) {
        const enum th_tally_item item = (enum th_tally_item)(first + (int)order[k]);
        if (t->sum[item] < SHARE_DRAWN_MIN * all)
            continue;
        th_figure_name(report, th_tally_text(item));
        th_figure_mark(report, TH_MARK_BAR, item == TH_FROM_PIGS ? pigs_ink : ink, NULL);
        th_figure_point(report, (*names)++, 100.0 * t->sum[item] / all);
    }
}

static int largest(const struct th_tally *t, int first, int last)
{
    int best = first;
    for (int i = first; i <= last; i++)
        if (t->sum[i] > t->sum[best])
            best = i;
    return best;
}

void th_budget_heat_figure(struct th_report *report, const struct th_winters *winters)
{
    struct th_tally t;
    char caption[128];
    int names = 0;
    th_winters_total(winters, &t);
    const int out = largest(&t, TH_TO_WALLS, TH_TO_DRYING);
    double all = 0.0;
    for (int i = TH_TO_WALLS; i <= TH_TO_DRYING; i++)
        all += t.sum[i];
    snprintf(caption, sizeof caption, "The largest loss: %s, %.0f %%",
             th_tally_text((enum th_tally_item)out), 100.0 * t.sum[out] / all);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = "Shares of the heat of all seasons. Blue: where it "
                                             "goes. Teal and orange: where it comes from.",
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = "%", .format = TH_WHOLE, .from_zero = true}});
    heat_bars(report, &t, TH_TO_WALLS, TH_TO_DRYING, TH_INK_COLD, TH_INK_COLD, &names);
    heat_bars(report, &t, TH_FROM_PIGS, TH_FROM_INTERNAL, TH_INK_HEAT, TH_INK_PIGS, &names);
}

static void work_figure(struct th_report *report, const struct th_season *season,
                        enum th_tally_item item, const char *what, const char *unit)
{
    char caption[96];
    int names = 0;
    double sum = 0.0;
    for (int month = 0; month < MONTHS; month++)
        sum += season->month[month].sum[item];
    snprintf(caption, sizeof caption, "%s in the season that took most gas", what);
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = "By month, one room.",
                                  .along = {.kind = TH_AXIS_NAMES},
                                  .value = {.unit = unit, .format = TH_WHOLE, .from_zero = true}});
    th_figure_mark(report, TH_MARK_BAR, TH_INK_HEAT, NULL);
    for (int place = 0; place < MONTHS && sum > 0.0; place++) {
        const int month = th_season_month(place);
        const double value = season->month[month].sum[item];
        if (value <= 0.0)
            continue;
        th_figure_name(report, th_month_name(month));
        th_figure_point(report, names++, value);
    }
}

void th_budget_work_figures(struct th_report *report, const struct th_season *season)
{
    work_figure(report, season, TH_HEATER_HOURS, "Heater-hours", "h");
    work_figure(report, season, TH_STARTS, "Burner starts", "");
}
