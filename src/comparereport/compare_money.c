/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Payback measures, and where the answer flips. */
#include "compare_report.h"

#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "net_text.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Blowers that cost less more or less a year are not told of (our judgement). */
#define BLOWERS_TOLD_USD 50.0
#define DEAR 10.0 /* times today's price */
#define NAME_MAX_SHOWN (TH_NAME_MAX + 24)

/* A price far above any paid is no break-even. */
static struct th_value break_even(char words[TH_MEASURE_MAX], struct th_measure price, int years,
                                  double today)
{
    if (price.state == TH_MEASURE_NEVER)
        return th_no_number("no price");
    if (price.state != TH_MEASURE_DEFINED || price.value <= DEAR * today)
        return th_measure_value(words, price, years);
    snprintf(words, TH_MEASURE_MAX, "over %.2f", DEAR * today);
    return th_no_number(words);
}

static struct th_measure in_percent(struct th_measure m)
{
    m.value *= 100.0;
    return m;
}

/* What is bought for all rooms, and what that is a year. */
static void cost_table(struct th_report *report, const struct th_comparison *c)
{
    const struct th_room *room = c->base->room;
    const struct th_money *m = &room->money;
    char copies[64] = "";
    if (room->copies > 1)
        snprintf(copies, sizeof copies, "Costs are for one room, times its %d copies. ",
                 room->copies);
    th_report_table(report, "purchases", "What each choice costs, all rooms together");
    for (int i = 0; i < c->n; i++) {
        const struct th_purchase *buy = &c->choices[i].buy;
        th_report_row(report);
        th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(buy->name));
        th_report_cell(report, "room_cost_usd", "One room", "$", TH_SIG3, th_number(buy->cost_usd));
        th_report_cell(report, "rooms_count", "Rooms", "", TH_WHOLE, th_number(room->copies));
        th_report_cell(report, "first_cost_usd", "First cost", "$", TH_SIG3,
                       th_number(room->copies * buy->cost_usd));
        th_report_cell(report, "life_years", "Life", "years", TH_TENTHS,
                       th_number_if(buy->life_years >= 1.0, buy->life_years));
        th_report_cell(report, "residual_pct", "Worth at the end", "% of cost", TH_WHOLE,
                       th_number(100.0 * th_purchase_residual(buy, m->years)));
        th_report_cell(
            report, "annual_usd", "A year over its life, upkeep included", "$/year", TH_SIG3,
            th_number(room->copies * (th_annual_usd(buy->cost_usd, buy->life_years, m->discount) +
                                      buy->upkeep_usd_year)));
    }
    th_report_paragraph(report, NULL,
                        "%sThe study is %d years for "
                        "all; what lives longer is worth the share of its cost that its remaining "
                        "life is of its life, what ends earlier is bought again. A year over its "
                        "life: the same sum every year of its life at %.1f %% (equivalent annual "
                        "cost), to set beside what it saves a year where lives differ.",
                        copies, m->years, 100.0 * m->discount);
}

/* `settings`: against the free choice instead of the barn as it is. */
static void money_table(struct th_report *report, const struct th_comparison *c, const char *key,
                        const char *caption, bool settings)
{
    const struct th_room *room = c->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    const int years = room->money.years;
    char per_unit[16], words[TH_MEASURE_MAX];
    snprintf(per_unit, sizeof per_unit, "$/%s", unit->unit);
    th_report_table(report, key, caption);
    for (int i = 0; i < c->n; i++) {
        const struct th_choice_return *against =
            settings ? &c->money[i].settings : &c->money[i].today;
        const struct th_return *r = &against->payback;
        if (c->results[i + 1].refused[0])
            continue;
        th_report_row(report);
        th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(c->choices[i].buy.name));
        th_report_cell(report, "first_cost_usd", "Extra first cost", "$", TH_SIG3,
                       th_number(room->copies * c->choices[i].buy.cost_usd));
        th_report_cell(report, "net_usd", "Net savings", "$", TH_SIG3, th_number(r->net_usd));
        th_report_cell(report, "net_scrapped_usd", "worth nothing at the end", "$", TH_SIG3,
                       th_number(against->scrapped_usd));
        th_report_cell(report, "sir_ratio", "SIR", "", TH_HUNDREDTHS,
                       th_measure_value(words, r->sir, years));
        th_report_cell(report, "irr_pct", "IRR", "%", TH_WHOLE,
                       th_measure_value(words, in_percent(r->irr), years));
        th_report_cell(report, "simple_payback_years", "Simple payback", "yr", TH_TENTHS,
                       th_measure_value(words, r->simple.interpolated, years));
        th_report_cell(report, "discounted_payback_year", "Discounted, in year", "", TH_WHOLE,
                       th_measure_value(words, r->discounted.in_year, years));
        th_report_cell(report, "break_even_usd_gal", "Pays from", per_unit, TH_HUNDREDTHS,
                       break_even(words, r->break_even_price, years, room->fuel.price));
        th_report_cell(report, "break_even_gal", "Pays from a saving of", unit->unit, TH_SIG3,
                       th_measure_value(words, r->break_even_savings, years));
        th_report_cell(report, "chance_pct", "Cases that pay", "%", TH_WHOLE,
                       th_number_if(against->net.drawn, 100.0 * against->chance));
    }
}

