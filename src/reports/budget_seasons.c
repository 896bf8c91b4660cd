/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The budget's answer: gas and dollars by season, turn and month. */
#include "budget_report.h"

#include "fuel_unit.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/units.h"
#include "winters_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Turns that leave a barn empty for no more than about two months. */
#define FULL_YEAR_DAYS 300

static double gas_units(const struct th_case *one, double gas_j)
{
    return gas_j / one->room->fuel.hhv_j;
}

static struct th_value dollars(const struct th_case *one, double units)
{
    return th_number_if(one->room->fuel.has_price, units * one->room->fuel.price);
}

static void season_row(struct th_report *report, const struct th_case *one,
                       const struct th_season *season)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    char name[TH_SEASON_NAME_MAX];
    const double copies = one->room->copies;
    const struct th_tally *t = &season->total;
    const double gas = copies * gas_units(one, th_tally_gas_j(t));
    const bool ok = season->counted;
    th_season_name(season, name);
    th_report_row(report);
    th_report_cell(report, "season", "Season", "", TH_PLAIN, th_text(name));
    th_report_cell(report, "gas_gal", unit->name, unit->unit, TH_SIG3, th_number_if(ok, gas));
    th_report_cell(report, "cost_usd", "Cost", "$", TH_SIG3, ok ? dollars(one, gas) : th_missing());
    th_report_cell(report, "heater_hours_h", "Heater-hours", "h", TH_SIG3,
                   th_number_if(ok, copies * t->sum[TH_HEATER_HOURS]));
    th_report_cell(report, "full_load_h", "Full load", "h", TH_WHOLE,
                   th_number_if(ok, t->sum[TH_FULL_HOURS]));
    th_report_cell(report, "starts_count", "Starts", "", TH_SIG3,
                   th_number_if(ok, copies * t->sum[TH_STARTS]));
    th_report_cell(report, "coldest_f", "Coldest hour", "°F", TH_TENTHS,
                   th_number_if(ok && season->whole, th_f_from_c(t->coldest_out_c)));
}

static void season_table(struct th_report *report, const struct th_case *one,
                         const struct th_winters *winters)
{
    th_report_table(report, "seasons", "Every season");
    for (int i = 0; i < winters->n; i++)
        season_row(report, one, &winters->seasons[i]);
    if (winters->n_counted < winters->n)
        th_report_paragraph(report, NULL, TH_UNCOVERED_SEASONS);
}

static enum th_code season_spread(const struct th_case *one, const struct th_winters *winters,
                                  struct th_spread *spread, struct th_error *err)
{
    double *gas = malloc((size_t)winters->n_counted * sizeof *gas);
    if (!gas)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    size_t n = 0;
    for (int i = 0; i < winters->n; i++)
        if (winters->seasons[i].counted)
            gas[n++] =
                one->room->copies * gas_units(one, th_tally_gas_j(&winters->seasons[i].total));
    const enum th_code code = th_spread_of(n, gas, spread, err);
    free(gas);
    return code;
}

/* Per space and year only when the turns fill the year. */
static const char *per_space_label(const struct th_room *room)
{
    int days = 0;
    for (int i = 0; i < room->n_turns; i++)
        days += room->turns[i].days;
    return days >= FULL_YEAR_DAYS ? "Per pig space and year" : "Per pig space, turns listed";
}

enum th_code th_budget_seasons(struct th_report *report, const struct th_case *one,
                               const struct th_winters *winters, struct th_error *err)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    const bool generated = th_climate_generated(one->climate);
    struct th_spread spread = {0};
    const enum th_code code = season_spread(one, winters, &spread, err);
    if (code != TH_OK)
        return code;
    th_report_section(report, "season", "The fuel season, 1 July to 30 June");
    th_report_fact(report, "counted_seasons_count", "Seasons counted", "", TH_WHOLE,
                   th_number(winters->n_counted));
    th_report_spread(report, "gas", "gal", unit->name, unit->unit, TH_SIG3, &spread, generated);
    if (one->room->fuel.has_price) {
        struct th_spread cost = spread;
        double *const fields[] = {&cost.lowest, &cost.middle, &cost.highest,
                                  &cost.p10,    &cost.p50,    &cost.p90};
        for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
            *fields[i] *= one->room->fuel.price;
        th_report_spread(report, "cost", "usd", "Cost", "$", TH_SIG3, &cost, generated);
    } else {
        th_report_paragraph(report, NULL, "No fuel price is given, so no dollars are printed.");
    }
    if (one->room->spaces > 0.0)
        th_report_fact(report, "gas_per_space_gal", per_space_label(one->room), unit->unit,
                       TH_HUNDREDTHS,
                       th_number(spread.middle / (one->room->spaces * one->room->copies)));
    th_report_spread_note(report, &spread, generated);
    season_table(report, one, winters);
    th_report_winter_notes(report, one);
    if (winters->n_counted < 10)
        th_report_paragraph(report, NULL,
                            "%d season%s: the range is what these winters gave, not what the next "
                            "may bring. Percentiles need ten.",
                            winters->n_counted, winters->n_counted == 1 ? "" : "s");
    return TH_OK;
}

/* Mean, lowest and highest gas of a piece of the season over those seasons that know it. */
struct range {
    int n;
    double mean, lowest, highest;
};

