/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure the gallons are: the weather's spread, the barns' own, and a week's slip. */
#include "plan_report.h"

#include "season_text.h"
#include "spread_text.h"
#include "turnheat/calendar.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define SLIP_DAYS 7

static double barns_gal(const struct th_plan *plan, int year, int unused)
{
    (void)unused;
    return plan->demand.years[year].barns_gal;
}

static int nearest_year(const struct th_plan *plan, double gal)
{
    int best = -1;
    for (int y = 0; y < plan->demand.n; y++) {
        const struct th_fuel_year *year = &plan->demand.years[y];
        if (year->usable && (best < 0 || fabs(year->barns_gal - gal) <
                                             fabs(plan->demand.years[best].barns_gal - gal)))
            best = y;
    }
    return best;
}

static enum th_code season_j(const struct th_case *one, int year, double *gas_j,
                             struct th_error *err)
{
    struct th_winters winters;
    const enum th_code code =
        th_winters_run(&winters, one->room, one->climate, year, year, NULL, err);
    if (code != TH_OK)
        return code;
    *gas_j = th_winters_mean_gas_j(&winters);
    th_winters_finish(&winters);
    return TH_OK;
}

/* Adds one barn file; the same draw moves every barn. */
static enum th_code add_barn(struct th_plan_unknowns *u, const struct th_case *one, int year,
                             struct th_error *err)
{
    struct th_risk_range ranges[TH_RISK_COUNT];
    double base_j = 0.0, drawn_j[TH_RISK_DRAWS];
    enum th_code code = season_j(one, year, &base_j, err);
    if (code == TH_OK)
        code = th_risk_one_by_one(one->room, one->climate, year, ranges, err);
    if (code == TH_OK)
        code = th_risk_together(one->room, one->climate, year, TH_RISK_DRAWS, drawn_j, err);
    if (code != TH_OK)
        return code;
    u->base_j += one->room->copies * base_j;
    for (int i = 0; i < TH_RISK_COUNT; i++) {
        u->ranges[i].low_j += one->room->copies * ranges[i].low_j;
        u->ranges[i].high_j += one->room->copies * ranges[i].high_j;
    }
    for (int i = 0; i < TH_RISK_DRAWS; i++)
        u->drawn_j[i] += one->room->copies * drawn_j[i];
    return TH_OK;
}

/* The spread as low, middle, high of `like`; of one value only the middle is known. */
static void sure_row(struct th_report *report, const char *what, struct th_spread spread,
                     enum th_spread_kind like)
{
    struct th_value v[3];
    const char *const *heads;
    const bool one = spread.n == 1;
    spread.kind = like;
    heads = th_spread_headings(&spread);
    th_spread_values(&spread, v);
    th_report_row(report);
    th_report_cell(report, "what", "What is not known", "", TH_PLAIN, th_text(what));
    th_report_cell(report, "low_gal", heads[0], "gal", TH_SIG3, one ? th_missing() : v[0]);
    th_report_cell(report, "middle_gal", heads[1], "gal", TH_SIG3, v[1]);
    th_report_cell(report, "high_gal", heads[2], "gal", TH_SIG3, one ? th_missing() : v[2]);
}

enum th_code th_plan_unknowns_run(struct th_plan *plan, struct th_error *err)
{
    struct th_plan_unknowns *u = &plan->unknowns;
    struct th_spread weather;
    enum th_code code = th_plan_spread(plan, barns_gal, 0, &weather, err);
    if (code != TH_OK)
        return code;
    u->year = nearest_year(plan, weather.mean);
    for (int i = 0; i < plan->in->n_cases && code == TH_OK; i++) {
        th_progress_step(plan->in->progress, "what is not known of barn %d of %d", i + 1,
                         plan->in->n_cases);
        code = add_barn(u, &plan->in->cases[i], plan->demand.years[u->year].year, err);
    }
    return code;
}

