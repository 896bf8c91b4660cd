/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare_report.h"

#include "air_text.h"
#include "balance_text.h"
#include "cautions.h"
#include "figure.h"
#include "fuel_unit.h"
#include "overshoot_text.h"
#include "season_text.h"
#include "winters_text.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

#define FREE_CHOICE "free choice: settings alone"
#define WORDS_MAX 320

const char *th_compared_name(const struct th_comparison *c, int i)
{
    return i == 0 ? "as it is" : i > c->n ? FREE_CHOICE : c->choices[i - 1].buy.name;
}

int th_compared_count(const struct th_comparison *c)
{
    return c->free.found ? c->n + 2 : c->n + 1;
}

/* What a mean season's fuel costs: a choice may burn another fuel or at another price. */
static double cost_usd(const struct th_comparison *c, int i)
{
    const struct th_trial *trial = &c->results[i].trial;
    const bool choice = i > 0 && i <= c->n;
    return c->base->room->fuel.price *
           (choice ? th_comparison_choice_units(c, i - 1, trial) : th_comparison_units(c, trial));
}

static void settings_row(struct th_report *report, const struct th_comparison *c, int i)
{
    const struct th_room *room = c->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    const struct th_trial *trial = &c->results[i].trial;
    const double *sum = trial->mean.sum;
    const double to_units = room->copies / room->fuel.hhv_j;
    const double parts[] = {
        th_comparison_units(c, trial), to_units * (sum[TH_GAS_HEATERS] - sum[TH_GAS_RAMP]),
        to_units * sum[TH_GAS_RAMP], to_units * sum[TH_GAS_PILOTS], to_units * sum[TH_GAS_ZONE]};
    const char *const keys[] = {"gas_gal", "load_gal", "ramp_gal", "pilot_gal", "zone_gal"};
    static const char *const labels[] = {"Gas", "for the load", "thrown out", "pilots",
                                         "zone heat"};
    const bool run = !c->results[i].refused[0];
    th_report_row(report);
    th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(th_compared_name(c, i)));
    for (size_t k = 0; k < sizeof parts / sizeof *parts; k++)
        th_report_cell(report, keys[k], labels[k], unit->unit, TH_BULK,
                       th_number_if(run, parts[k]));
    th_report_cell(report, "cost_usd", "Cost", "$", TH_SIG3,
                   th_number_if(run && room->fuel.has_price, cost_usd(c, i)));
}

static void settings_table(struct th_report *report, const struct th_comparison *c)
{
    th_report_table(report, "same_settings", "Mean season at the same settings");
    for (int i = 0; i < th_compared_count(c); i++)
        settings_row(report, c, i);
}

static void running_row(struct th_report *report, const struct th_comparison *c, int i)
{
    const double copies = c->base->room->copies;
    const struct th_trial *trial = &c->results[i].trial;
    const struct th_tally *t = &trial->mean;
    const bool run = !c->results[i].refused[0], heated = run && t->sum[TH_HEAT_WANTED] > 0.0;
    th_report_row(report);
    th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(th_compared_name(c, i)));
    th_report_cell(report, "heater_hours_h", "Heater-hours", "h", TH_SIG3,
                   th_number_if(run, copies * t->sum[TH_HEATER_HOURS]));
    th_report_cell(report, "starts_count", "Starts", "", TH_SIG3,
                   th_number_if(run, copies * t->sum[TH_STARTS]));
    th_report_cell(report, "electricity_kwh", "Blowers", "kWh", TH_SIG3,
                   th_number_if(run, copies * t->sum[TH_ELECTRICITY] / TH_J_PER_KWH));
    th_report_cell(report, "heated_mean_f", "Mean while heating", "°F", TH_TENTHS,
                   th_number_if(heated, th_f_from_c(th_trial_heated_c(trial))));
    th_report_cell(report, "room_lowest_f", "Lowest", "°F", TH_TENTHS,
                   th_number_if(run, th_f_from_c(t->lowest_c)));
    th_report_cell(report, "room_highest_f", "Highest", "°F", TH_TENTHS,
                   th_number_if(run, th_f_from_c(t->highest_heated_c)));
    th_report_cell(report, "below_comfort_h", "Low of swing below comfort", "h", TH_WHOLE,
                   th_number_if(run, t->sum[TH_BELOW_COMFORT]));
    th_report_cell(report, "unmet_h", "Short of heat", "h", TH_WHOLE,
                   th_number_if(run, t->sum[TH_UNMET]));
}