/* `gas_j` gives a negative number where the season does not know. */
static struct range range_over(const struct th_winters *winters,
                               double (*gas_j)(const struct th_season *, int), int index)
{
    struct range r = {0};
    for (int i = 0; i < winters->n; i++) {
        const double gas = winters->seasons[i].counted ? gas_j(&winters->seasons[i], index) : -1.0;
        if (gas < 0.0)
            continue;
        r.mean += (gas - r.mean) / (r.n + 1);
        r.lowest = r.n == 0 || gas < r.lowest ? gas : r.lowest;
        r.highest = r.n == 0 || gas > r.highest ? gas : r.highest;
        r.n++;
    }
    return r;
}

/* A turn that ends after 30 June may run on into weather that is not there. */
static double turn_gas_j(const struct th_season *season, int turn)
{
    return season->turns[turn].counted ? th_tally_gas_j(&season->turns[turn].total) : -1.0;
}

static double month_gas_j(const struct th_season *season, int month)
{
    return th_tally_gas_j(&season->month[month]);
}

void th_budget_turns(struct th_report *report, const struct th_case *one,
                     const struct th_winters *winters)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    const struct th_room *room = one->room;
    th_report_section(report, "turns", "By turn");
    th_report_table(report, "turns", "Each turn whole, preheat included");
    for (int turn = 0; turn < room->n_turns; turn++) {
        const struct range r = range_over(winters, turn_gas_j, turn);
        const double mean = room->copies * gas_units(one, r.mean);
        const bool known = r.n > 0;
        const struct th_turn_result *any = &winters->seasons[0].turns[turn];
        char placed[16];
        snprintf(placed, sizeof placed, "%s %d", th_month_name(room->turns[turn].month - 1),
                 room->turns[turn].day);
        th_report_row(report);
        th_report_cell(report, "turn", "Turn", "", TH_PLAIN, th_text(room->turns[turn].name));
        th_report_cell(report, "placed", "Placed", "", TH_PLAIN, th_text(placed));
        th_report_cell(report, "days", "Days", "d", TH_WHOLE, th_number(room->turns[turn].days));
        th_report_cell(report, "head_count", "Head placed", "", TH_WHOLE,
                       th_number(room->copies * any->head_placed));
        th_report_cell(report, "gas_gal", "Mean", unit->unit, TH_BULK, th_number_if(known, mean));
        th_report_cell(report, "gas_lowest_gal", "Lowest", unit->unit, TH_BULK,
                       th_number_if(known, room->copies * gas_units(one, r.lowest)));
        th_report_cell(report, "gas_highest_gal", "Highest", unit->unit, TH_BULK,
                       th_number_if(known, room->copies * gas_units(one, r.highest)));
        th_report_cell(report, "cost_usd", "Mean cost", "$", TH_BULK,
                       known ? dollars(one, mean) : th_missing());
        th_report_cell(report, "gas_per_placed_gal", "Per pig placed", unit->unit, TH_SIG3,
                       th_number_if(known, mean / (room->copies * any->head_placed)));
        th_report_cell(report, "gas_per_sold_gal", "Per pig sold", unit->unit, TH_SIG3,
                       th_number_if(known, mean / (room->copies * any->head_sold)));
    }
}

void th_budget_months(struct th_report *report, const struct th_case *one,
                      const struct th_winters *winters)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    const double copies = one->room->copies;
    double sum_j = 0.0;
    th_report_section(report, "months", "By month");
    th_report_table(report, "months", "Mean, lowest and highest of the counted seasons");
    for (int place = 0; place < 12; place++) {
        const int month = th_season_month(place);
        const struct range r = range_over(winters, month_gas_j, month);
        const double mean = copies * gas_units(one, r.mean);
        sum_j += r.mean;
        if (r.highest > 0.0) {
            th_report_row(report);
            th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text(th_month_name(month)));
            th_report_cell(report, "gas_gal", "Mean", unit->unit, TH_BULK, th_number(mean));
            th_report_cell(report, "gas_lowest_gal", "Lowest", unit->unit, TH_BULK,
                           th_number(copies * gas_units(one, r.lowest)));
            th_report_cell(report, "gas_highest_gal", "Highest", unit->unit, TH_BULK,
                           th_number(copies * gas_units(one, r.highest)));
            th_report_cell(report, "cost_usd", "Mean cost", "$", TH_BULK, dollars(one, mean));
        }
    }
    const double sum = copies * gas_units(one, sum_j);
    th_report_total(report);
    th_report_cell(report, "month", "Month", "", TH_PLAIN, th_text("Season"));
    th_report_cell(report, "gas_gal", "Mean", unit->unit, TH_BULK, th_number(sum));
    th_report_cell(report, "gas_lowest_gal", "Lowest", unit->unit, TH_BULK, th_missing());
    th_report_cell(report, "gas_highest_gal", "Highest", unit->unit, TH_BULK, th_missing());
    th_report_cell(report, "cost_usd", "Mean cost", "$", TH_BULK, dollars(one, sum));
    if (winters->n_counted > 1)
        th_report_paragraph(report, NULL,
                            "A month's lowest and highest come from different seasons, so they do "
                            "not add up to a season's.");
}
