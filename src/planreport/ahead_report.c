/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ahead_report.h"
#include "plan_report.h"

#include "ahead_figures.h"
#include "ahead_tables.h"
#include "balance_text.h"
#include "cautions.h"
#include "display.h"
#include "outlook_text.h"
#include "plan_split.h"
#include "season_text.h"
#include "spread_text.h"
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* A gauge that reads less stands, for all anyone knows, at empty. */
#define EMPTY_SHARE 0.05
/* A level shown as 0 %. */
#define GONE_SHARE 0.005

struct shown {
    char text[TH_SHOWN_MAX];
};

static struct shown gallons(double gal)
{
    struct shown s = {""};
    th_show_with_unit(s.text, th_number(gal), TH_BULK, "gal");
    return s;
}

static struct shown amount(double value)
{
    struct shown s = {""};
    th_show(s.text, th_number(value), TH_BULK);
    return s;
}

static struct shown day(long number)
{
    struct shown s = {""};
    th_day_text(number, s.text);
    return s;
}

static struct shown weekday(long number)
{
    struct shown s = {""};
    th_weekday_text(number, s.text);
    return s;
}

static double size_of(const struct th_tank *tank)
{
    return tank->count * tank->capacity_gal;
}

static bool priced(const struct th_plan *plan)
{
    return plan->in->price->posted_usd_gal > 0.0;
}

static const char *winters_text(const struct th_ahead *ahead)
{
    if (ahead->kind == TH_RANGE_GENERATED_10_90)
        return ahead->n_winters == 1 ? "one generated winter" : "generated winters";
    return ahead->n_winters == 1 ? "one winter" : "these few winters";
}

static void headline(struct th_report *report, const struct th_plan *plan,
                     const struct th_ahead *ahead)
{
    const char *who = plan->in->n_uses > 0 ? "barns and other users" : "the barns";
    th_report_line(report, "From %s to %s %s take about %s.", day(ahead->first_day).text,
                   day(ahead->end_day - 1).text, who, gallons(ahead->used.middle).text);
    const struct shown low = amount(ahead->used.low), high = gallons(ahead->used.high);
    if (ahead->kind == TH_RANGE_P10_P90)
        th_report_line(report,
                       "One winter in ten takes more than %s from here on, one in ten less than "
                       "%s gal: winters and what is not known of the barns taken together.",
                       high.text, low.text);
    else
        th_report_line(report,
                       "%s to %s in eight cases of ten, over %s and what is not known of the "
                       "barns%s.",
                       low.text, high.text, winters_text(ahead),
                       ahead->kind == TH_RANGE_GENERATED_10_90
                           ? ""
                           : "; harder and milder winters than these will come");
    th_report_line(report,
                   "%s of the weather is followed from that date on%s, for all barns that fit what "
                   "is given of them%s%s.",
                   ahead->n_winters == 1 ? "The one winter" : "Every winter",
                   ahead->has_came ? " (that of the season itself is left out)" : "",
                   plan->answer.fitted ? ", their fills" : "",
                   plan->in->n_records > 0 ? " and what was recorded" : "");
}

/* Gallons that fit into a group's tanks as its gauge was read. */
static double room_gal(const struct th_tank *tank, const struct th_ahead_order *o)
{
    return fmax(tank->fill_share * size_of(tank) - o->reading_gal, 0.0);
}

/* Pigs without heat come first: said before any gallons. */
static void empty_lines(struct th_report *report, const struct th_plan *plan,
                        const struct th_ahead *ahead)
{
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_ahead_order *o = &ahead->orders[i];
        const struct th_tank *t = &plan->in->tanks[i];
        if (o->needed && o->level_share < GONE_SHARE)
            th_report_line(
                report,
                "\"%s\" may be empty before an ordinary truck comes (by %s), in one case "
                "of twenty or more, and the pigs without heat. Call the supplier today "
                "and ask for an early drop, an emergency one if no other is to be had; "
                "%s fit.",
                t->name, weekday(o->comes_day).text, gallons(room_gal(t, o)).text);
    }
}