static void running_table(struct th_report *report, const struct th_comparison *c)
{
    th_report_table(report, "running", "How the heaters run and what the pigs feel");
    for (int i = 0; i < th_compared_count(c); i++)
        running_row(report, c, i);
}

/* One sum of a mean season for the barn as it is and each choice. */
static void work_figure(struct th_report *report, const struct th_comparison *c,
                        enum th_tally_item item, const char *caption, const char *unit)
{
    th_figure(report,
              &(struct th_figure){.caption = caption,
                                  .reading = "A mean season, all rooms added up. Grey: the "
                                             "heaters as they are.",
                                  .along = {.kind = TH_AXIS_NAMES_DOWN},
                                  .value = {.unit = unit, .format = TH_SIG3, .from_zero = true}});
    for (int i = 0, at = 0; i <= c->n; i++) {
        if (c->results[i].refused[0])
            continue;
        th_figure_name(report, th_compared_name(c, i));
        th_figure_mark(report, TH_MARK_BAR, i == 0 ? TH_INK_PLAIN : TH_INK_HEAT, NULL);
        th_figure_point(report, at++, c->base->room->copies * c->results[i].trial.mean.sum[item]);
    }
}

static void running_figures(struct th_report *report, const struct th_comparison *c)
{
    work_figure(report, c, TH_HEATER_HOURS, "How long the heaters run", "h");
    work_figure(report, c, TH_STARTS, "How often they start", "");
}

void th_compared_range(const struct th_choice_result *result, double *low_j, double *high_j)
{
    *low_j = *high_j = result->saved_j[0];
    for (int r = 1; r < TH_RESPONSE_CASES; r++) {
        *low_j = fmin(*low_j, result->saved_j[r]);
        *high_j = fmax(*high_j, result->saved_j[r]);
    }
}

/* What moving ON and OFF by one warmth gives. */
static void as_warm_cells(struct th_report *report, const struct th_comparison *c,
                          const struct th_choice_result *r, enum th_warmth by,
                          const char *const keys[2], const char *const labels[2])
{
    const struct th_as_warm *w = &r->as_warm[by];
    const bool found = !r->refused[0] && !w->why_not;
    const double saved =
        th_comparison_units(c, &c->results[0].trial) - th_comparison_units(c, &w->trial);
    th_report_cell(report, keys[0], labels[0], "°F", TH_HUNDREDTHS,
                   th_number_if(found, w->shift_k / TH_K_PER_F));
    th_report_cell(report, keys[1], labels[1], th_fuel_unit(&c->base->room->fuel)->unit, TH_BULK,
                   th_number_if(found, saved));
}

