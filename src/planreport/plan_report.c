/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan_report.h"

#include "ahead_figures.h"
#include "ahead_tables.h"
#include "air_text.h"
#include "balance_text.h"
#include "cautions.h"
#include "figure.h"
#include "plan_buying.h"
#include "display.h"
#include "outlook_text.h"
#include "plan_split.h"
#include "plan_short.h"
#include "risk_text.h"
#include "season_text.h"
#include "spread_text.h"
#include "winters_text.h"
#include "turnheat/thousands.h"

#include <math.h>
#include <stdio.h>

/* A plan runs no fans that hold the ceilings. */

static void year_rows(struct th_report *report, const struct th_plan *plan)
{
    for (int y = 0; y < plan->demand.n; y++) {
        const struct th_fuel_year *year = &plan->demand.years[y];
        const struct th_tank_year *t = &plan->tank_years[y];
        const bool known = year->usable, tanks = known && plan->in->n_tanks > 0;
        char name[TH_SEASON_NAME_MAX];
        th_year_name(year->year, plan->demand.typical, name);
        th_report_row(report);
        th_report_cell(report, "season", "Season", "", TH_PLAIN, th_text(name));
        th_report_cell(report, "barns_gal", "Barns", "gal", TH_SIG3,
                       th_number_if(known, year->barns_gal));
        th_report_cell(report, "uses_gal", "Other users", "gal", TH_SIG3,
                       th_number_if(known, year->uses_gal));
        th_report_cell(report, "delivered_gal", "Delivered", "gal", TH_SIG3,
                       th_number_if(known, t->delivered_gal));
        th_report_cell(report, "loads_count", "Loads", "", TH_WHOLE,
                       th_number_if(tanks, (double)t->n_deliveries));
        th_report_cell(report, "lowest_level_pct", "Lowest tank", "%", TH_WHOLE,
                       th_number_if(tanks, 100.0 * t->lowest_share));
        th_report_cell(report, "run_out_days", "Days run out", "", TH_WHOLE,
                       th_number_if(tanks, t->run_out_days));
        th_report_cell(report, "supply_days", "A fill lasts, coldest", "d", TH_WHOLE,
                       th_number_if(tanks, (double)t->days_supply));
        th_report_cell(report, "vapour_short_h", "Vapour short", "h", TH_WHOLE,
                       th_number_if(tanks, (double)t->hours_short));
    }
}

/* Gallons in all tanks by day, drawn on the days of `shown`, so that two winters lie together. */
static void level_line(struct th_report *report, const struct th_plan *plan, int year, int shown,
                       enum th_ink ink, const char *label)
{
    char name[TH_SEASON_NAME_MAX], text[2 * TH_SEASON_NAME_MAX + 24];
    const struct th_fuel_year *y = &plan->demand.years[year];
    th_year_name(y->year, plan->demand.typical, name);
    snprintf(text, sizeof text, "%s, %s", label, name);
    th_figure_mark(report, TH_MARK_LINE, ink, text);
    for (size_t day = 0; day < y->n_days; day++)
        th_figure_point(report, (double)(plan->demand.years[shown].first_day + (long)day),
                        plan->tank_years[year].level_gal[day]);
}

static void level_figure(struct th_report *report, const struct th_plan *plan)
{
    const int worst = th_plan_worst_year(plan), middle = th_plan_middle_year(plan);
    double reorder_gal = 0.0;
    for (int i = 0; i < plan->in->n_tanks; i++)
        reorder_gal += plan->reorder_gal[i];
    th_figure(report,
              &(struct th_figure){.caption = "What the tanks hold, day by day",
                                  .reading = "All tanks together. Each rise is a truck, ordered "
                                             "when the level passes the order level; it comes "
                                             "after the lead time.",
                                  .along = {.kind = TH_AXIS_DAY},
                                  .value = {.unit = "gal", .format = TH_SIG3, .from_zero = true}});
    level_line(report, plan, worst, worst, TH_INK_HEAT,
               plan->demand.n_usable > 1 ? "worst winter" : "the one winter");
    if (middle != worst)
        level_line(report, plan, middle, worst, TH_INK_COLD, "middle winter");
    th_figure_rule(report, TH_MARK_RULE_VALUE, "order level", reorder_gal);
}

