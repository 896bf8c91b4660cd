/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "side_by_side_report.h"

#include "air_text.h"
#include "balance_text.h"
#include "cautions.h"
#include "display.h"
#include "figure.h"
#include "fuel_unit.h"
#include "spread_text.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"
#include "winters_text.h"

#include <math.h>
#include <stdio.h>

/* Less of the fuel bill than this is no difference (as for heater choices). */
#define SAME_SHARE 0.01

static const char *name_of(const struct th_side *side)
{
    return side->one->room->name;
}

static double btuh(double w)
{
    return w / TH_W_PER_BTUH;
}

/* By the fuel bill where there are prices: the same gas may cost each side something else. */
static bool no_difference(const struct th_side_by_side *both)
{
    const struct th_side *saver = &both->sides[both->saver];
    const struct th_side *other = &both->sides[1 - both->saver];
    if (both->has_money)
        return other->fuel_usd - saver->fuel_usd < SAME_SHARE * other->fuel_usd;
    return both->same_gas && both->saved_units < SAME_SHARE * other->units;
}

/* Whether gallons tell who saves. */
static bool units_tell(const struct th_side_by_side *both)
{
    return both->same_gas && both->saved_units > 0.0;
}

/* "1,240 gal ($2,290)" of a mean winter. */
static void say_saved(const struct th_side_by_side *both, char *text, size_t size)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&both->sides[0].one->room->fuel);
    char units[TH_SHOWN_MAX] = "", dollars[TH_SHOWN_MAX] = "";
    th_show_with_unit(units, th_number(both->saved_units), TH_SIG3, unit->unit);
    th_show_with_unit(dollars, th_number(both->saved_usd), TH_SIG3, "$");
    if (!both->has_money)
        snprintf(text, size, "%s", units);
    else if (!units_tell(both))
        snprintf(text, size, "%s", dollars);
    else
        snprintf(text, size, "%s (%s)", units, dollars);
}

/* The first sentence: what a winter differs by. */
static void say_difference(struct th_report *report, const struct th_side_by_side *both)
{
    const char *saver = name_of(&both->sides[both->saver]);
    const char *other = name_of(&both->sides[1 - both->saver]);
    const struct th_fuel_unit *unit = th_fuel_unit(&both->sides[0].one->room->fuel);
    char saved[128], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    if (no_difference(both)) {
        th_report_line(report,
                       "The two burn as much as one can tell: less than 1 %% apart in a mean "
                       "winter.");
        return;
    }
    if (!both->same_gas && !both->has_money) {
        th_report_line(report,
                       "%s needs less heat of its fuel in a mean winter than %s. They burn unlike "
                       "fuels: enter the price in [fuel] of both to see who pays.",
                       saver, other);
        return;
    }
    say_saved(both, saved, sizeof saved);
    th_report_line(report, "%s burns %s less in a mean winter than %s.", saver, saved, other);
    if (!units_tell(both))
        return;
    th_show_with_unit(low, th_number(both->saved_low_units), TH_SIG3, "");
    th_show_with_unit(high, th_number(both->saved_high_units), TH_SIG3, unit->unit);
    th_report_line(
        report,
        "%s to %s in eight cases of ten, over what is not known of pigs, air, set points "
        "and the two shells.",
        low, high);
}

/* Which of the two holds: hours in which they cannot keep up, or less than the design day needs. */
static void say_short_of_heat(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_side *side = &both->sides[both->saver];
    const bool small = side->size.installed_w < side->size.worst.most_w;
    const bool late = both->added.unmet_h >= 0.5;
    char hours[TH_MORE_HOURS_MAX], installed[TH_SHOWN_MAX], most[TH_SHOWN_MAX];
    char kept[TH_MORE_HOURS_MAX + 64] = "", give[2 * TH_SHOWN_MAX + 64] = "";
    if (late)
        snprintf(kept, sizeof kept, "cannot keep up in %s of the worst winter",
                 th_more_hours(hours, both->added.unmet_h));
    if (small)
        snprintf(
            give, sizeof give, "give %s of the %s that its design day needs, one room",
            th_show(installed, th_number(btuh(side->size.installed_w)), TH_SIG3),
            th_show_with_unit(most, th_number(btuh(side->size.worst.most_w)), TH_SIG3, "Btu/h"));
    th_report_line(report, "%s is no saving: its heaters %s%s%s.", name_of(side), kept,
                   late && small ? "; they " : "", give);
}

