/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "budget_report.h"

#include "air_text.h"
#include "cautions.h"
#include "fuel_unit.h"
#include "outlook_text.h"
#include "overshoot_text.h"
#include "risk_text.h"
#include "season_text.h"
#include "spread_text.h"
#include "winters_text.h"
#include "turnheat/calendar.h"
#include "turnheat/normals.h"
#include "turnheat/sizing.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define HOURS_TEXT_MAX 64
/* Of a season's hours: more are called many (our judgement). */
#define MANY_SHARE 0.01
/* Dips of the swing below the comfort limit up to this are told apart from real cold. */
#define SMALL_DIP_K (1.0 * TH_K_PER_F)
#define MOSTLY_TENTHS 7.0

/* Heaters are told to be too large where so much of the gas is thrown out after they overshoot, and
   no hour takes more than this share of them (our judgement). */
#define LARGE_WASTE 0.2
#define LARGE_LIT 0.75

/* Never "0 hours": what is warned of happens in some winter. */
static const char *hours_text(double hours, char text[HOURS_TEXT_MAX])
{
    if (hours < 0.5)
        snprintf(text, HOURS_TEXT_MAX, "less than an hour");
    else
        snprintf(text, HOURS_TEXT_MAX, "%s hour%s", th_whole(hours).text, hours < 1.5 ? "" : "s");
    return text;
}

/* Of the hours in which the low of the swing lies below the comfort limit those within 1 °F of it,
 * in tenths, by the winter that is kept hour by hour. */
static double small_dips(const struct th_budget *budget)
{
    size_t dips = 0, small = 0;
    for (size_t i = 0; i < budget->n_hours; i++) {
        const double dip_k = budget->hours[i].comfort_c - budget->hours[i].feel_low_c;
        dips += dip_k > 0.0;
        small += dip_k > 0.0 && dip_k <= SMALL_DIP_K;
    }
    return dips > 0 ? floor(10.0 * (double)small / (double)dips) : 0.0;
}

/* Where the swing dips below comfort in many hours: by how little, mostly, or too cold. */
static void say_dips(struct th_report *report, const struct th_budget *budget, double cold_h,
                     double season_h)
{
    const char *name = budget->one->room->name;
    const double small = small_dips(budget);
    char hours[HOURS_TEXT_MAX];
    if (small >= MOSTLY_TENTHS)
        th_report_top_line(report,
                           "%s: the pigs are warm enough but for about %s of the %s of a mean "
                           "season, %s of which the low of the swing lies within 1 °F of their "
                           "comfort limit.",
                           name, hours_text(cold_h, hours), th_whole(season_h).text,
                           small >= 9.0 ? "in nearly all" : "in most");
    else
        th_report_top_line(report,
                           "%s: the pigs are too cold at times: in %s of the %s of a mean season "
                           "the low of the swing lies below their comfort limit, in %s of them by "
                           "more than 1 °F.",
                           name, hours_text(cold_h, hours), th_whole(season_h).text,
                           small >= 5.0 ? "some" : "most");
}

/* A real cold night stands out from dips: how far below comfort, when, and what pigs. */
static void say_coldest(struct th_report *report, const struct th_budget *budget,
                        const struct th_tally *t)
{
    const struct th_budget_cold *cold = &budget->coldest;
    char hours[HOURS_TEXT_MAX], name[TH_SEASON_NAME_MAX], out[TH_SHOWN_MAX];
    if (cold->year == 0)
        return;
    const struct th_date day = th_date_of(th_day_of_hour(cold->hour_number));
    th_year_name(cold->year, budget->one->climate->typical, name);
    th_report_top_line(
        report,
        "In the coldest spells they lie more than 5 °F below it, %s of a mean season. Worst of the "
        "winters looked at: %.1f °F below, on %s %d at %02d:00 of %s, pigs of %.0f lb, %s "
        "outdoors.",
        hours_text(t->sum[TH_COLD_DEEP] / budget->winters.n_counted, hours),
        cold->below_k / TH_K_PER_F, th_month_in_prose(day.month - 1), day.day,
        th_hour_of_day(cold->hour_number), name, cold->mass_kg / TH_KG_PER_LB,
        th_show_with_unit(out, th_number(th_f_from_c(cold->out_c)), TH_TENTHS, "°F"));
}

