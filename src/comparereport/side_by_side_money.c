/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What two barns side by side come to in dollars. */
#include "side_by_side_report.h"

#include "display.h"
#include "figure.h"
#include "net_text.h"

#include <stdio.h>

static const char *name_of(const struct th_side *side)
{
    return side->one->room->name;
}

/* A name of a figure with its range and its middle. */
static void draw_range(struct th_report *report, int at, const char *name, double low,
                       double middle, double high)
{
    th_figure_name(report, name);
    th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
    th_figure_span(report, at, low, high);
    th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
    th_figure_point(report, at, middle);
}

/* What the saver comes to beside zero: what its fuel is worth, and, where that is known, what is
 * left of it after what it costs more to build. */
static void money_figure(struct th_report *report, const struct th_side_by_side *both)
{
    char caption[TH_NAME_MAX + 40];
    snprintf(caption, sizeof caption, "What %s comes to, and how sure that is",
             name_of(&both->sides[both->saver]));
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = "Dollars of today over the years looked at. Dot: as "
                                             "computed. Line: over what is not known of pigs, air, "
                                             "set points and the two shells, eight cases of ten. "
                                             "Net savings right of 0: it pays.",
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = "$", .format = TH_SIG3, .from_zero = true}});
    draw_range(report, 0, "fuel and power it saves", both->worth_low_usd, both->worth_usd,
               both->worth_high_usd);
    if (both->has_first)
        draw_range(report, 1, "net savings, building included", both->net_low_usd,
                   both->payback.net_usd, both->net_high_usd);
}

static void payback_facts(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_return *r = &both->payback;
    char back[TH_MEASURE_MAX];
    th_report_section(report, "payback", NULL);
    th_report_fact(report, "extra_usd", "Costs more to build (below 0: less)", "$", TH_SIG3,
                   th_number(both->extra_usd));
    th_report_fact(report, "left_usd", "of it left at the end, as worth today", "$", TH_SIG3,
                   th_number(r->net_usd - both->worth_usd + both->extra_usd));
    th_report_fact(report, "net_usd", "Net savings", "$", TH_SIG3, th_number(r->net_usd));
    th_report_fact(report, "net_low_usd", "at the low end", "$", TH_SIG3,
                   th_number(both->net_low_usd));
    th_report_fact(report, "net_high_usd", "at the high end", "$", TH_SIG3,
                   th_number(both->net_high_usd));
    th_report_fact(report, "sir_ratio", "Pays back so many times over (SIR)", "", TH_HUNDREDTHS,
                   th_number_if(r->sir.state == TH_MEASURE_DEFINED, r->sir.value));
    th_report_fact(
        report, "simple_payback_years", "Comes back within, savings alone", "years", TH_TENTHS,
        th_measure_value(back, r->simple.interpolated, both->sides[0].one->room->money.years));
    th_report_fact(report, "pays_pct", "Cases in which it pays", "%", TH_WHOLE,
                   th_number(100.0 * both->chance));
}

void th_side_by_side_money(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_room *first = both->sides[0].one->room;
    th_report_section(report, "money", "Does it pay?");
    th_report_table(report, "barns", "Over the study, all rooms");
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        th_report_row(report);
        th_report_cell(report, "barn", "Barn", "", TH_PLAIN, th_text(name_of(s)));
        th_report_cell(report, "first_cost_usd", "To build", "$", TH_SIG3,
                       th_number_if(s->first_usd > 0.0, s->first_usd));
        th_report_cell(report, "life_cost_usd",
                       both->has_first ? "All, less what is left" : "Fuel and blowers", "$",
                       TH_SIG3, th_number(s->life_usd));
    }
    th_report_fact(report, "saver", "Burns less", "", TH_PLAIN,
                   th_text(name_of(&both->sides[both->saver])));
    th_report_fact(report, "saved_usd", "Saves in a mean winter, blowers included", "$", TH_SIG3,
                   th_number(both->saved_usd));
    th_report_fact(report, "worth_usd", "worth over the study, today", "$", TH_SIG3,
                   th_number(both->worth_usd));
    if (both->has_first)
        payback_facts(report, both);
    money_figure(report, both);
    th_report_paragraph(report, NULL,
                        "%d years at %.1f %% real, the fuel price growing %.1f %% a year above "
                        "inflation, the buyer paying %.0f %% of the fuel, as %s has it.",
                        first->money.years, 100.0 * first->money.discount,
                        100.0 * first->money.fuel_growth, 100.0 * first->money.payer_share,
                        first->name);
    if (both->has_first)
        th_report_paragraph(report, NULL,
                            "What a building is still worth at the end is the straight-line share "
                            "of its life that is left (%.0f and %.0f years). Measures as NIST "
                            "Handbook 135.",
                            both->sides[0].one->room->money.first_life_years,
                            both->sides[1].one->room->money.first_life_years);
}
