/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the heat comes from and goes, what the fan floor costs, and whether the books close. */
#include "budget_report.h"

#include "balance_text.h"
#include "fuel_unit.h"
#include "turnheat/units.h"

#include <stdio.h>

#define J_PER_MMBTU (1e6 * TH_J_PER_BTU)

static double per_season(const struct th_case *one, const struct th_winters *winters, double sum)
{
    return one->room->copies * sum / winters->n_counted;
}

static void heat_cells(struct th_report *report, const char *column, const char *part,
                       double heat_mmbtu, double share)
{
    th_report_cell(report, "part", column, "", TH_PLAIN, th_text(part));
    th_report_cell(report, "heat_mmbtu", "Million Btu", "", TH_SIG3, th_number(heat_mmbtu));
    th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE, th_number(100.0 * share));
}

/* Items `first` to `last`, and all of them together. */
static void heat_rows(struct th_report *report, const char *column, const struct th_case *one,
                      const struct th_winters *winters, const struct th_tally *t, int first,
                      int last)
{
    double all = 0.0;
    for (int i = first; i <= last; i++)
        all += t->sum[i];
    for (int i = first; i <= last; i++)
        if (t->sum[i] != 0.0) {
            th_report_row(report);
            heat_cells(report, column, th_tally_text((enum th_tally_item)i),
                       per_season(one, winters, t->sum[i]) / J_PER_MMBTU,
                       all > 0.0 ? t->sum[i] / all : 0.0);
        }
    th_report_total(report);
    heat_cells(report, column, "together", per_season(one, winters, all) / J_PER_MMBTU, 1.0);
}

static void gas_rows(struct th_report *report, const struct th_case *one,
                     const struct th_winters *winters, const struct th_tally *t)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&one->room->fuel);
    const double all = th_tally_gas_j(t), hhv = one->room->fuel.hhv_j;
    const struct {
        const char *name;
        double gas_j;
    } parts[] = {
        {"room heaters, for the room's load", t->sum[TH_GAS_HEATERS] - t->sum[TH_GAS_RAMP]},
        {"room heaters, thrown out by the fan ramp", t->sum[TH_GAS_RAMP]},
        {"zone heat", t->sum[TH_GAS_ZONE]},
        {"pilots", t->sum[TH_GAS_PILOTS]},
        {"hallway, while the room lacks heat",
         t->sum[TH_GAS_HALLWAY] - t->sum[TH_GAS_HALLWAY_SURPLUS]},
        {"hallway, while the room throws heat out", t->sum[TH_GAS_HALLWAY_SURPLUS]}};
    th_report_table(report, "gas_use", "Where the gas goes, mean season");
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (parts[i].gas_j > 0.0) {
            th_report_row(report);
            th_report_cell(report, "part", "Gas", "", TH_PLAIN, th_text(parts[i].name));
            th_report_cell(report, "gas_gal", unit->name, unit->unit, TH_BULK,
                           th_number(per_season(one, winters, parts[i].gas_j) / hhv));
            th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE,
                           th_number(100.0 * parts[i].gas_j / all));
        }
    th_report_total(report);
    th_report_cell(report, "part", "Gas", "", TH_PLAIN, th_text("together"));
    th_report_cell(report, "gas_gal", unit->name, unit->unit, TH_BULK,
                   th_number(per_season(one, winters, all) / hhv));
    th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE, th_number(100.0));
}

void th_budget_heat(struct th_report *report, const struct th_case *one,
                    const struct th_winters *winters)
{
    struct th_tally total;
    th_winters_total(winters, &total);
    th_report_section(report, "heat", "Where the heat goes and comes from");
    gas_rows(report, one, winters, &total);
    th_report_table(report, "heat_to", "Leaving the room, mean season");
    heat_rows(report, "Heat goes to", one, winters, &total, TH_TO_WALLS, TH_TO_DRYING);
    th_report_table(report, "heat_from", "Coming in, mean season");
    heat_rows(report, "Heat comes from", one, winters, &total, TH_FROM_PIGS, TH_FROM_INTERNAL);
    if (total.sum[TH_ZONE_SURPLUS] > 0.0)
        th_report_fact(
            report, "zone_surplus_mmbtu", "Zone heat the room did not need", "million Btu", TH_SIG3,
            th_number(per_season(one, winters, total.sum[TH_ZONE_SURPLUS]) / J_PER_MMBTU));
}

/* Gas × share against load, waste and pilots: the heaters' own books. */
static void gas_balance(struct th_report *report, const struct th_tally *t)
{
    const double in_j = t->sum[TH_FROM_HEATERS] + t->sum[TH_FROM_BLOWERS] + t->sum[TH_FROM_PILOTS] +
                        t->sum[TH_FROM_ZONE];
    double out_j = -t->sum[TH_FROM_PIGS] - t->sum[TH_FROM_INTERNAL];
    for (int i = TH_TO_WALLS; i <= TH_TO_DRYING; i++)
        out_j += t->sum[i];
    th_report_balance(report, "gas", "Gas turned to heat = load + ramp waste + pilots, one room",
                      "million Btu", in_j / J_PER_MMBTU, out_j / J_PER_MMBTU);
}

enum th_code th_budget_balances(struct th_report *report, const struct th_case *one,
                                const struct th_winters *winters, struct th_error *err)
{
    struct th_tally t;
    double months_j = 0.0;
    th_winters_total(winters, &t);
    gas_balance(report, &t);
    const enum th_code code = th_report_books(report, NULL, "one room", &t, err);
    if (code != TH_OK)
        return code;
    for (int i = 0; i < winters->n; i++)
        for (int m = 0; m < 12 && winters->seasons[i].counted; m++)
            months_j += th_tally_gas_j(&winters->seasons[i].month[m]);
    return th_report_balanced(
        report, "months", "Months add up to turns, one room", th_fuel_unit(&one->room->fuel)->unit,
        months_j / one->room->fuel.hhv_j, th_tally_gas_j(&t) / one->room->fuel.hhv_j, err);
}