/* The part of the net that is no gas: blowers that run longer, or less. */
static void say_blowers(struct th_report *report, const struct th_comparison *c)
{
    const struct th_room *room = c->base->room;
    for (int i = 0; i < c->n; i++) {
        char usd[TH_SHOWN_MAX], kwh[TH_SHOWN_MAX];
        const struct th_tally *now = &c->results[0].trial.mean,
                              *then = &c->results[i + 1].trial.mean;
        const double more_j = room->copies * (then->sum[TH_ELECTRICITY] - now->sum[TH_ELECTRICITY]);
        const double more_usd = more_j * room->money.electricity_j;
        if (c->results[i + 1].refused[0] || fabs(more_usd) < BLOWERS_TOLD_USD)
            continue;
        th_show_with_unit(kwh, th_number(fabs(more_j) / TH_J_PER_KWH), TH_SIG2, "kWh");
        th_show(usd, th_number(fabs(more_usd)), TH_SIG2);
        th_report_item(report,
                       "%s: the blowers take %s a season %s than today's, $%s a year at $%.2f a "
                       "kWh; that is part of its net.",
                       c->choices[i].buy.name, kwh, more_usd > 0.0 ? "more" : "less", usd,
                       room->money.electricity_j * TH_J_PER_KWH);
    }
}

static const char *const leak_texts[TH_FLIP_LEAKS] = {
    "a quarter of the leakage", "half the leakage", "as it is", "twice the leakage"};

/* A line a barn, a column a price, as people read it. */
static void flip_grid(struct th_report *report, const struct th_comparison *c)
{
    char caption[128];
    if (c->results[c->best + 1].refused[0])
        return;
    snprintf(caption, sizeof caption, "Net savings of %s by fuel price and tightness of the barn",
             c->choices[c->best].buy.name);
    th_report_table(report, NULL, caption);
    for (int row = 0; row < TH_FLIP_LEAKS; row++) {
        th_report_row(report);
        th_report_cell(report, "barn", "Barn", "", TH_PLAIN, th_text(leak_texts[row]));
        for (int k = 0; k < TH_FLIP_PRICES; k++) {
            char label[32];
            snprintf(label, sizeof label, "at $%.2f", c->flips.price_usd[k]);
            th_report_cell(report, label, label, "$", TH_SIG3, th_number(c->flips.net_usd[row][k]));
        }
    }
}

/* The same for machines: a row a barn and price. */
static void flip_list(struct th_report *report, const struct th_comparison *c)
{
    char per_unit[16];
    snprintf(per_unit, sizeof per_unit, "$/%s", th_fuel_unit(&c->base->room->fuel)->unit);
    th_report_table(report, "flips", NULL);
    for (int row = 0; row < TH_FLIP_LEAKS && !c->results[c->best + 1].refused[0]; row++)
        for (int k = 0; k < TH_FLIP_PRICES; k++) {
            th_report_row(report);
            th_report_cell(report, "choice", "", "", TH_PLAIN,
                           th_text(c->choices[c->best].buy.name));
            th_report_cell(report, "leak_factor", "", "", TH_HUNDREDTHS,
                           th_number(c->flips.leak[row]));
            th_report_cell(report, "price_usd_gal", "", per_unit, TH_HUNDREDTHS,
                           th_number(c->flips.price_usd[k]));
            th_report_cell(report, "net_usd", "", "$", TH_SIG3,
                           th_number(c->flips.net_usd[row][k]));
        }
}

/* Pigs come before dollars: a choice that harms them is named with its verdict. */
static const char *shown_name(char name[NAME_MAX_SHOWN], const struct th_comparison *c, int i)
{
    const enum th_verdict verdict = c->money[i].verdict;
    const char *const word = th_verdict_harmless(verdict) ? "" : th_verdict_phrase(verdict);
    snprintf(name, NAME_MAX_SHOWN, "%s%s%s", c->choices[i].buy.name, word[0] ? ": " : "", word);
    return name;
}