static void saving_row(struct th_report *report, const struct th_comparison *c, int i)
{
    static const char *const mean_keys[] = {"shift_f", "saved_same_mean_gal"};
    static const char *const mean[] = {"ON, OFF moved for the same mean", "Saved, same mean"};
    static const char *const trough_keys[] = {"shift_trough_f", "saved_same_trough_gal"};
    static const char *const trough[] = {"ON, OFF moved for the same low", "Saved, same low"};
    const struct th_choice_result *r = &c->results[i];
    const char *const unit = th_fuel_unit(&c->base->room->fuel)->unit;
    const double to_units = c->base->room->copies / c->base->room->fuel.hhv_j;
    const double base = th_comparison_units(c, &c->results[0].trial);
    const double free = th_comparison_units(c, th_judged(c->free_result));
    const bool run = !r->refused[0];
    double low_j, high_j;
    th_compared_range(r, &low_j, &high_j);
    th_report_row(report);
    th_report_cell(report, "choice", "Choice", "", TH_PLAIN, th_text(th_compared_name(c, i)));
    th_report_cell(report, "saved_gal", "Saved, same settings", unit, TH_BULK,
                   th_number_if(run, base - th_comparison_units(c, &r->trial)));
    as_warm_cells(report, c, r, TH_BY_MEAN, mean_keys, mean);
    as_warm_cells(report, c, r, TH_BY_TROUGH, trough_keys, trough);
    th_report_cell(report, "saved_lowest_gal", "at the least", unit, TH_BULK,
                   th_number_if(run, to_units * low_j));
    th_report_cell(report, "saved_highest_gal", "at the most", unit, TH_BULK,
                   th_number_if(run, to_units * high_j));
    th_report_cell(report, "saved_against_free_gal", "Saved against free choice", unit, TH_BULK,
                   th_number_if(run && c->free.found && r != c->free_result,
                                free - th_comparison_units(c, th_judged(r))));
}

/* Nothing where there is none: `why_not` NULL. */
static void say_dash(struct th_report *report, const char *choice, const char *what,
                     const char *why_not)
{
    if (why_not)
        th_report_item(report, "%s, %s: a dash, since %s.", choice, what, why_not);
}

/* Why a choice, or one of its cells, is a dash. */
static void say_dashes(struct th_report *report, const struct th_comparison *c)
{
    static const char *const what[] = {[TH_BY_MEAN] = "same mean", [TH_BY_TROUGH] = "same low"};
    for (int i = 1; i < th_compared_count(c); i++) {
        const struct th_choice_result *r = &c->results[i];
        if (r->refused[0])
            th_report_item(report, "%s: a dash, since %s.", th_compared_name(c, i), r->refused);
        else if (r->as_warm[TH_BY_MEAN].why_not == r->as_warm[TH_BY_TROUGH].why_not)
            say_dash(report, th_compared_name(c, i), "same mean and same low",
                     r->as_warm[TH_BY_MEAN].why_not);
        else
            for (int by = 0; by < TH_WARMTHS; by++)
                say_dash(report, th_compared_name(c, i), what[by], r->as_warm[by].why_not);
    }
}

/* Whether the block leaves winters out. */
static bool block_is_part(const struct th_comparison *c)
{
    const struct th_trial *all = &c->results[0].trial;
    return c->block.first_year != all->years[0] || c->block.last_year != all->years[all->n - 1];
}

static void saving_table(struct th_report *report, const struct th_comparison *c)
{
    th_report_table(report, "savings", "What each choice saves in a mean season");
    for (int i = 1; i < th_compared_count(c); i++)
        saving_row(report, c, i);
    say_dashes(report, c);
    th_report_paragraph(
        report, NULL,
        "ON and OFF are moved together until, over the hours in which the present heaters fire, "
        "the room is as warm as today: on average (same mean), or at the low of its swings, hours "
        "short of heat left out (same low). The one that saves less decides; where the same mean "
        "cannot be had, the same settings stand in for it, as they do for a choice that leaves "
        "heaters, settings and the first fan stage as they are. At the least and at the most: the "
        "room "
        "overshoots %s as far as taken "
        "here, or its first fan stage is 0.7 or 1.4 times as large. Against the free choice: both "
        "as warm as today. Thrown out: heat that the first fan stage blows out because the heaters "
        "overshoot.",
        c->base->room->response.has_overshoot ? "0.75 or 1.25 times" : "half or twice");
    if (block_is_part(c))
        th_report_paragraph(report, NULL,
                            "With so many winters the ranges and the shifts of the offsets are "
                            "found on the five around the middle one and scaled to all; what costs "
                            "gallons on all, of every fifth hour.");
}