static void order_line(struct th_report *report, const struct th_plan *plan, int i,
                       const struct th_ahead_order *o)
{
    const struct th_tank *t = &plan->in->tanks[i];
    const double reserve_pct = 100.0 * t->reserve_share;
    const double at_pct = 100.0 * fmax(plan->reorder_gal[i] / size_of(t), TH_AHEAD_LEVEL_LEAST);
    char why[120];
    snprintf(why, sizeof why, "more than one case in twenty %s",
             o->by_quarter ? "stands below 25 %, the least to wait at"
                           : "touches the reserve before it comes");
    if (!o->needed)
        th_report_line(report,
                       "No order for \"%s\" is needed before July in nineteen cases of twenty; "
                       "order when the gauge is down to %.0f %%.",
                       t->name, at_pct);
    else if (o->late)
        th_report_line(report,
                       "Order for \"%s\" today, %s fit, and ask for the earliest truck: %s (an "
                       "ordinary one comes by %s; the reserve is %.0f %%).",
                       t->name, gallons(room_gal(t, o)).text, why, weekday(o->comes_day).text,
                       reserve_pct);
    else
        th_report_line(
            report,
            "Order for \"%s\" by %s, or sooner when the gauge is down to %.0f %%: later, "
            "%s (the truck comes by %s, when about %s fit; the reserve is %.0f %%).",
            t->name, weekday(o->by_day).text, at_pct, why, weekday(o->comes_day).text,
            gallons(o->room_gal).text, reserve_pct);
}

/* Whether gallons not taken cost anything. */
static bool costs_unused(const struct th_contract *c)
{
    return c->kind == TH_CONTRACT_PREPAID ||
           (c->kind == TH_CONTRACT_BOOKED && c->settle != TH_SETTLE_NONE);
}

static void contract_line(struct th_report *report, const struct th_plan *plan,
                          const struct th_ahead_contract *of)
{
    const struct th_contract *c = &plan->in->contracts[of->contract];
    char unused[TH_UNUSED_TEXT_MAX], cases[TH_CASES_MAX];
    if (!isfinite(of->left_gal)) {
        th_report_line(report, "%s goes on for every gallon until %s.", c->name,
                       day(of->last_day).text);
        return;
    }
    const bool all = of->unused_gal < 0.5, none = of->all_share < 0.005;
    char taken[TH_SHOWN_MAX + TH_CASES_MAX + TH_UNUSED_TEXT_MAX + 64];
    if (all)
        snprintf(taken, sizeof taken, "All of it is taken");
    else
        snprintf(taken, sizeof taken, "%s %s; %s are left over on average (%s)",
                 none ? "Some of it stays" : "All of it is taken in",
                 none ? "in every case" : th_cases_of_ten(cases, of->all_share),
                 gallons(of->unused_gal).text, th_plan_unused_text(c, unused));
    th_report_line(report, "Of %s %s are left to take until %s. %s.%s", c->name,
                   gallons(of->left_gal).text, day(of->last_day).text, taken,
                   !all && plan->in->n_tanks > 0 && costs_unused(c)
                       ? " Have the tanks filled before that day."
                       : "");
}

static void enough_line(struct th_report *report, const struct th_plan *plan,
                        const struct th_ahead *ahead)
{
    const bool any = ahead->n_contracts > 0;
    char usd[TH_SHOWN_MAX];
    if (any && ahead->spot.high < 1.0)
        th_report_line(report, "The contracts are enough in nine cases of ten.");
    else if (any && ahead->spot.middle < 1.0)
        th_report_line(report,
                       "The contracts are enough in the middle case; in one case of ten %s or more "
                       "are to be bought beyond them.",
                       gallons(ahead->spot.high).text);
    else if (ahead->spot.high < 1.0)
        th_report_line(report, "In nine cases of ten nothing more is to be bought.");
    else
        th_report_line(report, "%s about %s are to be bought, %s to %s in eight cases of ten.",
                       any ? "Beyond the contracts" : "At the posted price",
                       gallons(ahead->spot.middle).text, amount(ahead->spot.low).text,
                       gallons(ahead->spot.high).text);
    if (!priced(plan))
        return;
    th_show_with_unit(usd, th_number(fabs(ahead->usd.mean)), TH_SIG3, "$");
    th_report_line(report,
                   ahead->usd.mean < 0.0
                       ? "More comes back than is still to be paid: %s on average."
                       : "Still to be paid: %s on average.",
                   usd);
}

static void came_line(struct th_report *report, const struct th_plan *plan,
                      const struct th_ahead *ahead)
{
    if (ahead->has_came)
        th_report_line(report,
                       "The weather of this season itself is known and was left out: with "
                       "it the barns %s used %s from that day on.",
                       th_barns_text(plan->learnt), gallons(ahead->came_gal).text);
}

static void answer(struct th_report *report, const struct th_plan *plan,
                   const struct th_ahead *ahead)
{
    th_report_section(report, "answer", NULL);
    empty_lines(report, plan, ahead);
    headline(report, plan, ahead);
    for (int i = 0; i < plan->in->n_tanks; i++)
        order_line(report, plan, i, &ahead->orders[i]);
    for (int k = 0; k < ahead->n_contracts; k++)
        contract_line(report, plan, &ahead->contracts[k]);
    enough_line(report, plan, ahead);
    came_line(report, plan, ahead);
}