static void explain_seasons(struct th_report *report, const struct th_plan *plan)
{
    const int n = plan->demand.n_usable;
    if (plan->demand.n > n)
        th_report_paragraph(report, NULL, TH_UNCOVERED_SEASONS);
    if (plan->in->n_tanks > 0)
        th_report_paragraph(
            report, NULL,
            "Delivered is used, and what the tanks hold more at the end than at the "
            "start. Lowest tank: how far they fell with the truck coming as "
            "planned. A fill lasts: days that filled tanks do without a truck in the "
            "coldest stretch. Vapour short: hours in which gas may be drawn faster "
            "than cold tanks make it.");
    if (n >= TH_SPREAD_PERCENTILES_FROM && th_climate_generated(plan->in->cases[0].climate))
        th_report_paragraph(report, NULL, TH_GENERATED_TENTHS);
    else if (n >= TH_SPREAD_PERCENTILES_FROM)
        th_report_paragraph(report, NULL,
                            "P10, P50 and P90 are not exceeded in one, five and nine winters of "
                            "ten.");
    else
        th_report_paragraph(report, NULL,
                            "%d season%s of weather %s not hold the worst there is. In ten winters "
                            "expect one that takes about a tenth more degree-days than the middle "
                            "one, and barns more than that.",
                            n, n == 1 ? "" : "s", n == 1 ? "does" : "do");
}

/* What the barns themselves leave open. */
static void barns_open_section(struct th_report *report, const struct th_plan *plan)
{
    if (plan->unknowns.base_j <= 0.0)
        return;
    th_report_section(report, "barn_spread", "What the barns themselves leave open");
    th_report_risk(report, plan->in->cases[0].room, plan->unknowns.base_j, plan->unknowns.ranges);
}

static enum th_code gallons_section(struct th_report *report, const struct th_plan *plan,
                                    struct th_error *err)
{
    const bool generated = th_climate_generated(plan->in->cases[0].climate);
    struct th_spread use, truck;
    char name[TH_SEASON_NAME_MAX];
    enum th_code code = th_plan_spread(plan, th_plan_used_gal, 0, &use, err);
    if (code == TH_OK)
        code = th_plan_spread(plan, th_plan_delivered_gal, 0, &truck, err);
    if (code != TH_OK)
        return code;
    th_year_name(plan->demand.years[th_plan_worst_year(plan)].year, plan->demand.typical, name);
    th_report_section(report, "gallons", "How much the farm takes, 1 July to 30 June");
    th_report_fact(report, "seasons_count", "Seasons", "", TH_WHOLE,
                   th_number(plan->demand.n_usable));
    th_report_spread(report, "used", "gal", "Used, all barns and users", "gal", TH_SIG3, &use,
                     generated);
    th_report_spread(report, "delivered", "gal", "Delivered", "gal", TH_SIG3, &truck, generated);
    th_report_fact(report, "worst_season",
                   plan->demand.n_usable > 1 ? "Worst winter" : "The one winter", "", TH_PLAIN,
                   th_text(name));
    th_report_table(report, "seasons", "Every season");
    year_rows(report, plan);
    explain_seasons(report, plan);
    return TH_OK;
}

/* Cash of the way that is advised. */
static const struct th_split_cash *cash_of(const struct th_plan *plan)
{
    return plan->buying.has_split ? &plan->buying.split.cash : NULL;
}

/* What is paid of its mean cost, the credit of the next season added back. */
static double cash_usd(const struct th_plan *plan)
{
    const struct th_split_advice *a = &plan->buying.split;
    return plan->buying.has_split ? a->cheapest.mean_usd - a->cash.credit_usd : 0.0;
}

static void tank_section(struct th_report *report, const struct th_plan *plan)
{
    th_report_section(report, "tanks", "Tanks and trucks");
    if (plan->in->n_tanks == 0)
        th_report_paragraph(report, NULL,
                            "No [tank] is given: every week's use is taken as delivered.");
    th_report_table(report, "tanks", plan->in->n_tanks > 0 ? "When to order" : NULL);
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_tank *t = &plan->in->tanks[i];
        th_report_row(report);
        th_report_cell(report, "tanks", "Tanks", "", TH_PLAIN, th_text(t->name));
        th_report_cell(report, "tanks_count", "Count", "", TH_WHOLE, th_number(t->count));
        th_report_cell(report, "each_gal", "Each", "gal", TH_WHOLE, th_number(t->capacity_gal));
        th_report_cell(report, "reorder_gal", "Order when down to", "gal", TH_SIG3,
                       th_number(plan->reorder_gal[i]));
        th_report_cell(report, "reorder_pct", "that is", "%", TH_WHOLE,
                       th_number(100.0 * plan->reorder_gal[i] / (t->count * t->capacity_gal)));
    }
    if (plan->in->n_tanks == 0)
        return;
    level_figure(report, plan);
    th_report_paragraph(
        report, NULL,
        "Order when the gauges are down to that: what is left lasts until the truck "
        "comes in nineteen of twenty cases of the heating season, and the reserve "
        "stays in the tank. "
        "Vapour: demand of each hour against what the tanks can boil off at their "
        "level and the air's temperature, by a rule from memory. Whether a "
        "vaporiser or more tanks are right is the supplier's decision. Tanks are "
        "filled to 80 %% at most (29 CFR 1910.110).");
}

