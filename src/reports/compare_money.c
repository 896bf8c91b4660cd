/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verdict, payback measures, and where the answer flips. */
#include "compare_report.h"

#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

#define DEAR 10.0 /* times today's price */

static struct th_value measure(struct th_measure m)
{
    static const char *const words[] = {[TH_MEASURE_NONE] = "none",
                                        [TH_MEASURE_NEVER] = "not within the study",
                                        [TH_MEASURE_BETTER_AT_ONCE] = "better at once",
                                        [TH_MEASURE_NOT_UNIQUE] = "not unique"};
    return m.state == TH_MEASURE_DEFINED ? th_number(m.value) : th_text(words[m.state]);
}

/* A price no one will ever pay is no break-even. */
static struct th_value break_even(struct th_measure price, double today)
{
    return price.state == TH_MEASURE_DEFINED && price.value > DEAR * today ? th_text("never")
                                                                           : measure(price);
}

static struct th_value percent(struct th_measure m)
{
    m.value *= 100.0;
    return measure(m);
}

/* `settings`: against the free choice instead of the barn as it is. */
static void money_table(struct th_report *report, const struct th_comparison *c, const char *key,
                        const char *caption, bool settings)
{
    const struct th_room *room = c->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    char per_unit[16];
    snprintf(per_unit, sizeof per_unit, "$/%s", unit->unit);
    th_report_table(report, key, caption);
    for (int i = 0; i < c->n; i++) {
        const struct th_choice_return *against =
            settings ? &c->money[i].settings : &c->money[i].today;
        const struct th_return *r = &against->payback;
        if (c->results[i + 1].refused)
            continue;
        th_report_row(report);
        th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(c->choices[i].buy.name));
        th_report_cell(report, "first_cost_usd", "Extra first cost", "$", TH_SIG3,
                       th_number(room->copies * c->choices[i].buy.cost_usd));
        th_report_cell(report, "net_usd", "Net savings", "$", TH_SIG3, th_number(r->net_usd));
        th_report_cell(report, "sir_ratio", "SIR", "", TH_HUNDREDTHS, measure(r->sir));
        th_report_cell(report, "irr_pct", "IRR", "%", TH_WHOLE, percent(r->irr));
        th_report_cell(report, "simple_payback_years", "Simple payback", "yr", TH_TENTHS,
                       measure(r->simple.interpolated));
        th_report_cell(report, "discounted_payback_year", "Discounted, in year", "", TH_WHOLE,
                       measure(r->discounted.in_year));
        th_report_cell(report, "break_even_usd_gal", "Pays from", per_unit, TH_HUNDREDTHS,
                       break_even(r->break_even_price, room->fuel.price));
        th_report_cell(report, "break_even_gal", "Pays from a saving of", unit->unit, TH_SIG3,
                       measure(r->break_even_savings));
        th_report_cell(report, "chance_pct", "Cases that pay", "%", TH_WHOLE,
                       th_number(100.0 * against->chance));
    }
}

static void flip_table(struct th_report *report, const struct th_comparison *c)
{
    static const char *const names[TH_FLIP_LEAKS] = {"a quarter of the leakage", "half the leakage",
                                                     "as it is", "twice the leakage"};
    char caption[128];
    snprintf(caption, sizeof caption, "Net savings of %s by fuel price and tightness of the barn",
             c->choices[c->best].buy.name);
    th_report_table(report, "flips", caption);
    for (int row = 0; row < TH_FLIP_LEAKS; row++) {
        th_report_row(report);
        th_report_cell(report, "barn", "Barn", "", TH_PLAIN, th_text(names[row]));
        for (int k = 0; k < TH_FLIP_PRICES; k++) {
            char key[32], label[32];
            snprintf(key, sizeof key, "net_at_price_%d_usd", k + 1);
            snprintf(label, sizeof label, "at $%.2f", c->flips.price_usd[k]);
            th_report_cell(report, key, label, "$", TH_SIG3, th_number(c->flips.net_usd[row][k]));
        }
    }
}