static void span_facts(struct th_report *report, const char *key, const char *label,
                       const char *unit, const char *suffix, const struct th_ahead *ahead,
                       const struct th_ahead_span *span, bool known)
{
    static const char *const parts[] = {"low", "middle", "high"};
    const char *const *heads = th_ahead_headings(ahead->kind);
    const double values[] = {span->low, span->middle, span->high};
    for (int i = 0; i < 3; i++) {
        char own[48], text[64];
        snprintf(own, sizeof own, "%s_%s_%s", key, parts[i], suffix);
        snprintf(text, sizeof text, "%s, %s", label, heads[i]);
        th_report_fact(report, own, known ? text : NULL, unit, TH_SIG3,
                       th_number_if(known, values[i]));
    }
}

static void facts(struct th_report *report, const struct th_plan *plan,
                  const struct th_ahead *ahead)
{
    th_report_fact(report, "from", "From", "", TH_DAY, th_number((double)ahead->first_day));
    th_report_fact(report, "range", NULL, "", TH_PLAIN, th_text(th_range_key(ahead->kind)));
    span_facts(report, "used", "Used", "gal", "gal", ahead, &ahead->used, true);
    span_facts(report, "bought", "Delivered", "gal", "gal", ahead, &ahead->bought, true);
    span_facts(report, "spot", "Of it at the posted price", "gal", "gal", ahead, &ahead->spot,
               true);
    span_facts(report, "cash", "To pay", "$", "usd", ahead, &ahead->usd, priced(plan));
    th_report_fact(report, "came_gal", ahead->has_came ? "With the weather that came" : NULL, "gal",
                   TH_SIG3, th_number_if(ahead->has_came, ahead->came_gal));
    th_report_fact(report, "winters_count", "Winters drawn from", "", TH_WHOLE,
                   th_number((double)ahead->n_winters));
    th_report_fact(report, "cases_count", "Cases", "", TH_WHOLE, th_number((double)ahead->n_cases));
}

/* Readings that cannot be right, or are old. */
static void question_gauges(struct th_report *report, const struct th_plan *plan,
                            const struct th_ahead_in *in)
{
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const char *name = plan->in->tanks[i].name;
        const struct th_gauge *g = &in->gauges[i];
        const double most = plan->in->tanks[i].fill_share;
        if (g->share > most)
            th_report_warning(report,
                              "The gauge of \"%s\" shows %.0f %%; its tanks are filled to %.0f %% "
                              "at most. Read it again, or ask the supplier to look at it.",
                              name, 100.0 * g->share, 100.0 * most);
        if (in->day - g->day > TH_AHEAD_READING_DAYS)
            th_report_warning(report,
                              "The gauge of \"%s\" was read %ld days ago. Read it again: what was "
                              "used since is only computed.",
                              name, in->day - g->day);
        if (g->share <= EMPTY_SHARE)
            th_report_warning(report,
                              "\"%s\" may be empty. Do not relight anything: a tank run empty "
                              "needs a leak test and relighting by a qualified person. Call the "
                              "supplier now.",
                              name);
    }
}

/* Whether the tanks make vapour at the level a late truck finds. */
static void warn_vapour(struct th_report *report, const struct th_plan *plan,
                        const struct th_ahead *ahead)
{
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_ahead_order *o = &ahead->orders[i];
        if (!o->vapour.asked || o->vapour.worst_ratio >= 1.0 || o->level_share <= 0.0)
            continue;
        th_report_warning(
            report,
            "Waiting for that truck \"%s\" may stand at %.0f %%. At %s °F the tanks then make "
            "%.0f %% of the vapour the barns draw: keep them fuller in the cold and ask the "
            "supplier.",
            plan->in->tanks[i].name, 100.0 * o->level_share,
            th_whole(th_f_from_c(o->coldest_c)).text, 100.0 * o->vapour.worst_ratio);
    }
}

