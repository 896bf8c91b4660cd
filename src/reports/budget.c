/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "budget.h"
#include "cautions.h"

#include "fuel_unit.h"
#include "outlook_text.h"
#include "risk_text.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/normals.h"
#include "turnheat/thousands.h"

#include <stdio.h>
#include <stdlib.h>

#define HOURS_TEXT_MAX 64

/* Never "0 hours": what is warned of happens in some winter. */
static const char *hours_text(double hours, char text[HOURS_TEXT_MAX])
{
    if (hours < 0.5)
        snprintf(text, HOURS_TEXT_MAX, "less than an hour");
    else
        snprintf(text, HOURS_TEXT_MAX, "%s hour%s", th_whole(hours).text, hours < 1.5 ? "" : "s");
    return text;
}

static void warn(struct th_report *report, const struct th_case *one,
                 const struct th_winters *winters)
{
    struct th_findings findings;
    struct th_tally t;
    char hours[HOURS_TEXT_MAX];
    th_room_review(one->room, &findings);
    for (int i = 0; i < findings.n_warnings && i < TH_FINDINGS_MAX; i++)
        th_report_warning(report, "%s: [%s] %s", one->room->name, findings.warnings[i].section,
                          findings.warnings[i].text);
    th_winters_total(winters, &t);
    if (t.sum[TH_UNMET] > 0.0)
        th_report_warning(report,
                          "%s: the heaters could not keep up in %s of a mean season, %s "
                          "degree-hours (°F) short.",
                          one->room->name, hours_text(t.sum[TH_UNMET] / winters->n_counted, hours),
                          th_whole(1.8 * t.sum[TH_UNMET_KH] / winters->n_counted).text);
    if (t.sum[TH_OVER_CO2_WORKER] > 0.0)
        th_report_warning(report, "%s: CO2 passed the limit for people in %s of a mean season.",
                          one->room->name,
                          hours_text(t.sum[TH_OVER_CO2_WORKER] / winters->n_counted, hours));
    th_report_thin_weather(report, one);
}

/* The counted season whose gas is nearest the middle. */
static int middle_year(const struct th_winters *winters)
{
    int best = 0;
    double best_gap = -1.0;
    const double mean = th_winters_mean_gas_j(winters);
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *s = &winters->seasons[i];
        const double off = th_tally_gas_j(&s->total) - mean;
        const double gap = off < 0.0 ? -off : off;
        if (s->counted && (best_gap < 0.0 || gap < best_gap)) {
            best = s->year;
            best_gap = gap;
        }
    }
    return best;
}

static double season_gas_j(const struct th_winters *winters, int year)
{
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].year == year)
            return th_tally_gas_j(&winters->seasons[i].total);
    return 0.0;
}

enum th_code th_budget_risk(struct th_report *report, const struct th_case *one,
                            const struct th_winters *winters, struct th_error *err)
{
    struct th_risk_range ranges[TH_UNKNOWNS];
    const int year = middle_year(winters);
    const double base_j = season_gas_j(winters, year);
    if (base_j <= 0.0)
        return TH_OK;
    const enum th_code code = th_risk_one_by_one(one->room, one->climate, year, ranges, err);
    if (code != TH_OK)
        return code;
    th_report_section(report, "barn_spread", "What the barn itself leaves open");
    th_report_paragraph(
        report, NULL,
        "The seasons above spread by weather. The barn's own numbers are not known "
        "exactly either; here one by one, on the season nearest the mean. The answer on top "
        "draws them together with the winters.");
    th_report_risk(report, one->room, base_j, ranges);
    return TH_OK;
}

static enum th_code fan_floor(struct th_report *report, const struct th_case *one,
                              const struct th_winters *winters, struct th_error *err)
{
    struct th_room without = *one->room;
    struct th_winters cut;
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    without.air.floor_m3_s = 0.0;
    const enum th_code code =
        th_winters_run(&cut, &without, one->climate, one->first_year, one->last_year, NULL, err);
    if (code != TH_OK)
        return code;
    const double saved = (th_winters_mean_gas_j(winters) - th_winters_mean_gas_j(&cut)) *
                         one->room->copies / one->room->fuel.hhv_j;
    th_winters_finish(&cut);
    th_report_fact(report, "fan_floor_gal", "Of it, for fans that cannot turn down", unit->unit,
                   TH_SIG3, th_number(saved));
    return TH_OK;
}

