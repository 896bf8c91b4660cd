/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verdict, payback measures, and where the answer flips. */
#include "compare_report.h"

#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "turnheat/study.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

#define PRICES 5
#define DEAR 10.0 /* times today's price */

static const double price_factors[PRICES] = {0.6, 0.8, 1.0, 1.3, 1.7};

static double electricity_usd(const struct th_comparison *c, const struct th_trial *trial)
{
    const struct th_room *room = c->base->room;
    return room->copies * trial->mean.sum[TH_ELECTRICITY] * room->money.electricity_j;
}

/* Loads both outlays: `against` costs nothing now, the offer its first cost; all copies. */
static void outlays(const struct th_comparison *c, int i, const struct th_trial *against,
                    struct th_outlay *base, struct th_outlay *offer)
{
    const struct th_trial *judged = th_judged(&c->results[i + 1]);
    *base = (struct th_outlay){.fuel_units_year = th_comparison_units(c, against),
                               .electricity_usd_year = electricity_usd(c, against)};
    *offer = (struct th_outlay){.fuel_units_year = th_comparison_units(c, judged),
                                .electricity_usd_year = electricity_usd(c, judged)};
    th_outlay_buy(offer, c->base->room->copies, &c->offers[i].buy, c->base->room->money.years);
}

enum th_code th_comparison_return(const struct th_comparison *c, int i,
                                  const struct th_trial *against, double *chance,
                                  struct th_return *result, struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    const struct th_trial *judged = th_judged(&c->results[i + 1]);
    const double to_units = c->base->room->copies / c->base->room->fuel.hhv_j;
    struct th_outlay base, offer;
    double base_units[TH_TRIAL_SEASONS_MAX], offer_units[TH_TRIAL_SEASONS_MAX], prices[PRICES];
    outlays(c, i, against, &base, &offer);
    for (int k = 0; k < judged->n; k++) {
        base_units[k] = to_units * against->gas_j[k];
        offer_units[k] = to_units * judged->gas_j[k];
    }
    for (int k = 0; k < PRICES; k++)
        prices[k] = price_factors[k] * study.price_usd_unit;
    enum th_code code = th_payback_compare(&base, &offer, &study, result, err);
    if (code == TH_OK)
        code = th_payback_chance(&base, &offer, &study, (size_t)judged->n, base_units, offer_units,
                                 PRICES, prices, chance, err);
    return code;
}

static struct th_value measure(struct th_measure m)
{
    static const char *const words[] = {[TH_MEASURE_NONE] = "none",
                                        [TH_MEASURE_NEVER] = "never",
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

static enum th_code money_rows(struct th_report *report, const struct th_comparison *c,
                               const struct th_trial *against, struct th_error *err)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    char per_unit[16];
    snprintf(per_unit, sizeof per_unit, "$/%s", unit->unit);
    for (int i = 0; i < c->n; i++) {
        struct th_return r;
        double chance;
        const enum th_code code = th_comparison_return(c, i, against, &chance, &r, err);
        if (code != TH_OK)
            return code;
        th_report_row(report);
        th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(c->offers[i].buy.name));
        th_report_cell(report, "first_cost_usd", "Extra first cost", "$", TH_SIG3,
                       th_number(c->base->room->copies * c->offers[i].buy.cost_usd));
        th_report_cell(report, "net_usd", "Net savings", "$", TH_SIG3, th_number(r.net_usd));
        th_report_cell(report, "sir_ratio", "SIR", "", TH_HUNDREDTHS, measure(r.sir));
        th_report_cell(report, "irr_pct", "IRR", "%", TH_WHOLE, percent(r.irr));
        th_report_cell(report, "simple_payback_years", "Simple payback", "yr", TH_TENTHS,
                       measure(r.simple.interpolated));
        th_report_cell(report, "discounted_payback_year", "Discounted, in year", "", TH_WHOLE,
                       measure(r.discounted.in_year));
        th_report_cell(report, "break_even_usd_gal", "Pays from", per_unit, TH_HUNDREDTHS,
                       break_even(r.break_even_price, c->base->room->fuel.price));
        th_report_cell(report, "break_even_gal", "Pays from a saving of", unit->unit, TH_SIG3,
                       measure(r.break_even_savings));
        th_report_cell(report, "chance_pct", "Cases that pay", "%", TH_WHOLE,
                       th_number(100.0 * chance));
    }
    return TH_OK;
}

static enum th_code money_table(struct th_report *report, const struct th_comparison *c,
                                const char *key, const char *caption,
                                const struct th_trial *against, struct th_error *err)
{
    th_report_table(report, key, caption);
    return money_rows(report, c, against, err);
}