/* The free choice where the air is held; "" without such a comparison. */
static const char *held_settings(char words[WORDS_MAX], const struct th_comparison *held)
{
    char ceilings[TH_CEILINGS_MAX];
    words[0] = '\0';
    if (!held || !held->free.found)
        return words;
    const double saved = th_comparison_units(held, &held->results[0].trial) -
                         th_comparison_units(held, th_judged(held->free_result));
    if (!(saved > 0.0))
        return words;
    snprintf(words, WORDS_MAX,
             " With the fans holding %s the best settings would be OFF %.1f and ON %.1f °F "
             "below set point, %d units%s, and save %s %s with the room as warm as today.",
             th_ceilings_words(ceilings, &held->base->room->air), held->free.off_k / TH_K_PER_F,
             held->free.on_k / TH_K_PER_F, held->free.units,
             held->free.lead_lag ? " one after the other" : "", th_whole(saved).text,
             th_fuel_unit(&held->base->room->fuel)->unit);
    return words;
}

/* Whether the settings hold the design day with one unit out. */
static void one_out(struct th_report *report, const struct th_comparison *c)
{
    th_report_fact(report, "design_f", "With one unit out enough outdoors at", "°F", TH_TENTHS,
                   th_number_if(c->free.one_out_holds, th_f_from_c(c->design_out_c)));
    if (!c->free.one_out_holds)
        th_report_paragraph(report, NULL,
                            "With one unit out the heaters do not hold the 99 %% design day, "
                            "%s °F outdoors.",
                            th_whole(th_f_from_c(c->design_out_c)).text);
}

/* What speaks against the settings that were found, "the heaters could then ...". */
static void against_settings(char words[WORDS_MAX], const struct th_comparison *c)
{
    const struct th_choice_result *r = &c->results[c->n + 1];
    char hours[TH_MORE_HOURS_MAX], air[TH_AIR_ADDED_MAX];
    if (c->free.harm == TH_HARM_HEAT && r->falls_short)
        snprintf(words, WORDS_MAX, "what is then lit gives less than the design day needs");
    else if (c->free.harm == TH_HARM_HEAT)
        snprintf(words, WORDS_MAX, "the heaters could then not keep up in %s of a winter",
                 th_more_hours(hours, r->added.unmet_h));
    else if (c->free.harm == TH_HARM_COLD)
        snprintf(words, WORDS_MAX,
                 "as warm as today on average, the pigs lie %s more °F hours below their comfort "
                 "limit in the worst turn",
                 th_whole((r->added.young_kh + r->added.later_kh) / TH_K_PER_F).text);
    else
        snprintf(words, WORDS_MAX,
                 "with less heat blown out there is less air as well, in the worst turn %s",
                 th_air_added_words(air, "today", &c->base->room->air, &r->added));
}

/* No settings found, or some that harm. */
static void say_no_free_choice(struct th_report *report, const struct th_comparison *c,
                               const struct th_comparison *held)
{
    char why[WORDS_MAX], with_air[WORDS_MAX];
    if (c->free.harm == TH_HARM_NONE) {
        th_report_paragraph(
            report, "free_choice_text",
            "No other ON/OFF offset, lead-lag order or number of units lit was found "
            "that burns less without more hours below the comfort limit.");
        return;
    }
    against_settings(why, c);
    th_report_paragraph(report, "free_choice_text",
                        "Leave the settings as they are. What burns least of those tried, OFF %.1f "
                        "and ON %.1f °F below set point, %d heater%s lit%s, is no advice: %s. "
                        "Nothing here is measured against it.%s",
                        c->free.off_k / TH_K_PER_F, c->free.on_k / TH_K_PER_F, c->free.units,
                        c->free.units == 1 ? "" : "s",
                        c->free.lead_lag ? " one after the other" : "", why,
                        held_settings(with_air, held));
}