static enum th_code room_report(struct th_report *report, const struct th_case *one,
                                struct th_winters *winters, struct th_error *err)
{
    enum th_code code = th_winters_run(winters, one->room, one->climate, one->first_year,
                                       one->last_year, NULL, err);
    if (code != TH_OK)
        return code;
    if (winters->n_counted == 0)
        return th_case_uncovered(one, winters, err);
    warn(report, one, winters);
    code = th_budget_seasons(report, one, winters, err);
    if (code == TH_OK)
        code = fan_floor(report, one, winters, err);
    if (code != TH_OK)
        return code;
    th_budget_turns(report, one, winters);
    th_budget_months(report, one, winters);
    code = th_budget_month_figure(report, one, winters, err);
    if (code == TH_OK)
        code = th_budget_hour_figures(report, one, winters, err);
    if (code != TH_OK)
        return code;
    th_budget_heat(report, one, winters);
    th_budget_heat_figure(report, winters);
    code = th_budget_pigs(report, one, winters, err);
    if (code == TH_OK)
        code = th_budget_risk(report, one, winters, err);
    if (code != TH_OK)
        return code;
    th_budget_inputs(report, one);
    return th_budget_balances(report, one, winters, err);
}

/* Gas of each season summed over rooms, for the seasons that all rooms count. */
static enum th_code sum_report(struct th_report *report, const struct th_case *cases,
                               const struct th_winters *winters, int n, struct th_error *err)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&cases[0].room->fuel);
    double *gas = malloc((size_t)winters[0].n * sizeof *gas);
    size_t n_seasons = 0;
    if (!gas)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < winters[0].n; i++) {
        bool counted = true;
        double sum = 0.0;
        for (int room = 0; room < n; room++) {
            const struct th_season *season =
                th_winters_season(&winters[room], winters[0].seasons[i].year);
            counted = counted && season && season->counted;
            if (counted)
                sum += cases[room].room->copies * th_tally_gas_j(&season->total) /
                       cases[room].room->fuel.hhv_j;
        }
        if (counted)
            gas[n_seasons++] = sum;
    }
    struct th_spread spread;
    enum th_code code = TH_OK;
    th_report_section(report, "farm", "All rooms together");
    if (n_seasons > 0) {
        code = th_spread_of(n_seasons, gas, &spread, err);
        th_report_spread(report, "gas", unit->unit, unit->name, unit->unit, TH_SIG3, &spread);
    } else {
        th_report_paragraph(report, NULL, "No season is counted in every room.");
    }
    free(gas);
    return code;
}

static bool same_fuel(const struct th_case *cases, int n)
{
    for (int i = 1; i < n; i++)
        if (cases[i].room->fuel.gas != cases[0].room->fuel.gas)
            return false;
    return true;
}

/* The answer on top, of all rooms together; rooms that burn nothing leave nothing to say. */
static enum th_code answer(struct th_report *report, const struct th_case *cases, int n,
                           const struct th_record *records, int n_records, struct th_error *err)
{
    struct th_outlook outlook;
    struct th_answer said;
    struct th_runs runs;
    th_runs_init(&runs, 1, NULL);
    enum th_code code = th_outlook_init(&outlook, &runs, cases, n, err);
    th_runs_finish(&runs);
    if (code == TH_OK)
        code = th_answer_make(&said, &outlook, n_records, records, err);
    if (code == TH_OK) {
        th_report_answer(report, &said);
        th_report_answer_facts(report, &said);
    }
    th_outlook_finish(&outlook);
    return code == TH_ERR_MODEL || code == TH_ERR_COVERAGE ? TH_OK : code;
}

enum th_code th_budget_report(struct th_report *report, const struct th_case *cases, int n,
                              const struct th_record *records, int n_records, struct th_error *err)
{
    struct th_winters *winters = calloc((size_t)n, sizeof *winters);
    if (!winters)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = TH_OK;
    th_report_title(report, "Heating fuel budget");
    if (same_fuel(cases, n))
        code = answer(report, cases, n, records, n_records, err);
    for (int i = 0; i < n && code == TH_OK; i++) {
        th_report_part(report, "rooms", cases[i].room->name);
        code = room_report(report, &cases[i], &winters[i], err);
        th_report_part_end(report);
    }
    if (code == TH_OK && n > 1 && same_fuel(cases, n))
        code = sum_report(report, cases, winters, n, err);
    th_report_cautions(report);
    for (int i = 0; i < n; i++)
        th_winters_finish(&winters[i]);
    free(winters);
    return code;
}