/* The judged trials of the barn and of offer `i` with leakage times `leak`: known for the barn as
 * it is, else run on the winters of the block. */
static enum th_code leak_trials(const struct th_comparison *c, int i, double leak,
                                struct th_trial *base, struct th_trial *offer, double *scale,
                                struct th_error *err)
{
    struct th_room base_room = *c->base->room, offer_room = c->offers[i].room;
    const struct th_choice_result *result = &c->results[i + 1];
    *scale = 1.0;
    *base = c->results[0].trial;
    *offer = *th_judged(result);
    if (leak == 1.0)
        return TH_OK;
    *scale = c->block.scale;
    base_room.air.leak_cm2 *= leak;
    offer_room.air.leak_cm2 *= leak;
    if (result->same_mean.state == TH_SAME_MEAN_FOUND)
        th_room_shift_offsets(&offer_room, result->same_mean.shift_k);
    const enum th_code code = th_trial_run(base, &base_room, c->base->climate, c->block.first_year,
                                           c->block.last_year, err);
    if (code != TH_OK)
        return code;
    return th_trial_run(offer, &offer_room, c->base->climate, c->block.first_year,
                        c->block.last_year, err);
}

static void scale_outlay(struct th_outlay *outlay, double scale)
{
    outlay->fuel_units_year *= scale;
    outlay->electricity_usd_year *= scale;
}

/* Net savings of offer `i` with leakage times `leak` and fuel at each price. */
static enum th_code flip_row(const struct th_comparison *c, int i, double leak,
                             double net_usd[PRICES], struct th_error *err)
{
    struct th_trial base_trial, offer_trial;
    struct th_study study = th_study_of(c->base->room);
    const double today = study.price_usd_unit;
    double scale;
    enum th_code code = leak_trials(c, i, leak, &base_trial, &offer_trial, &scale, err);
    for (int k = 0; k < PRICES && code == TH_OK; k++) {
        struct th_outlay base, offer;
        struct th_return r;
        outlays(c, i, &base_trial, &base, &offer);
        offer.fuel_units_year = th_comparison_units(c, &offer_trial);
        offer.electricity_usd_year = electricity_usd(c, &offer_trial);
        scale_outlay(&base, scale);
        scale_outlay(&offer, scale);
        study.price_usd_unit = price_factors[k] * today;
        code = th_payback_compare(&base, &offer, &study, &r, err);
        net_usd[k] = r.net_usd;
    }
    return code;
}

static enum th_code flip_table(struct th_report *report, const struct th_comparison *c, int i,
                               struct th_error *err)
{
    static const double leaks[] = {0.25, 0.5, 1.0, 2.0};
    static const char *const names[] = {"a quarter of the leakage", "half the leakage", "as it is",
                                        "twice the leakage"};
    char caption[128];
    snprintf(caption, sizeof caption, "Net savings of %s by fuel price and tightness of the barn",
             c->offers[i].buy.name);
    th_report_table(report, "flips", caption);
    for (size_t row = 0; row < sizeof leaks / sizeof *leaks; row++) {
        double net_usd[PRICES];
        const enum th_code code = flip_row(c, i, leaks[row], net_usd, err);
        if (code != TH_OK)
            return code;
        th_report_row(report);
        th_report_cell(report, "barn", "Barn", "", TH_PLAIN, th_text(names[row]));
        for (int k = 0; k < PRICES; k++) {
            char key[32], label[32];
            snprintf(key, sizeof key, "net_at_price_%d_usd", k + 1);
            snprintf(label, sizeof label, "at $%.2f", price_factors[k] * c->base->room->fuel.price);
            th_report_cell(report, key, label, "$", TH_SIG3, th_number(net_usd[k]));
        }
    }
    return TH_OK;
}

/* Net savings of offer `i` over the fuel price, as a line. */
static enum th_code price_line(struct th_report *report, const struct th_comparison *c, int i,
                               struct th_error *err)
{
    enum { STEPS = 9 };
    struct th_study study = th_study_of(c->base->room);
    struct th_outlay base, offer;
    const double today = study.price_usd_unit;
    outlays(c, i, &c->results[0].trial, &base, &offer);
    th_figure_mark(report, TH_MARK_LINE, TH_INK_HEAT, c->offers[i].buy.name);
    for (int k = 0; k < STEPS; k++) {
        struct th_return r;
        study.price_usd_unit = today * (0.5 + 0.1875 * k);
        const enum th_code code = th_payback_compare(&base, &offer, &study, &r, err);
        if (code != TH_OK)
            return code;
        th_figure_point(report, study.price_usd_unit, r.net_usd);
    }
    return TH_OK;
}