static void free_section(struct th_report *report, const struct th_comparison *c,
                         const struct th_comparison *held)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    const struct th_trial *free = &c->free_result->trial;
    th_report_section(report, "free_choice", "The free choice: settings alone");
    if (!c->free.found) {
        say_no_free_choice(report, c, held);
        return;
    }
    const double saved =
        th_comparison_units(c, &c->results[0].trial) - th_comparison_units(c, free);
    th_report_fact(report, "saved_gal", "Saved in a mean season, the room cooler", unit->unit,
                   TH_BULK, th_number(saved));
    th_report_fact(report, "saved_as_warm_gal", "Saved with the room as warm as today", unit->unit,
                   TH_BULK,
                   th_number(th_comparison_units(c, &c->results[0].trial) -
                             th_comparison_units(c, th_judged(c->free_result))));
    th_report_fact(report, "off_below_f", "OFF below set point", "°F", TH_TENTHS,
                   th_number(c->free.off_k / TH_K_PER_F));
    th_report_fact(report, "on_below_f", "ON below set point", "°F", TH_TENTHS,
                   th_number(c->free.on_k / TH_K_PER_F));
    th_report_fact(report, "units_count", "Units lit", "", TH_WHOLE, th_number(c->free.units));
    th_report_fact(report, "lead_lag", "One after the other (lead-lag)", "", TH_PLAIN,
                   th_bool(c->free.lead_lag));
    th_report_fact(report, "mean_drop_f", "Room cooler while heating, on average", "°F", TH_TENTHS,
                   th_number((th_trial_heated_c(&c->results[0].trial) - th_trial_heated_c(free)) /
                             TH_K_PER_F));
    th_report_fact(report, "below_comfort_h", "Low of the swing below the comfort limit", "h",
                   TH_WHOLE, th_number(free->mean.sum[TH_BELOW_COMFORT]));
    one_out(report, c);
    th_report_paragraph(report, NULL,
                        "Try it on a cold day with a thermometer at pig level and watch the pigs, "
                        "not the meter: piling means too cold. Air is never part of this choice.");
}

static void cost_section(struct th_report *report, const struct th_comparison *c)
{
    const struct th_room *room = c->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    const double base_j = th_trial_gas_j(&c->results[0].trial);
    th_report_section(report, "costs", "What costs you gallons");
    th_report_table(report, "costs", "One change at a time to the barn as it is");
    for (int i = 0; i < TH_COST_COUNT; i++) {
        const double units = room->copies * c->cost_j[i] / room->fuel.hhv_j;
        th_report_row(report);
        th_report_cell(report, "what", "What costs you gallons", "", TH_PLAIN,
                       th_text(th_cost_text((enum th_cost_kind)i)));
        th_report_cell(report, "gas_gal", "A season", unit->unit, TH_BULK, th_number(units));
        th_report_cell(report, "share_pct", "Of today's", "%", TH_WHOLE,
                       th_number_if(base_j > 0.0, 100.0 * c->cost_j[i] / base_j));
        th_report_cell(report, "cost_usd", "Cost", "$", TH_SIG3,
                       th_number_if(room->fuel.has_price, units * room->fuel.price));
    }
    if (!th_held_air_heated(&c->held_air))
        th_report_paragraph(
            report, NULL,
            "Humidity and CO2 held: what the heaters there can burn of it. It takes "
            "more, and until heaters give that the room would be too cold for pigs.");
}

static void zone_words(struct th_report *report, const struct th_zone_curve *zone)
{
    char saves[96], stops[96];
    snprintf(saves, sizeof saves, "It saves most with about %.0f units", zone->best_units);
    snprintf(stops, sizeof stops, "stops saving at about %.0f", zone->lost_at_units);
    if (zone->lost_at_units == 0.0)
        snprintf(stops, sizeof stops, "still saves with %.0f", zone->units[TH_ZONE_STEPS - 1]);
    th_report_paragraph(report, NULL,
                        "%s and %s. Its worth is the pigs' start, not the fuel; fewer units leave "
                        "pigs outside the warm zone.",
                        zone->best_units > 0.0 ? saves : "It saves no fuel with any number tried",
                        zone->best_units > 0.0 ? stops : "burns least without");
}

