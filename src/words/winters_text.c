/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "winters_text.h"

#include "season_text.h"
#include "turnheat/calendar.h"

#include <stdio.h>
#include <string.h>

/* The seasons asked for that the weather touches. */
static void years_of(const struct th_case *one, int *first, int *last)
{
    th_season_range(one->climate, first, last);
    if (one->climate->typical)
        return;
    *first = one->first_year > *first ? one->first_year : *first;
    *last = one->last_year < *last ? one->last_year : *last;
}

static void borrowed_item(struct th_report *report, const struct th_borrowed *b)
{
    char name[TH_SEASON_NAME_MAX], lender[TH_SEASON_NAME_MAX];
    char first[TH_DAY_TEXT_MAX], last[TH_DAY_TEXT_MAX];
    th_year_name(b->year, false, name);
    th_year_name(b->from_year, false, lender);
    th_day_text(th_day_of_hour(b->first_hour), first);
    th_day_text(th_day_of_hour(b->last_hour), last);
    th_report_item(
        report,
        "%s counts although %ld hours between %s and %s are missing: those of %s "
        "stand in for them, %s %.1f %% of its gas. It tells no coldest hour and no peak.",
        name, b->hours, first, last, lender, b->share < 0.001 ? "less than" : "about",
        b->share < 0.001 ? 0.1 : 100.0 * b->share);
}

static void left_out_item(struct th_report *report, const struct th_case *one,
                          const struct th_season *season)
{
    struct th_error why = {0};
    char name[TH_SEASON_NAME_MAX];
    if (th_case_season_covered(one, season, &why) == TH_OK)
        return;
    const char *slash = strrchr(why.file, '/');
    th_season_name(season, name);
    th_report_item(report, "%s is not counted: %s%s%s", name, slash ? slash + 1 : why.file,
                   why.file[0] ? ": " : "", why.text);
}

/* Lists the parts of a season of this case, as if it were run. */
static void season_of(const struct th_case *one, int year, struct th_season *season)
{
    season->year = year;
    season->typical = one->climate->typical;
    th_season_parts(one->room, one->climate, year, season);
}

void th_report_winter_notes(struct th_report *report, const struct th_case *one)
{
    struct th_season season;
    int first, last;
    years_of(one, &first, &last);
    for (int year = first; year <= last && !th_climate_generated(one->climate); year++) {
        season_of(one, year, &season);
        left_out_item(report, one, &season);
        for (int i = 0; i < one->n_borrowed; i++)
            if (one->borrowed[i].year == year && season.counted && !season.whole)
                borrowed_item(report, &one->borrowed[i]);
    }
}

int th_winter_names(const struct th_case *one, char names[TH_WINTER_NAMES_MAX])
{
    struct th_season season;
    int first, last, n = 0;
    size_t used = 0;
    names[0] = 0;
    years_of(one, &first, &last);
    for (int year = first; year <= last; year++) {
        char name[TH_SEASON_NAME_MAX];
        season_of(one, year, &season);
        if (!season.counted)
            continue;
        th_season_name(&season, name);
        if (used < TH_WINTER_NAMES_MAX)
            used += (size_t)snprintf(names + used, TH_WINTER_NAMES_MAX - used, "%s%s",
                                     n ? ", " : "", name);
        n++;
    }
    return n;
}

void th_report_few_winters(struct th_report *report, const struct th_case *one, int n)
{
    if (n < TH_FEW_WINTERS && !one->climate->typical)
        th_report_warning(report,
                          "%s: only %d winter%s: the next may lie outside what %s. Add files of "
                          "more years.",
                          th_case_weather_name(one), n, n == 1 ? "" : "s",
                          n == 1 ? "it shows" : "they show");
}

void th_report_winters(struct th_report *report, const struct th_case *one)
{
    char names[TH_WINTER_NAMES_MAX];
    const int n = th_winter_names(one, names);
    th_report_section(report, "winters", "The winters");
    th_report_fact(report, "counted_seasons_count", "Seasons counted", "", TH_WHOLE, th_number(n));
    th_report_fact(
        report, "seasons", "these", "", TH_PLAIN,
        th_text(th_climate_generated(one->climate) ? "generated, none was measured" : names));
    th_report_winter_notes(report, one);
    th_report_few_winters(report, one, n);
}