static enum th_code price_figure(struct th_report *report, const struct th_comparison *c,
                                 struct th_error *err)
{
    enum th_code code = TH_OK;
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
    for (int i = 0; i < c->n && code == TH_OK; i++)
        code = price_line(report, c, i, err);
    th_figure_rule(report, TH_MARK_RULE_AT, "today", c->base->room->fuel.price);
    return code;
}

/* The offer with the highest net savings, or -1. */
static enum th_code best_offer(const struct th_comparison *c, int *best, struct th_return *result,
                               struct th_error *err)
{
    *best = -1;
    for (int i = 0; i < c->n; i++) {
        struct th_return r;
        double chance;
        const enum th_code code =
            th_comparison_return(c, i, &c->results[0].trial, &chance, &r, err);
        if (code != TH_OK)
            return code;
        if (*best < 0 || r.net_usd > result->net_usd) {
            *best = i;
            *result = r;
        }
    }
    return TH_OK;
}

/* Net savings against `against` if the choice saved `change_j` more than computed. */
static enum th_code net_at_saving(const struct th_comparison *c, int i,
                                  const struct th_trial *against, double change_j, double *net_usd,
                                  struct th_error *err)
{
    const struct th_study study = th_study_of(c->base->room);
    struct th_outlay base, offer;
    struct th_return r;
    outlays(c, i, against, &base, &offer);
    offer.fuel_units_year = fmax(
        offer.fuel_units_year - c->base->room->copies * change_j / c->base->room->fuel.hhv_j, 0.0);
    const enum th_code code = th_payback_compare(&base, &offer, &study, &r, err);
    *net_usd = code == TH_OK ? r.net_usd : 0.0;
    return code;
}

/* Net savings as computed and over the response cases. */
struct net {
    double usd, low_usd, high_usd;
};

/* Of offer `i` against a result that changes with the response as well. */
static enum th_code net_range(const struct th_comparison *c, int i,
                              const struct th_choice_result *against, struct net *net,
                              struct th_error *err)
{
    const double *saved_j = c->results[i + 1].saved_j, *other_j = against->saved_j;
    for (int r = 0; r < TH_RESPONSE_CASES; r++) {
        const double change_j = (saved_j[r] - other_j[r]) - (saved_j[0] - other_j[0]);
        double usd;
        const enum th_code code = net_at_saving(c, i, th_judged(against), change_j, &usd, err);
        if (code != TH_OK)
            return code;
        net->usd = r == 0 ? usd : net->usd;
        net->low_usd = r == 0 ? usd : fmin(net->low_usd, usd);
        net->high_usd = r == 0 ? usd : fmax(net->high_usd, usd);
    }
    return TH_OK;
}

/* Net savings of every choice as dot and range beside zero. */
static enum th_code net_figure(struct th_report *report, const struct th_comparison *c,
                               struct th_error *err)
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
        struct net net;
        const enum th_code code = net_range(c, i, &c->results[0], &net, err);
        if (code != TH_OK)
            return code;
        th_figure_name(report, c->offers[i].buy.name);
        th_figure_mark(report, TH_MARK_BAND, TH_INK_HEAT, NULL);
        th_figure_span(report, i, net.low_usd, net.high_usd);
        th_figure_mark(report, TH_MARK_DOT, TH_INK_HEAT, NULL);
        th_figure_point(report, i, net.usd);
    }
    return TH_OK;
}

enum th_code th_comparison_money(struct th_report *report, const struct th_comparison *c,
                                 struct th_error *err)
{
    if (c->n == 0)
        return TH_OK;
    th_report_section(report, "payback", "Does it pay?");
    if (!c->base->room->fuel.has_price) {
        th_report_paragraph(report, NULL, "No fuel price is given, so payback is not computed.");
        return TH_OK;
    }
    int best;
    struct th_return r;
    enum th_code code = money_table(report, c, "against_today", "Against the barn as it is",
                                    &c->results[0].trial, err);
    if (code == TH_OK && c->free.found)
        code =
            money_table(report, c, "against_free", "Against the free choice, both at the same mean",
                        th_judged(c->free_result), err);
    if (code == TH_OK)
        code = best_offer(c, &best, &r, err);
    if (code == TH_OK)
        code = flip_table(report, c, best, err);
    if (code == TH_OK)
        code = net_figure(report, c, err);
    if (code == TH_OK)
        code = price_figure(report, c, err);
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
    return code;
}