/* Tanks that have to be ordered for before a truck finds room for what it brings at least. */
static void warn_of_small_tanks(struct th_report *report, const struct th_plan *plan)
{
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_tank *t = &plan->in->tanks[i];
        const double size_gal = t->count * t->capacity_gal;
        const double room_gal = fmax(t->fill_share * size_gal - plan->reorder_gal[i], 0.0);
        char room[TH_SHOWN_MAX], least[TH_SHOWN_MAX];
        if (room_gal >= t->min_drop_gal)
            continue;
        th_report_warning(report,
                          "\"%s\" is too small: ordered for at %.0f %% it has room for %s, and a "
                          "truck comes for %s or more. More tanks, trucks that come sooner or a "
                          "smaller drop would help.",
                          t->name, 100.0 * plan->reorder_gal[i] / size_gal,
                          th_show_with_unit(room, th_number(room_gal), TH_SIG2, "gal"),
                          th_show_with_unit(least, th_number(t->min_drop_gal), TH_SIG2, "gal"));
    }
}

/* Winters in which the tanks fail in one way, and the worst of them. */
static void warn(struct th_report *report, const struct th_plan *plan)
{
    int dry_years = 0, dry_worst = 0, cold_years = 0, cold_worst = 0;
    for (int y = 0; y < plan->demand.n && plan->in->n_tanks > 0; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        dry_years += t->run_out_days > 0;
        dry_worst = t->run_out_days > plan->tank_years[dry_worst].run_out_days ? y : dry_worst;
        cold_years += t->hours_short > 0;
        cold_worst = t->hours_short > plan->tank_years[cold_worst].hours_short ? y : cold_worst;
    }
    char name[TH_SEASON_NAME_MAX];
    th_year_name(plan->demand.years[dry_worst].year, plan->demand.typical, name);
    if (dry_years > 0)
        th_report_warning(report, "The tanks run dry in %d of %d winters, in %s on %d day%s.",
                          dry_years, plan->demand.n_usable, name,
                          plan->tank_years[dry_worst].run_out_days,
                          plan->tank_years[dry_worst].run_out_days == 1 ? "" : "s");
    th_year_name(plan->demand.years[cold_worst].year, plan->demand.typical, name);
    if (cold_years > 0)
        th_report_warning(report,
                          "In %d of %d winters the tanks may not make vapour as fast as it is "
                          "drawn, in %s in %s hours; ask the supplier.",
                          cold_years, plan->demand.n_usable, name,
                          th_whole((double)plan->tank_years[cold_worst].hours_short).text);
}

/* Gallons in and out of the tanks, and the books of the barns. */
static enum th_code balances(struct th_report *report, const struct th_plan *plan,
                             struct th_error *err)
{
    double in_gal = 0.0, out_gal = 0.0;
    for (int y = 0; y < plan->demand.n; y++) {
        const struct th_tank_year *t = &plan->tank_years[y];
        if (!plan->demand.years[y].usable)
            continue;
        in_gal += t->start_gal + t->delivered_gal + t->short_gal;
        out_gal += th_plan_used_gal(plan, y, 0) + t->end_gal;
    }
    enum th_code code = th_report_balanced(
        report, "tanks", "At the start + delivered + run short of = used + at the end, all seasons",
        "gal", in_gal, out_gal, err);
    if (code == TH_OK)
        code = th_ahead_balances(report, plan->season, cash_of(plan), cash_usd(plan), err);
    if (code != TH_OK)
        return code;
    return th_report_books(report, NULL, "one of each room, all seasons", &plan->demand.books, err);
}