static enum th_code sure_rows(struct th_report *report, const struct th_plan *plan,
                              const struct th_spread *weather, struct th_error *err)
{
    const struct th_plan_unknowns *u = &plan->unknowns;
    double gal[TH_RISK_DRAWS];
    struct th_spread drawn;
    char name[TH_SEASON_NAME_MAX], what[64];
    for (int i = 0; i < TH_RISK_DRAWS; i++)
        gal[i] = plan->demand.years[u->year].barns_gal * u->drawn_j[i] / u->base_j;
    const enum th_code code = th_spread_of(TH_RISK_DRAWS, gal, &drawn, err);
    if (code != TH_OK)
        return code;
    const bool typical = plan->in->cases[0].climate->typical;
    snprintf(what, sizeof what, "the weather of %zu %s%s", weather->n,
             typical ? "typical year" : "winter", weather->n == 1 ? "" : "s");
    sure_row(report, what, *weather, weather->kind);
    th_plan_season_name(plan, u->year, name);
    snprintf(what, sizeof what, "the barns themselves, in %s", typical ? "it" : name);
    sure_row(report, what, drawn, weather->kind);
    return TH_OK;
}

enum th_code th_plan_sure(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err)
{
    struct th_spread weather;
    enum th_code code = th_plan_spread(plan, barns_gal, 0, &weather, err);
    if (code != TH_OK || plan->unknowns.base_j <= 0.0)
        return code;
    th_report_section(report, "sure", "How sure that is");
    th_report_table(report, "sure", "Gallons of all barns, without other users");
    code = sure_rows(report, plan, &weather, err);
    th_report_paragraph(report, NULL,
                        "Winters differ, and the barns' own numbers are not known exactly either: "
                        "the second line draws all of them together, %d times, in the season "
                        "nearest the mean; the last table shows them one by one. A number that is "
                        "off is taken to be off the same way in every barn, as where one builder "
                        "and one stock of pigs stand behind them all; barns that differ would make "
                        "the line narrower. turnheat calibrate with your fills narrows it too. It "
                        "is in no dollars of this report.",
                        TH_RISK_DRAWS);
    return code;
}

void th_plan_barns_open(struct th_report *report, const struct th_plan *plan)
{
    if (plan->unknowns.base_j <= 0.0)
        return;
    th_report_section(report, "barn_spread", "What the barns themselves leave open");
    th_report_risk(report, plan->unknowns.base_j, plan->unknowns.ranges);
}

static struct th_room slipped(const struct th_room *room)
{
    struct th_room later = *room;
    for (int t = 0; t < later.n_turns; t++) {
        struct th_turn_plan *turn = &later.turns[t];
        const struct th_date d =
            th_date_of(th_day_number(TH_TYPICAL_YEAR, turn->month, turn->day) + SLIP_DAYS);
        turn->month = d.month;
        turn->day = d.day;
    }
    return later;
}

/* Mean change over the seasons that both cover; `n` of them. */
static double mean_change_j(const struct th_winters *now, const struct th_winters *later, int *n)
{
    double sum_j = 0.0;
    *n = 0;
    for (int i = 0; i < now->n; i++)
        for (int k = 0; k < later->n; k++) {
            const struct th_season *a = &now->seasons[i], *b = &later->seasons[k];
            if (a->year != b->year || !a->counted || !b->counted)
                continue;
            sum_j += th_tally_gas_j(&b->total) - th_tally_gas_j(&a->total);
            (*n)++;
        }
    return *n > 0 ? sum_j / *n : 0.0;
}

static enum th_code barn_slip(const struct th_case *one, double *gal, bool *known,
                              struct th_error *err)
{
    const struct th_room room = slipped(one->room);
    struct th_winters now, later;
    int n = 0;
    enum th_code code =
        th_winters_run(&now, one->room, one->climate, one->first_year, one->last_year, NULL, err);
    if (code != TH_OK)
        return code;
    code = th_winters_run(&later, &room, one->climate, one->first_year, one->last_year, NULL, err);
    if (code == TH_OK)
        *gal += room.copies * mean_change_j(&now, &later, &n) / room.fuel.hhv_j;
    *known = *known && n > 0;
    th_winters_finish(&now);
    th_winters_finish(&later);
    return code;
}

enum th_code th_plan_slip(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err)
{
    double gal = 0.0;
    bool known = true;
    for (int i = 0; i < plan->in->n_cases; i++) {
        th_progress_step(plan->in->progress, "a week's slip in barn %d of %d", i + 1,
                         plan->in->n_cases);
        const enum th_code code = barn_slip(&plan->in->cases[i], &gal, &known, err);
        if (code != TH_OK)
            return code;
    }
    th_report_fact(report, "slip_gal",
                   "If every placement slips a week, the mean season changes by", "gal", TH_SIG2,
                   th_number_if(known, gal));
    return TH_OK;
}