/* Net savings of every choice as dot and range beside zero. */
static void net_figure(struct th_report *report, const struct th_comparison *c)
{
    th_figure(report,
              &(struct th_figure){.caption = "What each choice comes to, and how sure that is",
                                  .reading = "Net savings against the barn as it is over the "
                                             "years looked at. Dot: as computed. Line: over what "
                                             "is not known of the room's overshoot and its first "
                                             "fan stage. Right of 0 it pays.",
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = "$", .format = TH_SIG3, .from_zero = true}});
    for (int i = 0; i < c->n; i++) {
        const struct th_choice_return *today = &c->money[i].today;
        th_figure_name(report, c->choices[i].buy.name);
        th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
        th_figure_span(report, i, today->net.low_usd, today->net.high_usd);
        th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
        th_figure_point(report, i, today->net.usd);
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
        th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, c->choices[i].buy.name);
        for (int k = 0; k < TH_CURVE_PRICES; k++)
            th_figure_point(report, c->curve.price_usd[k], c->curve.net_usd[k][i]);
    }
    th_figure_rule(report, TH_MARK_RULE_AT, "today", c->base->room->fuel.price);
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
    money_table(report, c, "against_today", "Against the barn as it is", false);
    if (c->free.found)
        money_table(report, c, "against_free", "Against the free choice, both at the same mean",
                    true);
    flip_table(report, c);
    net_figure(report, c);
    price_figure(report, c);
    const struct th_money *m = &c->base->room->money;
    th_report_paragraph(report, NULL,
                        "%d years at %.1f %% real, fuel price growing %.1f %% a year above "
                        "inflation, the buyer paying %.0f %% of the fuel bill. Cases that pay: "
                        "every counted winter at 0.6 to 1.7 times today's price. Measures as NIST "
                        "Handbook 135; net savings rank the choices; SIR is savings over "
                        "investment. Pays from: never below ten times "
                        "today's price is shown as never.",
                        m->years, 100.0 * m->discount, 100.0 * m->fuel_growth,
                        100.0 * m->payer_share);
}

static const char *dollars(char text[TH_SHOWN_MAX], double usd)
{
    return th_show_with_unit(text, th_number(usd), TH_SIG3, "$");
}