static void say_harm(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_hardship *a = &both->added;
    const char *saver = name_of(&both->sides[both->saver]);
    char air[TH_AIR_ADDED_MAX];
    switch (both->harm) {
    case TH_HARM_HEAT:
        say_short_of_heat(report, both);
        return;
    case TH_HARM_AIR:
        th_report_line(
            report,
            "%s is no saving: it has worse air, in its worst turn %s. Give it its air, "
            "with heaters that can warm it (vented ones add no CO2 to it), and compare "
            "again.",
            saver,
            th_air_added_words(air, "the other", &both->sides[both->saver].one->room->air, a));
        return;
    case TH_HARM_COLD:
        th_report_line(report,
                       "%s is no saving: its pigs are colder, %.0f more °F hours below "
                       "their comfort limit in its worst turn.",
                       saver, (a->young_kh + a->later_kh) / TH_K_PER_F);
        return;
    case TH_HARM_NONE:
        return;
    }
}

/* Who pays, over the study. */
static void say_money(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_room *first = both->sides[0].one->room;
    const char *saver = name_of(&both->sides[both->saver]);
    const int years = first->money.years;
    char extra[TH_SHOWN_MAX], net[TH_SHOWN_MAX], low[TH_SHOWN_MAX], high[TH_SHOWN_MAX];
    char cases[TH_CASES_MAX];
    th_show_with_unit(low, th_number(both->worth_low_usd), TH_SIG3, "$");
    th_show_with_unit(high, th_number(both->worth_high_usd), TH_SIG3, "$");
    if (!both->has_first) {
        th_show_with_unit(net, th_number(both->worth_usd), TH_SIG3, "$");
        th_report_line(report,
                       "Over %d years that is worth %s today (%s to %s): so much more may it cost "
                       "to build. Enter first_cost in [money] of both barns to see who pays.",
                       years, net, low, high);
        return;
    }
    th_show_with_unit(extra, th_number(fabs(both->extra_usd)), TH_SIG3, "$");
    if (both->extra_usd <= 0.0) {
        if (both->extra_usd < 0.0)
            th_report_line(report, "%s costs %s less to build as well.", saver, extra);
        else
            th_report_line(report, "Both cost the same to build.");
        return;
    }
    th_show_with_unit(net, th_number(both->payback.net_usd), TH_SIG3, "$");
    th_show_with_unit(low, th_number(both->net_low_usd), TH_SIG3, "$");
    th_show_with_unit(high, th_number(both->net_high_usd), TH_SIG3, "$");
    th_report_line(report,
                   "It costs %s more to build. Over %d years it comes to %s net (%s to %s); it "
                   "pays in %s.",
                   extra, years, net, low, high, th_cases_of_ten(cases, both->chance));
}

/* What building costs, where no worth stands beside it. */
static void say_first_cost(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_side *a = &both->sides[0], *b = &both->sides[1];
    const bool first_dearer = a->first_usd >= b->first_usd;
    char extra[TH_SHOWN_MAX];
    th_show_with_unit(extra, th_number(fabs(a->first_usd - b->first_usd)), TH_SIG3, "$");
    if (fmin(a->first_usd, b->first_usd) > 0.0 && fabs(a->first_usd - b->first_usd) >= 0.5)
        th_report_line(report, "%s costs %s more to build than %s.", name_of(first_dearer ? a : b),
                       extra, name_of(first_dearer ? b : a));
}

static double spaces_of(const struct th_side *side)
{
    return side->one->room->copies * side->one->room->spaces;
}

static bool same_spaces(const struct th_side_by_side *both)
{
    return spaces_of(&both->sides[0]) == spaces_of(&both->sides[1]);
}

/* Of a mean winter's hours: heaters that are short in more cannot heat a room (as `budget`). */
#define UNHEATED_SHARE 0.01

static bool is_unheated(const struct th_side *side)
{
    const double *sum = side->trial.mean.sum;
    return sum[TH_UNMET] > UNHEATED_SHARE * sum[TH_HOURS];
}

/* Then gallons and dollars are of heaters that burn without a stop, not of the barns. */
static bool neither_heated(const struct th_side_by_side *both)
{
    return is_unheated(&both->sides[0]) && is_unheated(&both->sides[1]);
}

static void say_unheated(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_side *a = &both->sides[0], *b = &both->sides[1];
    th_report_line(report,
                   "Neither can be heated as it is: the heaters of %s are short in %s hours of a "
                   "mean winter, those of %s in %s. What follows is what they can burn; what the "
                   "pigs need is told by turnheat size. Give both heaters for that and compare "
                   "again.",
                   name_of(a), th_whole(a->trial.mean.sum[TH_UNMET]).text, name_of(b),
                   th_whole(b->trial.mean.sum[TH_UNMET]).text);
}

/* Whether dollars may speak: like barns that are heated, and pigs no worse off where less is
 * burned. */
static bool has_worth(const struct th_side_by_side *both)
{
    return both->has_money && same_spaces(both) && !no_difference(both) && !neither_heated(both) &&
           both->harm == TH_HARM_NONE;
}

