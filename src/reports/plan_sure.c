/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_sure.h"

#include "risk_text.h"
#include "season_text.h"
#include "spread_text.h"

#include <stdio.h>

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

static enum th_code sure_rows(struct th_report *report, const struct th_plan *plan,
                              const struct th_spread *weather, struct th_error *err)
{
    const struct th_plan_unknowns *u = &plan->unknowns;
    double gal[TH_PLAN_DRAWS];
    struct th_spread drawn;
    char name[TH_SEASON_NAME_MAX], what[64];
    for (int i = 0; i < TH_PLAN_DRAWS; i++)
        gal[i] = plan->demand.years[u->year].barns_gal * u->drawn_j[i] / u->base_j;
    const enum th_code code = th_spread_of(TH_PLAN_DRAWS, gal, &drawn, err);
    if (code != TH_OK)
        return code;
    const bool typical = plan->demand.typical;
    snprintf(what, sizeof what, "the weather of %zu %s%s", weather->n,
             typical ? "typical year" : "winter", weather->n == 1 ? "" : "s");
    sure_row(report, what, *weather, weather->kind);
    th_year_name(plan->demand.years[u->year].year, typical, name);
    snprintf(what, sizeof what, "the barns themselves, in %s", typical ? "it" : name);
    sure_row(report, what, drawn, weather->kind);
    return TH_OK;
}

enum th_code th_plan_sure(struct th_report *report, const struct th_plan *plan,
                          struct th_error *err)
{
    struct th_spread weather;
    enum th_code code = th_plan_spread(plan, th_plan_barns_gal, 0, &weather, err);
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
                        TH_PLAN_DRAWS);
    return code;
}

void th_plan_barns_open(struct th_report *report, const struct th_plan *plan)
{
    if (plan->unknowns.base_j <= 0.0)
        return;
    th_report_section(report, "barn_spread", "What the barns themselves leave open");
    th_report_risk(report, plan->unknowns.base_j, plan->unknowns.ranges);
}