/* What the purchase is worth beside the free choice; nothing without one. */
static void say_settings(char *text, size_t size, const struct th_comparison *c, int i)
{
    const struct th_net *net = &c->money[i].settings.net;
    char now[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    text[0] = '\0';
    if (c->free.found)
        snprintf(text, size,
                 " Better settings of the present heaters cost nothing; against them, as warm, it "
                 "comes to %s (%s to %s).",
                 dollars(now, net->usd), dollars(low, net->low_usd), dollars(high, net->high_usd));
}

/* What a choice does to the pigs, before any dollar. */
static void say_harm(struct th_report *report, const struct th_comparison *c, int i,
                     const char *key)
{
    const struct th_choice_result *r = &c->results[i + 1];
    const struct th_trial *judged = th_judged(r);
    const char *name = c->choices[i].buy.name;
    const struct th_room *room = c->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    const double held_units = room->copies * c->cost_j[TH_COST_CEILINGS] / room->fuel.hhv_j;
    char held[TH_SHOWN_MAX];
    if (r->refused)
        th_report_paragraph(report, key, "Not comparable: %s, since %s.", name, r->refused);
    else if (r->harm == TH_HARM_HEAT)
        th_report_paragraph(
            report, key,
            "Not this one: with %s the room falls to %.0f °F (today %.0f °F), and the heaters "
            "cannot "
            "keep up in %s hours more of the worst winter.%s",
            name, th_f_from_c(judged->mean.lowest_c),
            th_f_from_c(c->results[0].trial.mean.lowest_c), th_whole(r->added.unmet_h).text,
            r->falls_short ? " They are smaller than the 99 % design day needs." : "");
    else if (r->harm == TH_HARM_AIR)
        th_report_paragraph(
            report, key,
            "Not this one: %s leaves pigs and people worse air: in its worst turn %s hours more "
            "over "
            "the CO2 ceiling, %s over the limit for people, %s over the humidity ceiling. Less "
            "heat "
            "blown out is less air beyond the minimum, and the burners' CO2 stays: it is the air "
            "setting that must change, not the heater. Held under the ceilings the barn of today "
            "burns about %s more a season; compare again with [air] hold_co2 = yes and "
            "hold_humidity = yes.",
            name, th_whole(r->added.co2_h).text, th_whole(r->added.worker_h).text,
            th_whole(r->added.rh_h).text,
            th_show_with_unit(held, th_number(held_units), TH_SIG2, unit->unit));
    else
        th_report_paragraph(
            report, key,
            "Not this one: with %s the pigs are colder, %s °F hours more below their comfort limit "
            "in its worst turn, at most %.1f °F below it (today %.1f °F).",
            name, th_whole((r->added.young_kh + r->added.later_kh) / TH_K_PER_F).text,
            judged->mean.deepest_below_k / TH_K_PER_F,
            c->results[0].trial.mean.deepest_below_k / TH_K_PER_F);
}

static bool harmful(const struct th_comparison *c, int i)
{
    return c->results[i + 1].refused || c->results[i + 1].harm != TH_HARM_NONE;
}

static void say_no_difference(struct th_report *report, const struct th_comparison *c, int i,
                              const char *key)
{
    char cost[TH_SHOWN_MAX];
    th_report_paragraph(
        report, key,
        "No difference: what %s saves is too little to tell, under 1 %% of the fuel "
        "bill or $50 over %d years; it costs %s.",
        c->choices[i].buy.name, c->base->room->money.years,
        dollars(cost, c->base->room->copies * c->choices[i].buy.cost_usd));
}

/* Gallons alone do not tell what such a choice saves. */
static bool other_fuel(const struct th_comparison *c, int i)
{
    const struct th_fuel *now = &c->base->room->fuel, *then = &c->choices[i].room.fuel;
    return now->gas != then->gas || now->price != then->price;
}

static void say_money(struct th_report *report, const struct th_comparison *c, int i,
                      const char *key)
{
    static const char *const words[] = {[TH_VERDICT_SETTINGS_FIRST] = "Settings first",
                                        [TH_VERDICT_DEPENDS] = "It depends",
                                        [TH_VERDICT_YES] = "Yes",
                                        [TH_VERDICT_NO] = "No"};
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    const struct th_choice_result *result = &c->results[i + 1];
    const enum th_verdict verdict = c->money[i].verdict;
    const struct th_net *today = &c->money[i].today.net;
    const double saved = th_comparison_units(c, &c->results[0].trial) -
                         th_comparison_choice_units(c, i, th_judged(result));
    char gas[TH_SHOWN_MAX], net[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX], more[256];
    say_settings(more, sizeof more, c, i);
    th_report_paragraph(
        report, key,
        "%s: %s %s %s in a mean season at the same %s, and comes to %s net over %d years at "
        "$%.2f/%s; %s to %s over what is not known of the room's overshoot and its first fan "
        "stage.%s%s",
        words[verdict], c->choices[i].buy.name,
        other_fuel(c, i) ? saved >= 0.0 ? "saves the price of" : "costs the price of"
        : saved >= 0.0   ? "saves about"
                         : "costs about",
        th_show_with_unit(gas, th_number(fabs(saved)), TH_SIG2, unit->unit),
        result->same_mean.state == TH_SAME_MEAN_FOUND ? "mean temperature" : "settings",
        dollars(net, today->usd), c->base->room->money.years, c->base->room->fuel.price, unit->unit,
        dollars(low, today->low_usd), dollars(high, today->high_usd), more,
        verdict == TH_VERDICT_DEPENDS ? " The sign changes within that range: read the overshoot "
                                        "off your own room before you buy."
                                      : "");
}

static void say_verdict(struct th_report *report, const struct th_comparison *c, int i,
                        const char *key)
{
    if (harmful(c, i)) {
        say_harm(report, c, i, key);
        return;
    }
    if (c->money[i].verdict == TH_VERDICT_NO_DIFFERENCE) {
        say_no_difference(report, c, i, key);
        return;
    }
    say_money(report, c, i, key);
}

static bool modulates(const struct th_room *room)
{
    for (int i = 0; i < room->n_heaters; i++)
        if (room->heaters[i].control == TH_MODULATING && room->heaters[i].units > 0)
            return true;
    return false;
}

/* One row a choice, for machines and at a glance. */
static void verdict_table(struct th_report *report, const struct th_comparison *c)
{
    th_report_table(report, "verdicts", "What each choice comes to");
    for (int i = 0; i < c->n; i++) {
        const struct th_choice_result *r = &c->results[i + 1];
        const struct th_net *net = &c->money[i].today.net;
        const bool priced = c->has_money && !r->refused;
        const bool word = c->has_money || harmful(c, i);
        th_report_row(report);
        th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(c->choices[i].buy.name));
        th_report_cell(report, "word", "Verdict", "", TH_PLAIN,
                       word ? th_text(th_verdict_word(c->money[i].verdict)) : th_missing());
        th_report_cell(report, "net_usd", "Net savings", "$", TH_SIG3,
                       th_number_if(priced, net->usd));
        th_report_cell(report, "net_low_usd", "at the least", "$", TH_SIG3,
                       th_number_if(priced, net->low_usd));
        th_report_cell(report, "net_high_usd", "at the most", "$", TH_SIG3,
                       th_number_if(priced, net->high_usd));
        th_report_cell(report, "unmet_added_h", "More hours short of heat", "h", TH_WHOLE,
                       th_number(r->added.unmet_h));
        th_report_cell(report, "below_comfort_added_f_h", "More below comfort", "°F h", TH_SIG3,
                       th_number((r->added.young_kh + r->added.later_kh) / TH_K_PER_F));
    }
}

/* The choice with the highest net savings first, then every other variable-output choice, then
 * those that harm. */
void th_compare_verdict(struct th_report *report, const struct th_comparison *c)
{
    verdict_table(report, c);
    th_report_section(report, "verdict", "Verdict");
    if (!c->has_money) {
        th_report_paragraph(report, "best",
                            c->n == 0 ? "No choices are given."
                                      : "Without a fuel price there is no verdict on money; see "
                                        "what each choice saves.");
        for (int i = 0; i < c->n; i++)
            if (harmful(c, i))
                say_harm(report, c, i, NULL);
        return;
    }
    say_verdict(report, c, c->best, "best");
    for (int i = 0; i < c->n; i++) {
        char key[32];
        snprintf(key, sizeof key, "variable_output_%d", i + 1);
        if (i != c->best && modulates(&c->choices[i].room))
            say_verdict(report, c, i, key);
        else if (i != c->best && harmful(c, i))
            say_harm(report, c, i, NULL);
    }
}