/* Barns for unlike numbers of pigs: only what a space takes can be set side by side. */
static void say_spaces(struct th_report *report, const struct th_side_by_side *both)
{
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        if (spaces_of(s) > 0.0)
            th_report_line(report, "%s burns %.2f %s a pig space in a mean winter.", name_of(s),
                           s->units / spaces_of(s), th_fuel_unit(&s->one->room->fuel)->unit);
    }
    th_report_line(report, "They are for unlike numbers of pigs, so no dollars are set against "
                           "each other.");
}

/* The pigs come before the fuel, and the fuel before the dollars. */
static void answer(struct th_report *report, const struct th_side_by_side *both)
{
    th_report_section(report, "answer", NULL);
    if (!same_spaces(both)) {
        say_spaces(report, both);
        return;
    }
    if (neither_heated(both))
        say_unheated(report, both);
    if (!no_difference(both))
        say_harm(report, both);
    say_difference(report, both);
    if (has_worth(both))
        say_money(report, both);
    else
        say_first_cost(report, both);
    if (!both->has_money)
        th_report_line(report, "Nothing is said of dollars without a price of fuel: give it "
                               "for both barns.");
}

static void begin_row(struct th_report *report, const struct th_side *side)
{
    th_report_row(report);
    th_report_cell(report, "barn", "Barn", "", TH_PLAIN, th_text(name_of(side)));
}

/* Only the same fuel stands on one axis; one winter has no range. */
static void fuel_figure(struct th_report *report, const struct th_side_by_side *both)
{
    const bool several = both->n_winters > 1;
    if (!both->same_gas)
        return;
    th_figure(report, &(struct th_figure){
                          .caption = "What each burns in a winter",
                          .reading = several ? "All rooms alike, the barn just as given. Bar: the "
                                               "mean winter. Line: from the lowest to the highest."
                                             : "All rooms alike, the barn just as given, in the "
                                               "one winter there is.",
                          .along = {.kind = TH_AXIS_NAMES_DOWN},
                          .value = {.unit = th_fuel_unit(&both->sides[0].one->room->fuel)->unit,
                                    .format = TH_SIG3,
                                    .from_zero = true}});
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        th_figure_name(report, name_of(s));
        th_figure_mark(report, TH_MARK_BAR, TH_INK_HEAT, NULL);
        th_figure_point(report, i, s->units);
        th_figure_mark(report, TH_MARK_BAND, TH_INK_PLAIN, NULL);
        if (several)
            th_figure_span(report, i, s->lowest_units, s->highest_units);
    }
}

static void fuel_table(struct th_report *report, const struct th_side_by_side *both)
{
    th_report_section(report, "fuel", "What each burns");
    th_report_table(report, "barns", "A winter, all rooms alike added up");
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        const struct th_room *room = s->one->room;
        const char *unit = th_fuel_unit(&room->fuel)->unit;
        const double spaces = spaces_of(s);
        begin_row(report, s);
        th_report_cell(report, "unit", "in", "", TH_PLAIN, th_text(unit));
        th_report_cell(report, "mean_units", "Mean", "", TH_SIG3, th_number(s->units));
        th_report_cell(report, "lowest_units", "Lowest", "", TH_SIG3, th_number(s->lowest_units));
        th_report_cell(report, "highest_units", "Highest", "", TH_SIG3,
                       th_number(s->highest_units));
        th_report_cell(report, "per_space_units", "A space", "", TH_HUNDREDTHS,
                       th_number_if(spaces > 0.0, s->units / spaces));
        th_report_cell(report, "cost_usd", "Cost", "$", TH_SIG3,
                       th_number_if(room->fuel.has_price, s->fuel_usd));
        th_report_cell(report, "spaces_count", "Spaces", "", TH_WHOLE,
                       th_number_if(spaces > 0.0, spaces));
    }
    fuel_figure(report, both);
}