/* On top: the barns, the other users, what to take. */
static void answer(struct th_report *report, const struct th_plan *plan)
{
    struct th_spread used, barns;
    char text[TH_SHOWN_MAX];
    if (plan->outlook.n_draws == 0)
        return;
    th_report_answer(report, &plan->answer);
    if (plan->in->n_uses > 0 && th_plan_spread(plan, th_plan_used_gal, 0, &used, NULL) == TH_OK &&
        th_plan_spread(plan, th_plan_barns_gal, 0, &barns, NULL) == TH_OK)
        th_report_line(report, "Other users of the same tanks take %s more.",
                       th_show_with_unit(text, th_number(used.mean - barns.mean), TH_SIG3, "gal"));
    th_plan_split_line(report, plan);
}

static enum th_code sections(struct th_report *report, const struct th_plan *plan,
                             struct th_error *err)
{
    enum th_code code = th_plan_short(report, plan, err);
    if (code == TH_OK)
        code = gallons_section(report, plan, err);
    if (code != TH_OK)
        return code;
    th_report_fact(report, "slip_gal", NULL, "gal", TH_SIG2,
                   th_number_if(plan->has_slip, plan->slip_gal));
    th_report_fact(report, NULL,
                   plan->slip_gal < 0.0
                       ? "If every placement slips a week, the mean season takes less by"
                       : "If every placement slips a week, the mean season takes more by",
                   "gal", TH_SIG2, th_number_if(plan->has_slip, fabs(plan->slip_gal)));
    th_plan_buying(report, plan);
    th_ahead_months(report, plan->season, cash_of(plan));
    if (cash_of(plan))
        th_ahead_cash_figure(report, plan->season, cash_of(plan));
    th_ahead_weeks(report, plan->season, plan->season_year > 0, plan->in->n_tanks > 0);
    th_ahead_week_figure(report, plan->season, plan->season_year > 0);
    return TH_OK;
}

void th_plan_warn_of_air(struct th_report *report, const struct th_plan *plan)
{
    for (int i = 0; i < plan->in->n_cases; i++)
        th_report_bad_air(report, plan->in->cases[i].room, &plan->demand.rooms[i].mean, NULL);
}

enum th_code th_plan_report(struct th_report *report, const struct th_plan *plan,
                            struct th_error *err)
{
    th_report_title(report, "Fuel plan");
    th_report_thin_weather(report, &plan->in->cases[0]);
    for (int i = 0; i < plan->in->n_cases; i++)
        th_report_doubts(report, plan->in->cases[i].room);
    th_plan_warn_of_air(report, plan);
    th_report_few_winters(report, &plan->in->cases[0], plan->demand.n_usable);
    warn(report, plan);
    warn_of_small_tanks(report, plan);
    answer(report, plan);
    if (plan->outlook.n_draws > 0)
        th_report_answer_facts(report, &plan->answer);
    const enum th_code code = sections(report, plan, err);
    if (code != TH_OK)
        return code;
    tank_section(report, plan);
    barns_open_section(report, plan);
    th_report_cautions(report);
    return balances(report, plan, err);
}

/* When the pigs come whose heat this is. */
static void placements(struct th_report *report, const struct th_plan *plan)
{
    th_report_section(report, "placements", "Placements");
    th_report_table(report, "placements", "When pigs come");
    for (int i = 0; i < plan->in->n_cases; i++) {
        const struct th_room *room = plan->in->cases[i].room;
        for (int k = 0; k < room->n_turns; k++) {
            const struct th_turn_plan *turn = &room->turns[k];
            char placed[16];
            snprintf(placed, sizeof placed, "%s %d", th_month_name(turn->month - 1), turn->day);
            th_report_row(report);
            th_report_cell(report, "room", "Room", "", TH_PLAIN, th_text(room->name));
            th_report_cell(report, "placed", "Placed", "", TH_PLAIN, th_text(placed));
            th_report_cell(report, "head_count", "Head", "", TH_WHOLE,
                           th_number(room->copies * turn->head));
            th_report_cell(report, "days", "Days", "d", TH_WHOLE, th_number(turn->days));
        }
    }
}

enum th_code th_plan_sheet(struct th_report *report, const struct th_plan *plan,
                           struct th_error *err)
{
    th_report_title(report, "Fuel for the coming season");
    th_report_one_sheet(report);
    th_report_thin_weather(report, &plan->in->cases[0]);
    warn(report, plan); /* of doubts of a room and its air the whole plan warns */
    answer(report, plan);
    const enum th_code code = th_plan_short(report, plan, err);
    if (code != TH_OK)
        return code;
    th_ahead_months(report, plan->season, cash_of(plan));
    placements(report, plan);
    th_report_fuel_cautions(report);
    return balances(NULL, plan, err);
}