static void orders(struct th_report *report, const struct th_plan *plan,
                   const struct th_ahead_in *in, const struct th_ahead *ahead)
{
    th_report_section(report, "orders", "Tanks and the next truck");
    th_report_table(report, "orders", plan->in->n_tanks > 0 ? "When to order" : NULL);
    for (int i = 0; i < plan->in->n_tanks; i++) {
        const struct th_ahead_order *o = &ahead->orders[i];
        th_report_row(report);
        th_report_cell(report, "tanks", "Tanks", "", TH_PLAIN, th_text(plan->in->tanks[i].name));
        th_report_cell(report, "read", "Read", "", TH_DAY, th_number((double)in->gauges[i].day));
        th_report_cell(report, "gauge_pct", "Gauge", "%", TH_WHOLE,
                       th_number(100.0 * in->gauges[i].share));
        th_report_cell(report, "counted_gal", "Counted", "gal", TH_SIG3, th_number(o->counted_gal));
        th_report_cell(report, "order_by", "Order by", "", TH_DAY,
                       th_number_if(o->needed, (double)o->by_day));
        th_report_cell(report, "truck_by", "Truck by", "", TH_DAY,
                       th_number_if(o->needed, (double)o->comes_day));
        th_report_cell(report, "room_gal", "Room then", "gal", TH_SIG3,
                       th_number_if(o->needed, o->room_gal));
        th_report_cell(report, "level_pct", "At worst", "%", TH_WHOLE,
                       th_number_if(o->needed, 100.0 * o->level_share));
        th_report_cell(report, "vapour_pct", "Vapour", "%", TH_WHOLE,
                       th_number_if(o->vapour.asked, 100.0 * o->vapour.worst_ratio));
    }
    if (plan->in->n_tanks == 0) {
        th_report_paragraph(report, NULL,
                            "No tank is given: every week's use is taken as delivered, and no "
                            "order date can be told.");
        return;
    }
    th_report_paragraph(
        report, NULL,
        "Counted: the gauge less 5 %% of the tanks' size, which is how well a gauge "
        "is read, and less what was used since it was read. At worst: the level "
        "when that truck comes, lower in one case of twenty. Vapour: what the "
        "tanks then make in the worst hour ahead, of what is drawn.");
    if (th_climate_generated(plan->in->cases[0].climate))
        th_report_paragraph(report, NULL,
                            "Order date and vapour rest on generated winters, which hold too few "
                            "very cold days: use station files of your place before you wait for "
                            "a truck.");
}

static void contracts(struct th_report *report, const struct th_plan *plan,
                      const struct th_ahead *ahead)
{
    th_report_section(report, "contracts", "Contracts in force");
    th_report_table(report, "contracts", ahead->n_contracts > 0 ? "What is left of them" : NULL);
    for (int k = 0; k < ahead->n_contracts; k++) {
        const struct th_ahead_contract *of = &ahead->contracts[k];
        const struct th_contract *c = &plan->in->contracts[of->contract];
        char unused[TH_UNUSED_TEXT_MAX];
        th_report_row(report);
        th_report_cell(report, "contract", "Contract", "", TH_PLAIN, th_text(c->name));
        th_report_cell(report, "taken_gal", "Taken", "gal", TH_BULK, th_number(of->taken_gal));
        th_report_cell(report, "left_gal", "Left", "gal", TH_BULK,
                       th_number_if(isfinite(of->left_gal), of->left_gal));
        th_report_cell(report, "until", "Until", "", TH_DAY, th_number((double)of->last_day));
        th_report_cell(report, "all_pct", "All taken in", "%", TH_WHOLE,
                       th_number_if(isfinite(of->left_gal), 100.0 * of->all_share));
        th_report_cell(report, "drawn_gal", "Drawn", "gal", TH_BULK, th_number(of->drawn_gal));
        th_report_cell(report, "unused_gal", "Left over", "gal", TH_BULK,
                       th_number_if(isfinite(of->left_gal), of->unused_gal));
        th_report_cell(report, "unused", "Gallons not taken", "", TH_PLAIN,
                       th_text(th_plan_unused_text(c, unused)));
    }
    th_report_paragraph(report, NULL,
                        ahead->n_contracts > 0
                            ? "Contracts are drawn in this order; trucks outside their windows and "
                              "beyond their gallons are bought at the posted price of the day. A "
                              "contract fixes a price, not supply."
                            : "No contract is in force (--taken names those that are): everything "
                              "is bought at the posted price of the day.");
}

enum th_code th_ahead_report(struct th_report *report, const struct th_plan *plan,
                             const struct th_ahead_in *in, const struct th_ahead *ahead,
                             struct th_error *err)
{
    th_report_title(report, "Fuel for the rest of the season");
    th_report_thin_weather(report, &plan->in->cases[0]);
    for (int i = 0; i < plan->in->n_cases; i++)
        th_report_doubts(report, plan->in->cases[i].room);
    th_plan_warn_of_air(report, plan);
    question_gauges(report, plan, in);
    warn_vapour(report, plan, ahead);
    answer(report, plan, ahead);
    facts(report, plan, ahead);
    orders(report, plan, in, ahead);
    contracts(report, plan, ahead);
    th_ahead_months(report, ahead, priced(plan) ? &ahead->cash : NULL);
    if (priced(plan))
        th_ahead_cash_figure(report, ahead, &ahead->cash);
    th_ahead_weeks(report, ahead, true, plan->in->n_tanks > 0);
    th_ahead_week_figure(report, ahead, true);
    th_report_fuel_cautions(report);
    const enum th_code code =
        th_ahead_balances(report, ahead, priced(plan) ? &ahead->cash : NULL, ahead->usd.mean, err);
    if (code != TH_OK)
        return code;
    return th_report_books(report, NULL, "one of each room, all seasons", &plan->demand.books, err);
}