static void size_table(struct th_report *report, const struct th_side_by_side *both)
{
    th_report_section(report, "size", "What each needs, one room");
    th_report_table(report, "barns", "On the 99 % design day");
    for (int i = 0; i < 2; i++) {
        const struct th_size *z = &both->sides[i].size;
        const double most_w = z->worst.most_w;
        begin_row(report, &both->sides[i]);
        th_report_cell(report, "outdoor_f", "Out", "°F", TH_TENTHS,
                       th_number(th_f_from_c(z->worst.out_c)));
        th_report_cell(report, "load_btu_h", "Heat to give off", "Btu/h", TH_SIG3,
                       th_number(btuh(z->worst.load_w)));
        th_report_cell(report, "needed_btu_h", "Input to hold", "Btu/h", TH_SIG3,
                       th_number(btuh(most_w)));
        th_report_cell(report, "installed_btu_h", "Installed", "Btu/h", TH_SIG3,
                       th_number(btuh(z->installed_w)));
        th_report_cell(report, "installed_ratio", "Ratio", "", TH_HUNDREDTHS,
                       th_number_if(most_w > 0.0, z->installed_w / most_w));
        th_report_cell(report, "one_out_ratio", "One out", "", TH_HUNDREDTHS,
                       th_number_if(most_w > 0.0, z->one_out_w / most_w));
    }
    th_report_table(report, "gas", "Gas with every burner lit, all rooms");
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        const struct th_fuel *fuel = &s->one->room->fuel;
        begin_row(report, s);
        th_report_cell(report, "peak_gas_btu_h", "All lit", "Btu/h", TH_SIG3,
                       th_number(btuh(s->size.peak_gas_w)));
        th_report_cell(
            report, "peak_gas_gal_h", "that is", "gal/h", TH_TENTHS,
            th_number_if(fuel->gas == TH_PROPANE, s->size.peak_gas_w * TH_S_PER_H / fuel->hhv_j));
    }
}

static void pigs_table(struct th_report *report, const struct th_side_by_side *both)
{
    th_report_section(report, "pigs", "For the pigs and the building: hours of a mean winter");
    th_report_table(report, "barns", "One room");
    for (int i = 0; i < 2; i++) {
        const struct th_side *s = &both->sides[i];
        const double *sum = s->trial.mean.sum;
        begin_row(report, s);
        th_report_cell(report, "unmet_h", "Short of heat", "h", TH_WHOLE, th_number(sum[TH_UNMET]));
        th_report_cell(report, "below_comfort_f_h", "Mean below comfort", "°F h", TH_WHOLE,
                       th_number(th_tally_cold_kh(&s->trial.mean) / TH_K_PER_F));
        th_report_cell(report, "over_co2_design_h", "CO2 high", "h", TH_WHOLE,
                       th_number(sum[TH_OVER_CO2_DESIGN]));
        th_report_cell(report, "over_rh_h", "Humid", "h", TH_WHOLE, th_number(sum[TH_OVER_RH]));
        th_report_cell(report, "drip_h", "Drips", "h", TH_WHOLE, th_number(s->drip_h));
        th_report_cell(report, "wettest", "Wettest surface", "", TH_PLAIN,
                       s->wettest < 0 ? th_missing()
                                      : th_text(s->one->room->surfaces[s->wettest].name));
    }
    th_report_paragraph(report, NULL,
                        "CO2 and humidity: over their ceilings. Drips: the surface that drips "
                        "longest, in any hour of the winters. Humidity is indicative.");
}

/* Air above its ceilings for long, in either. */
static void warn_of_air(struct th_report *report, const struct th_side *side)
{
    const double *sum = side->trial.mean.sum;
    if (th_air_is_bad(&side->trial.mean))
        th_report_warning(report,
                          "%s: CO2 lies above its ceiling in %s hours of a mean winter and "
                          "humidity in %s: give the barn its air before its fuel is weighed, "
                          "with heaters that can warm it (budget says what that asks of them).",
                          name_of(side), th_whole(sum[TH_OVER_CO2_DESIGN]).text,
                          th_whole(sum[TH_OVER_RH]).text);
}

/* What keeps the two from being compared like for like. */
static void warn_of_differences(struct th_report *report, const struct th_side_by_side *both)
{
    const struct th_case *a = both->sides[0].one, *b = both->sides[1].one;
    if (!same_spaces(both))
        th_report_warning(report,
                          "The barns hold %s and %s pig spaces: look at fuel for a space, not at "
                          "the sums.",
                          th_whole(spaces_of(&both->sides[0])).text,
                          th_whole(spaces_of(&both->sides[1])).text);
    if (a->climate != b->climate)
        th_report_warning(report, "The barns stand under different weather or at different "
                                  "elevations: part of the difference is the place's.");
}

enum th_code th_side_by_side_report(struct th_report *report, const struct th_side_by_side *both,
                                    struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int i = 0; i < 2; i++)
        th_report_doubts(report, both->sides[i].one->room);
    for (int i = 0; i < 2; i++)
        warn_of_air(report, &both->sides[i]);
    warn_of_differences(report, both);
    answer(report, both);
    fuel_table(report, both);
    size_table(report, both);
    pigs_table(report, both);
    if (has_worth(both))
        th_side_by_side_money(report, both);
    th_report_winters(report, both->sides[0].one);
    for (int i = 0; i < 2 && code == TH_OK; i++) {
        char whose[96];
        snprintf(whose, sizeof whose, "room %s in a mean winter", name_of(&both->sides[i]));
        code = th_report_books(report, NULL, whose, &both->sides[i].trial.mean, err);
    }
    return code;
}