/* Net savings of every choice as dot and range beside zero. */
static void net_figure(struct th_report *report, const struct th_comparison *c)
{
    th_figure(report,
              &(struct th_figure){.caption = "What each choice comes to, and how sure that is",
                                  .reading = "Net savings against the barn as it is over the "
                                             "years looked at. Dot: as computed. Line: eight of "
                                             "ten barns that fit what is known. Right of 0 it "
                                             "pays.",
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = "$", .format = TH_SIG3, .from_zero = true}});
    for (int i = 0, at = 0; i < c->n; i++) {
        const struct th_choice_return *today = &c->money[i].today;
        char name[NAME_MAX_SHOWN];
        if (c->results[i + 1].refused[0])
            continue;
        th_figure_name(report, shown_name(name, c, i));
        th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
        th_figure_span(report, at, today->net.low_usd, today->net.high_usd);
        th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
        th_figure_point(report, at++, today->net.usd);
    }
}

/* Net savings of every choice over the fuel price. */
static void price_figure(struct th_report *report, const struct th_comparison *c)
{
    char label[TH_SHOWN_MAX];
    const char *const unit = th_fuel_unit(&c->base->room->fuel)->unit;
    snprintf(label, sizeof label, "$ a %s", unit);
    th_figure(report,
              &(struct th_figure){.caption = "What the fuel price does to it",
                                  .reading = "Net savings of each choice against the barn as it "
                                             "is, in dollars over the years looked at. A choice "
                                             "pays where its line is above 0.",
                                  .along = {.unit = "$", .label = label, .format = TH_HUNDREDTHS},
                                  .value = {.unit = "$", .format = TH_SIG3, .from_zero = true}});
    for (int i = 0; i < c->n; i++) {
        if (c->results[i + 1].refused[0])
            continue;
        char name[NAME_MAX_SHOWN];
        th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, shown_name(name, c, i));
        for (int k = 0; k < TH_CURVE_PRICES; k++)
            th_figure_point(report, c->curve.price_usd[k], c->curve.net_usd[k][i]);
    }
    th_figure_rule(report, TH_MARK_RULE_AT, "today", c->base->room->fuel.price);
}

/* The dollars of a choice that harms the pigs stand in the tables, and are no saving. */
static void say_harmed(struct th_report *report, const struct th_comparison *c)
{
    char names[512] = "";
    size_t used = 0;
    for (int i = 0; i < c->n && used < sizeof names; i++)
        if (!c->results[i + 1].refused[0] && !th_verdict_harmless(c->money[i].verdict))
            used +=
                (size_t)snprintf(names + used, sizeof names - used, "%s%s (%s)", used ? ", " : "",
                                 c->choices[i].buy.name, th_verdict_phrase(c->money[i].verdict));
    if (used)
        th_report_paragraph(report, NULL,
                            "No saving, whatever the dollars below come to, since the pigs would "
                            "be worse off: %s.",
                            names);
}

void th_compare_payback(struct th_report *report, const struct th_comparison *c)
{
    if (c->n == 0)
        return;
    th_report_section(report, "payback", "Does it pay?");
    if (!c->has_money) {
        th_report_paragraph(report, NULL, "No fuel price is given, so payback is not computed.");
        return;
    }
    say_harmed(report, c);
    cost_table(report, c);
    money_table(report, c, "against_today", "Against the barn as it is", false);
    say_blowers(report, c);
    if (c->free.found)
        money_table(report, c, "against_free", "Against the free choice, both as warm as today",
                    true);
    flip_grid(report, c);
    flip_list(report, c);
    net_figure(report, c);
    price_figure(report, c);
    const struct th_money *m = &c->base->room->money;
    th_report_paragraph(report, NULL,
                        "%d years at %.1f %% real, fuel price growing %.1f %% a year above "
                        "inflation, the buyer paying %.0f %% of the fuel bill. Cases that pay: "
                        "the barns that fit what is known, each over the mean of the winters, "
                        "at 0.6, 0.8, 1, 1.3 and 1.7 times today's price. Measures as NIST "
                        "Handbook 135; net savings rank the choices; SIR is savings over "
                        "investment. Pays from: a price above ten times "
                        "today's is not told further.",
                        m->years, 100.0 * m->discount, 100.0 * m->fuel_growth,
                        100.0 * m->payer_share);
}