/* In the answer: what the season is like for the pigs. */
static void say_pigs(struct th_report *report, const struct th_budget *budget)
{
    const char *name = budget->one->room->name;
    struct th_tally t;
    char hours[HOURS_TEXT_MAX];
    th_winters_total(&budget->winters, &t);
    const double season_h = t.sum[TH_HOURS] / budget->winters.n_counted;
    const double cold_h = t.sum[TH_BELOW_COMFORT] / budget->winters.n_counted;
    const double unmet_h = t.sum[TH_UNMET] / budget->winters.n_counted;
    if (unmet_h > MANY_SHARE * season_h)
        th_report_top_line(report,
                           "%s: these heaters cannot hold the room in %s of a mean season; the "
                           "gallons are what they can burn, not what the pigs need. What they need "
                           "is told by turnheat size.",
                           name, hours_text(unmet_h, hours));
    if (t.sum[TH_BELOW_COMFORT] <= 0.0)
        th_report_top_line(report, "%s: the pigs are warm enough in every hour.", name);
    else if (th_tally_cold_kh(&t) <= 0.0)
        th_report_top_line(
            report,
            "%s: the pigs are warm enough on the mean of every hour; between two "
            "firings the room dips below their comfort limit in %s of a mean season.",
            name, hours_text(cold_h, hours));
    else if (cold_h <= MANY_SHARE * season_h)
        th_report_top_line(report,
                           "%s: the pigs are warm enough but for about %s of a mean season.", name,
                           hours_text(cold_h, hours));
    else
        say_dips(report, budget, cold_h, season_h);
    say_coldest(report, budget, &t);
}