static bool flips(const struct net *net)
{
    return (net->low_usd > 0.0) != (net->high_usd > 0.0);
}

static const char *dollars(char text[TH_SHOWN_MAX], double usd)
{
    return th_show_with_unit(text, th_number(usd), TH_SIG3, "$");
}

enum answer { SETTINGS_FIRST, IT_DEPENDS, YES, NO };

static enum answer answer_of(const struct th_comparison *c, const struct net *today,
                             const struct net *settings)
{
    if (today->high_usd > 0.0 && c->free.found && settings->high_usd <= 0.0)
        return SETTINGS_FIRST;
    if (flips(today) || (c->free.found && flips(settings)))
        return IT_DEPENDS;
    return today->usd > 0.0 ? YES : NO;
}

/* What the purchase is worth beside the free choice; nothing without one. */
static void say_settings(char *text, size_t size, const struct th_comparison *c,
                         const struct net *net)
{
    char now[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    text[0] = '\0';
    if (c->free.found)
        snprintf(text, size,
                 " Better settings of the present heaters cost nothing; against them, as warm, it "
                 "comes to %s (%s to %s).",
                 dollars(now, net->usd), dollars(low, net->low_usd), dollars(high, net->high_usd));
}

static void say_verdict(struct th_report *report, const struct th_comparison *c, int i,
                        const char *key, const struct net *today, const struct net *settings)
{
    static const char *const words[] = {[SETTINGS_FIRST] = "Settings first",
                                        [IT_DEPENDS] = "It depends",
                                        [YES] = "Yes",
                                        [NO] = "No"};
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    const struct th_choice_result *result = &c->results[i + 1];
    const double saved =
        th_comparison_units(c, &c->results[0].trial) - th_comparison_units(c, th_judged(result));
    const enum answer answer = answer_of(c, today, settings);
    char gas[TH_SHOWN_MAX], net[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX], more[256];
    say_settings(more, sizeof more, c, settings);
    th_report_paragraph(
        report, key,
        "%s: %s %s %s in a mean season at the same %s, and comes to %s net over %d years at "
        "$%.2f/%s; %s to %s over what is not known of the room's overshoot and its first fan "
        "stage.%s%s",
        words[answer], c->offers[i].buy.name, saved >= 0.0 ? "saves about" : "costs about",
        th_show_with_unit(gas, th_number(fabs(saved)), TH_SIG2, unit->unit),
        result->same_mean.state == TH_SAME_MEAN_FOUND ? "mean temperature" : "settings",
        dollars(net, today->usd), c->base->room->money.years, c->base->room->fuel.price, unit->unit,
        dollars(low, today->low_usd), dollars(high, today->high_usd), more,
        answer == IT_DEPENDS ? " The sign changes within that range: read the overshoot off your "
                               "own room before you buy."
                             : "");
}

static enum th_code verdict_on(struct th_report *report, const struct th_comparison *c, int i,
                               const char *key, struct th_error *err)
{
    struct net today = {0}, settings = {0};
    enum th_code code = net_range(c, i, &c->results[0], &today, err);
    if (code == TH_OK)
        code = net_range(c, i, c->free_result, &settings, err);
    if (code == TH_OK)
        say_verdict(report, c, i, key, &today, &settings);
    return code;
}

static bool modulates(const struct th_room *room)
{
    for (int i = 0; i < room->n_heaters; i++)
        if (room->heaters[i].control == TH_MODULATING && room->heaters[i].units > 0)
            return true;
    return false;
}

/* The choice with the highest net savings first, then every other variable-output choice. */
enum th_code th_comparison_verdict(struct th_report *report, const struct th_comparison *c,
                                   struct th_error *err)
{
    int best;
    struct th_return r;
    th_report_section(report, "verdict", "Verdict");
    if (c->n == 0 || !c->base->room->fuel.has_price) {
        th_report_paragraph(report, "best",
                            c->n == 0 ? "No choices are given."
                                      : "Without a fuel price there is no verdict on money; see "
                                        "what each choice saves.");
        return TH_OK;
    }
    enum th_code code = best_offer(c, &best, &r, err);
    if (code == TH_OK)
        code = verdict_on(report, c, best, "best", err);
    for (int i = 0; i < c->n && code == TH_OK; i++) {
        char key[32];
        snprintf(key, sizeof key, "variable_output_%d", i + 1);
        if (i != best && modulates(&c->offers[i].room))
            code = verdict_on(report, c, i, key, err);
    }
    return code;
}