/* For choices that add zone heat: what each saves by number of units. */
static void zone_section(struct th_report *report, const struct th_comparison *c)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&c->base->room->fuel);
    bool any = false;
    for (int i = 0; i < c->n; i++)
        any |= c->zone[i].run;
    if (!any)
        return;
    th_report_section(report, "zone", "Zone heat");
    th_report_table(report, "zone_units", "What zone heat saves by number of units");
    for (int i = 0; i < c->n; i++)
        for (int step = 0; step < TH_ZONE_STEPS && c->zone[i].run; step++) {
            th_report_row(report);
            th_report_cell(report, "choice", "Choice", "", TH_PLAIN,
                           th_text(c->choices[i].buy.name));
            th_report_cell(report, "units_count", "Units in a room", "", TH_WHOLE,
                           th_number(c->zone[i].units[step]));
            th_report_cell(report, "saved_gal", "Saved a season", unit->unit, TH_SIG3,
                           th_number(c->zone[i].saved_units[step]));
        }
    for (int i = 0; i < c->n; i++)
        if (c->zone[i].run)
            zone_words(report, &c->zone[i]);
}

/* The winters all choices are compared over. */
static void say_winters(struct th_report *report, const struct th_comparison *c)
{
    char names[TH_WINTER_NAMES_MAX];
    const int n = c->results[0].trial.n;
    th_winter_names(c->base, names);
    th_report_fact(report, "counted_seasons_count", "Winters compared", "", TH_WHOLE, th_number(n));
    if (th_climate_generated(c->base->climate) && n > TH_FEW_WINTERS)
        th_report_paragraph(report, "winters", "All choices over the same generated winters.");
    else
        th_report_paragraph(report, "winters", "All choices over the same winters: %s.", names);
    th_report_winter_notes(report, c->base);
    th_report_few_winters(report, c->base, n);
}

static enum th_code evidence(struct th_report *report, const struct th_comparison *c,
                             struct th_error *err)
{
    const bool measured = c->base->room->response.has_overshoot;
    th_report_section(report, "evidence", "What this rests on");
    say_winters(report, c);
    const enum th_code code = th_report_overshoot(report, c->base->room, err);
    th_report_paragraph(
        report, NULL,
        "The saving of variable-output heat is computed from one mechanism: fixed-output heaters "
        "overshoot, the first fan stage throws part of that heat out. No peer-reviewed trial in "
        "swine rooms of modulating against on/off forced-air heaters was found, so no measurement "
        "stands behind it. It rests on how far your room overshoots: in our trials at the same "
        "mean "
        "14 %% of the gas, and 2 to 3 %% with half the dead time, one heater fewer or 1 °F of "
        "overshoot.%s",
        measured ? ""
                 : " It was not measured here, so the answer is a range: measure it on a cold day "
                   "with new pigs.");
    return code;
}

/* Of the barn as it is and with each choice, added up. */
static enum th_code balance_lines(struct th_report *report, const struct th_comparison *c,
                                  struct th_error *err)
{
    struct th_tally all;
    th_tally_clear(&all);
    for (int i = 0; i <= c->n; i++)
        if (!c->results[i].refused[0])
            th_tally_add(&all, &c->results[i].trial.mean, 1.0);
    return th_report_books(report, NULL, "one room as it is and with each choice, added up", &all,
                           err);
}

enum th_code th_comparison_report(struct th_report *report, const struct th_comparison *c,
                                  const struct th_comparison *held, struct th_error *err)
{
    th_report_doubts(report, c->base->room);
    th_report_bad_air(report, c->base->room, &c->results[0].trial.mean, &c->held_air);
    th_compare_answer(report, c, held);
    th_compare_verdict(report, c, held);
    th_report_thin_weather(report, c->base);
    th_report_thin_design(report, c->base);
    th_report_section(report, "choices", "The choices");
    th_compare_comfort(report, c);
    settings_table(report, c);
    saving_table(report, c);
    running_table(report, c);
    running_figures(report, c);
    th_compare_payback(report, c);
    free_section(report, c, held);
    zone_section(report, c);
    cost_section(report, c);
    const enum th_code code = evidence(report, c, err);
    th_report_cautions(report);
    return code == TH_OK ? balance_lines(report, c, err) : code;
}