/* Heaters far above what the room takes, and what that costs: gas that the fans throw out. */
static void say_oversized(struct th_report *report, const struct th_room *room,
                          const struct th_winters *winters, const struct th_tally *t)
{
    char installed[TH_SHOWN_MAX], taken[TH_SHOWN_MAX], wasted[TH_SHOWN_MAX];
    const double installed_w = th_sizing_installed_w(room, NULL);
    const double wasted_j = t->sum[TH_GAS_RAMP], share = wasted_j / th_tally_gas_j(t);
    if (!(share >= LARGE_WASTE) || t->peak_gas_w > LARGE_LIT * installed_w)
        return;
    th_show_with_unit(installed, th_number(installed_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h");
    th_show_with_unit(taken, th_number(t->peak_gas_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h");
    th_show_with_unit(wasted,
                      th_number(room->copies * wasted_j / winters->n_counted / room->fuel.hhv_j),
                      TH_SIG2, th_fuel_unit(&room->fuel)->unit);
    th_report_warning(
        report,
        "%s: heaters of %s are far more than the room takes, which was %s in its hardest hour. "
        "They overshoot, and the fans throw out %.0f %% of the gas, about %s a winter. Smaller "
        "heaters, or fewer lit at a time, save part of it; size says what is needed, compare what "
        "that saves.",
        room->name, installed, taken, 100.0 * share, wasted);
}

static void warn(struct th_report *report, const struct th_budget *budget)
{
    const struct th_case *one = budget->one;
    const struct th_winters *winters = &budget->winters;
    const struct th_tally *air = &budget->air;
    struct th_tally t;
    char hours[HOURS_TEXT_MAX];
    th_report_doubts(report, one->room);
    th_winters_total(winters, &t);
    if (t.sum[TH_UNMET] > 0.0)
        th_report_warning(report,
                          "%s: the heaters could not keep up in %s of a mean season, %s "
                          "degree-hours (°F) short.",
                          one->room->name, hours_text(t.sum[TH_UNMET] / winters->n_counted, hours),
                          th_whole(1.8 * t.sum[TH_UNMET_KH] / winters->n_counted).text);
    if (air->sum[TH_OVER_CO2_WORKER] > 0.0)
        th_report_warning(
            report,
            "%s: CO2 passed the limit for people in %s of a mean season. Measure it before "
            "anyone stays in there; vent the heaters, or move more air with heaters that can warm "
            "it.",
            one->room->name, hours_text(air->sum[TH_OVER_CO2_WORKER], hours));
    say_oversized(report, one->room, winters, &t);
    th_report_bad_air(report, one->room, air, &budget->hold_air);
    th_report_thin_weather(report, one);
    th_report_few_winters(report, one, winters->n_counted);
}

static enum th_code barn_spread(struct th_report *report, const struct th_budget *budget,
                                struct th_error *err)
{
    const double base_j = th_tally_gas_j(&budget->middle->total);
    if (base_j <= 0.0)
        return TH_OK;
    th_report_section(report, "barn_spread", "What the barn itself leaves open");
    th_report_paragraph(
        report, NULL,
        "The seasons above spread by weather. The barn's own numbers are not known "
        "exactly either; here one by one, on the season nearest the mean. The answer on top "
        "draws them together with the winters.%s",
        budget->learnt ? " Each is moved as far as it might be off before anything was measured."
                       : "");
    th_report_risk(report, budget->one->room, base_j, budget->ranges);
    return th_report_overshoot(report, budget->one->room, err);
}

static enum th_code room_report(struct th_report *report, const struct th_budget *budget,
                                struct th_error *err)
{
    const struct th_case *one = budget->one;
    const struct th_room *room = one->room;
    const struct th_winters *winters = &budget->winters;
    say_pigs(report, budget);
    warn(report, budget);
    enum th_code code = th_budget_seasons(report, one, winters, err);
    if (code != TH_OK)
        return code;
    th_report_fact(report, "fan_floor_gal", "Of it, for fans that cannot turn down",
                   th_fuel_unit(&room->fuel)->unit, TH_BULK,
                   th_number(budget->fan_floor_j * room->copies / room->fuel.hhv_j));
    th_budget_turns(report, one, winters);
    th_budget_months(report, one, winters);
    code = th_budget_month_figure(report, one, winters, err);
    if (code != TH_OK)
        return code;
    th_budget_hour_figures(report, budget);
    th_budget_heat(report, one, winters);
    th_budget_heat_figure(report, winters);
    code = th_budget_pigs(report, one, winters, err);
    if (code != TH_OK)
        return code;
    code = barn_spread(report, budget, err);
    th_budget_inputs(report, one);
    return code == TH_OK ? th_budget_balances(report, one, winters, err) : code;
}

/* Gas of each season summed over rooms, for the seasons that all rooms count. */
static enum th_code sum_report(struct th_report *report, const struct th_budget *budgets, int n,
                               struct th_error *err)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&budgets[0].one->room->fuel);
    const struct th_winters *first = &budgets[0].winters;
    double *gas = malloc((size_t)first->n * sizeof *gas);
    size_t n_seasons = 0;
    if (!gas)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int i = 0; i < first->n; i++) {
        bool counted = true;
        double sum = 0.0;
        for (int room = 0; room < n && counted; room++) {
            const struct th_room *of = budgets[room].one->room;
            const struct th_season *season =
                th_winters_season(&budgets[room].winters, first->seasons[i].year);
            counted = season && season->counted;
            if (counted)
                sum += of->copies * th_tally_gas_j(&season->total) / of->fuel.hhv_j;
        }
        if (counted)
            gas[n_seasons++] = sum;
    }
    struct th_spread spread;
    enum th_code code = TH_OK;
    th_report_section(report, "farm", "All rooms together");
    if (n_seasons > 0) {
        code = th_spread_of(n_seasons, gas, &spread, err);
        th_report_spread(report, "gas", "gal", unit->name, unit->unit, TH_SIG3, &spread,
                         th_climate_generated(budgets[0].one->climate));
    } else {
        th_report_paragraph(report, NULL, "No season is counted in every room.");
    }
    free(gas);
    return code;
}

static bool same_fuel(const struct th_budget *budgets, int n)
{
    for (int i = 1; i < n; i++)
        if (budgets[i].one->room->fuel.gas != budgets[0].one->room->fuel.gas)
            return false;
    return true;
}

enum th_code th_budget_report(struct th_report *report, const struct th_budget *budgets, int n,
                              const struct th_answer *answer, struct th_error *err)
{
    enum th_code code = TH_OK;
    th_report_title(report, "Heating fuel budget");
    if (answer) {
        th_report_answer(report, answer);
        th_report_answer_facts(report, answer);
    }
    for (int i = 0; i < n && code == TH_OK; i++) {
        th_report_part(report, "rooms", budgets[i].one->room->name);
        code = room_report(report, &budgets[i], err);
        th_report_part_end(report);
    }
    if (code == TH_OK && n > 1 && same_fuel(budgets, n))
        code = sum_report(report, budgets, n, err);
    th_report_cautions(report);
    return code;
}
