/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The builder's quotation document. */
#include "quote_report.h"

#include "air_text.h"
#include "balance_text.h"
#include "cautions.h"
#include "figure.h"
#include "fuel_unit.h"
#include "heater_text.h"
#include "net_text.h"
#include "outlook_text.h"
#include "spread_text.h"
#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <stdio.h>

#define EACH_MAX 40
#define TO_FILL_IN "______________________________"

/* A text of the builder's, or a line to write it on. */
static struct th_value or_line(const char *text)
{
    return th_text(text[0] ? text : TO_FILL_IN);
}

static void scope_section(struct th_report *report, const struct th_quote *q,
                          const struct th_quotation *words)
{
    const struct th_room *room = &q->room;
    th_report_section(report, "scope", "Who and what");
    th_report_fact(report, "builder", "From", "", TH_PLAIN, or_line(words->builder));
    th_report_fact(report, "customer", "For", "", TH_PLAIN, or_line(words->customer));
    th_report_fact(report, "number", "Quotation number", "", TH_PLAIN, or_line(words->number));
    th_report_fact(report, "issued", "Date of issue", "", TH_PLAIN, or_line(words->issued));
    th_report_fact(report, "site", "Site", "", TH_PLAIN, or_line(room->site.name));
    th_report_paragraph(
        report, "scope_text",
        "Insulation and heating equipment for %d room%s \"%s\" of %.0f by %.0f ft, %s pig spaces"
        "%s, as listed below. What is not listed is not part of it.",
        room->copies, room->copies == 1 ? "" : "s", room->name, room->shell.length_m / TH_M_PER_FT,
        room->shell.width_m / TH_M_PER_FT, th_whole(room->spaces).text,
        room->copies == 1 ? "" : " each");
}

/* What a table is of. */
static const char *each_room(char text[EACH_MAX], const struct th_room *room)
{
    if (room->copies == 1)
        snprintf(text, EACH_MAX, "The room");
    else
        snprintf(text, EACH_MAX, "Each of the %d rooms", room->copies);
    return text;
}

static void materials_table(struct th_report *report, const struct th_quote *q)
{
    char each[EACH_MAX], caption[EACH_MAX + 40], title[TH_TITLE_MAX];
    th_report_section(report, "materials", "Surfaces");
    snprintf(caption, sizeof caption, "%s; areas are net of openings", each_room(each, &q->room));
    th_report_table(report, "materials", caption);
    for (int i = 0; i < q->room.n_surfaces; i++) {
        const struct th_surface *s = &q->room.surfaces[i];
        th_report_row(report);
        th_report_cell(report, "surface", "Surface", "", TH_PLAIN,
                       th_text(th_title_text(title, s->name, s->kind == TH_WALL ? "wall" : NULL)));
        th_report_cell(report, "area_ft2", "Net area", "ft²", TH_WHOLE,
                       th_number(s->area_m2 / TH_M2_PER_FT2));
        th_report_cell(report, "r_us", "R, whole assembly with films", "ft² °F h/Btu", TH_TENTHS,
                       th_number(s->r_m2k_w / TH_R_SI_PER_US));
    }
}

/* Settings by which the barn burns what is quoted, where an option asks for others. */
static void say_settings(struct th_report *report, const struct th_quote *q)
{
    for (int i = 0; i < q->room.n_heaters && q->shift_k != 0.0; i++) {
        const struct th_heater *h = &q->room.heaters[i];
        th_report_item(report,
                       "%s: the fuel below is estimated with ON %.1f °F and OFF %.1f °F below set "
                       "point.",
                       h->name, h->on_k / TH_K_PER_F, h->off_k / TH_K_PER_F);
    }
}

static void equipment_table(struct th_report *report, const struct th_quote *q)
{
    char each[EACH_MAX], title[TH_TITLE_MAX];
    th_report_section(report, "equipment", "Heating equipment");
    th_report_table(report, "equipment", each_room(each, &q->room));
    for (int i = 0; i < q->room.n_heaters; i++) {
        const struct th_heater *h = &q->room.heaters[i];
        if (h->units > 0) {
            th_report_row(report);
            th_report_cell(report, "heater", "Heater", "", TH_PLAIN,
                           th_text(th_title_text(title, h->name, NULL)));
            th_report_cell(report, "units_count", "Units", "", TH_WHOLE, th_number(h->units));
            th_report_cell(report, "input_btu_h", "Input each", "Btu/h", TH_WHOLE,
                           th_number(h->input_w / TH_W_PER_BTUH));
            th_report_cell(
                report, "output_btu_h", "Output each", "Btu/h", TH_SIG3,
                th_number(h->input_w * th_heating_share(h, &q->room.fuel) / TH_W_PER_BTUH));
            th_report_cell(report, "control", "Control", "", TH_PLAIN,
                           th_text(th_control_text(h->control)));
            th_report_cell(report, "vented", "Vented", "", TH_PLAIN, th_bool(h->vented));
            th_report_cell(report, "fuel", "Fuel", "", TH_PLAIN,
                           th_text(th_fuel_unit(&q->room.fuel)->name));
        }
    }
    say_settings(report, q);
}

static const char *state_text(enum th_quote_state state)
{
    static const char *const texts[] = {
        [TH_QUOTE_TAKEN] = "included",
        [TH_QUOTE_NO_PAY] = "left out: does not pay",
        [TH_QUOTE_REFUSED] = "left out: see below",
        [TH_QUOTE_HEAT] = "left out: short of heat",
        [TH_QUOTE_SHORT_OF_AIR] = "left out: short of air",
        [TH_QUOTE_COLD] = "left out: colder for the pigs",
        [TH_QUOTE_WET] = "left out: a surface would drip",
        [TH_QUOTE_NO_DIFFERENCE] = "left out: makes too little difference",
        [TH_QUOTE_SETTINGS_FIRST] = "left out: settings first",
        [TH_QUOTE_DEPENDS] = "left out: it depends",
        [TH_QUOTE_REPLACED] = "left out: another of its group does better",
        [TH_QUOTE_DROPPED] = "left out: pays no more beside the others"};
    return texts[state];
}

static struct th_value sir_value(const struct th_return *r)
{
    if (r->sir.state == TH_MEASURE_DEFINED)
        return th_number(r->sir.value);
    return r->sir.state == TH_MEASURE_BETTER_AT_ONCE ? th_no_number("better at once")
                                                     : th_missing();
}

static struct th_value years_value(const struct th_measure *years)
{
    if (years->state == TH_MEASURE_DEFINED)
        return th_number(years->value);
    return years->state == TH_MEASURE_NEVER ? th_no_number("not within the study") : th_missing();
}

#define OPTION_MAX (2 * TH_NAME_MAX + 160)

/* An option by its name and what it is: "insulated edge: R-10, 2 ft down". */
static const char *option_name(char text[OPTION_MAX], const struct th_purchase *option)
{
    snprintf(text, OPTION_MAX, "%s%s%s", option->name, option->note[0] ? ": " : "", option->note);
    return text;
}

static void savings_figure(struct th_report *report, const struct th_quote_in *in,
                           const struct th_quote *q)
{
    th_figure(report, &(struct th_figure){
                          .caption = "What each option saves in a mean season",
                          .reading = "On top of those included before it. Orange: included. Grey: "
                                     "left out.",
                          .along = {.kind = TH_AXIS_NAMES_DOWN},
                          .value = {.unit = th_fuel_unit(&in->base->room->fuel)->unit,
                                    .format = TH_SIG3,
                                    .from_zero = true}});
    for (int i = 0; i < q->n; i++) {
        const struct th_quote_step *s = &q->steps[i];
        char which[OPTION_MAX];
        th_figure_name(report, option_name(which, &in->options[s->option]));
        th_figure_mark(report, TH_MARK_BAR, s->state == TH_QUOTE_TAKEN ? TH_INK_HEAT : TH_INK_PLAIN,
                       NULL);
        th_figure_point(report, i, s->saved_units);
    }
}

/* What an option would do to the pigs. */
static void say_step_harm(struct th_report *report, const struct th_room *room,
                          const struct th_purchase *option, const struct th_quote_step *s)
{
    char hours[TH_MORE_HOURS_MAX], air[TH_AIR_ADDED_MAX], which[OPTION_MAX];
    const char *const name = option_name(which, option);
    if (s->state == TH_QUOTE_HEAT)
        th_report_item(
            report,
            "%s is left out: the heaters would not keep up in %s of the worst winter looked at.%s",
            name, th_more_hours(hours, s->added.unmet_h),
            s->falls_short ? " They would be smaller than the design day needs." : "");
    if (s->state == TH_QUOTE_SHORT_OF_AIR)
        th_report_item(report, "%s is left out: in the worst turn, %s.", name,
                       th_air_added_words(air, "without it", &room->air, &s->added));
    if (s->state == TH_QUOTE_COLD)
        th_report_item(report,
                       "%s is left out: the pigs would spend %s more °F hours below their comfort "
                       "limit in the worst turn.",
                       name, th_whole((s->added.young_kh + s->added.later_kh) / TH_K_PER_F).text);
}

/* What an option that changes the heating was weighed by, or why an option is refused. */
static void say_step(struct th_report *report, const struct th_quote_in *in,
                     const struct th_quote_step *s)
{
    const struct th_purchase *const option = &in->options[s->option];
    const struct th_fuel_unit *const unit = th_fuel_unit(&in->base->room->fuel);
    char net[TH_NET_MAX], more[TH_NET_MAX + 160] = "", chance[TH_CHANCE_MAX], which[OPTION_MAX];
    if (s->has_settings)
        snprintf(more, sizeof more,
                 " Better settings of the heaters without it cost nothing; against them, as warm, "
                 "it comes to %s.",
                 th_net_words(net, &s->settings));
    if (s->other_fuel)
        th_report_item(report,
                       "%s changes the fuel or its price: it saves what as many %s of today's "
                       "fuel cost.",
                       option_name(which, option), unit->units);
    if (s->refused[0])
        th_report_item(report, "%s is left out: %s.", option_name(which, option), s->refused);
    say_step_harm(report, in->base->room, option, s);
    if (s->state == TH_QUOTE_TAKEN && s->scrapped_usd <= 0.0)
        th_report_item(report,
                       "%s rests on what it is still worth after the study: if that is nothing, it "
                       "comes to %s.",
                       option_name(which, option), th_dollars(net, s->scrapped_usd));
    if (s->weighed)
        th_report_item(report,
                       "%s changes the heating, so it is weighed as `compare` does, at the same "
                       "%s as without it (ON and OFF moved by %.2f °F): %s net%s.%s",
                       option_name(which, option), th_warmth_words(s->judged_by),
                       s->shift_k / TH_K_PER_F, th_net_words(net, &s->today),
                       th_chance_words(chance, &s->today, s->chance), more);
    else if (s->today.drawn)
        th_report_item(report, "%s: %s net%s.", option_name(which, option),
                       th_net_words(net, &s->today), th_chance_words(chance, &s->today, s->chance));
}

/* For machines: what say_step() says. */
static void weighed_cells(struct th_report *report, const struct th_quote_step *s)
{
    const bool settings = s->weighed && s->has_settings;
    const bool ranged = s->weighed || s->today.drawn;
    th_report_cell(report, "shift_f", NULL, "°F", TH_HUNDREDTHS,
                   th_number_if(s->weighed, s->shift_k / TH_K_PER_F));
    th_report_cell(report, "net_scrapped_usd", NULL, "$", TH_SIG3, th_number(s->scrapped_usd));
    th_report_cell(report, "net_low_usd", NULL, "$", TH_SIG3,
                   th_number_if(ranged, s->today.low_usd));
    th_report_cell(report, "net_high_usd", NULL, "$", TH_SIG3,
                   th_number_if(ranged, s->today.high_usd));
    th_report_cell(report, "chance_pct", NULL, "%", TH_WHOLE,
                   th_number_if(s->today.drawn, 100.0 * s->chance));
    th_report_cell(report, "net_against_settings_usd", NULL, "$", TH_SIG3,
                   th_number_if(settings, s->settings.usd));
}

/* All that were taken, over the barns that this one may be. */
static void say_together(struct th_report *report, const struct th_quote_in *in,
                         const struct th_quote *q)
{
    const struct th_choice_return *const all = &q->together;
    char net[TH_NET_MAX], chance[TH_CHANCE_MAX];
    const bool said = q->taken && all->net.drawn;
    if (said)
        th_report_paragraph(
            report, NULL,
            "All options included together: %s net%s. The range holds eight of ten barns that fit "
            "what is known of this one, found from %d runs of each; one left out is missed by "
            "%.1f %% of its gas.",
            th_net_words(net, &all->net), th_chance_words(chance, &all->net, all->chance),
            TH_OUTLOOK_FEW_RUNS, 100.0 * q->joint_error);
    th_report_fact(report, "together_net_usd", NULL, "$", TH_SIG3,
                   th_number_if(said, all->net.usd));
    th_report_fact(report, "together_net_low_usd", NULL, "$", TH_SIG3,
                   th_number_if(said, all->net.low_usd));
    th_report_fact(report, "together_net_high_usd", NULL, "$", TH_SIG3,
                   th_number_if(said, all->net.high_usd));
    th_report_fact(report, "together_chance_pct", NULL, "%", TH_WHOLE,
                   th_number_if(said, 100.0 * all->chance));
    if (said && in->farms->learnt)
        th_report_learnt(report, &in->farms->answer);
}

/* What each option does on top of those before it, and why it is in or out. */
static void ranking_table(struct th_report *report, const struct th_quote_in *in,
                          const struct th_quote *q)
{
    const struct th_room *base = in->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&base->fuel);
    th_report_section(report, "options", "For the builder: options, ranked one step at a time");
    th_report_table(report, "options", "Each on top of those included above it");
    for (int i = 0; i < q->n; i++) {
        const struct th_quote_step *s = &q->steps[i];
        const struct th_purchase *o = &in->options[s->option];
        char which[OPTION_MAX];
        th_report_row(report);
        th_report_cell(report, "option", "Option", "", TH_PLAIN, th_text(option_name(which, o)));
        th_report_cell(report, "decision", "Decision", "", TH_PLAIN, th_text(state_text(s->state)));
        th_report_cell(report, "first_cost_usd", "Cost", "$", TH_SIG3,
                       th_number(base->copies * o->cost_usd));
        th_report_cell(report, "saved_gal", "Saves a season", unit->unit, TH_SIG3,
                       th_number(s->saved_units));
        th_report_cell(report, "net_usd", "Net savings", "$", TH_SIG3,
                       th_number(s->payback.net_usd));
        th_report_cell(report, "sir_ratio", "SIR", "", TH_HUNDREDTHS, sir_value(&s->payback));
        th_report_cell(report, "payback_years", "Payback", "yr", TH_TENTHS,
                       years_value(&s->payback.simple.interpolated));
        weighed_cells(report, s);
    }
    for (int i = 0; i < q->n; i++)
        say_step(report, in, &q->steps[i]);
    say_together(report, in, q);
    savings_figure(report, in, q);
    th_report_paragraph(report, NULL,
                        "Net savings over %d years at %.1f %% real discount and $%.2f/%s of fuel. "
                        "SIR: savings over investment, of this step alone (NIST Handbook 135).",
                        base->money.years, 100.0 * base->money.discount, base->fuel.price,
                        unit->unit);
}

/* The customer, too, is told what no thermometer has shown. */
static bool generated(const struct th_quote_in *in)
{
    return th_climate_generated(in->base->climate);
}

static void energy_section(struct th_report *report, const struct th_quote_in *in,
                           const struct th_quote *q)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&q->room.fuel);
    const struct th_fuel_unit *unit_without = th_fuel_unit(&in->base->room->fuel);
    th_report_section(report, "energy", "Heating fuel, estimated");
    th_report_spread(report, "quoted", "gal", "As quoted", unit->unit, TH_SIG3, &q->after_units,
                     generated(in));
    th_report_spread(report, "without", "gal", q->taken ? "Without the options" : NULL,
                     unit_without->unit, TH_SIG3, &q->before_units, generated(in));
    th_report_fact(report, "quoted_middle_usd", "As quoted, at today's price of fuel", "$", TH_SIG3,
                   th_number(q->after_units.middle * q->room.fuel.price));
    th_report_spread_note(report, &q->after_units, generated(in));
    th_report_paragraph(
        report, NULL,
        "Over %d %s%s%s. The barn's own uncertainty, pig heat and air first of all, "
        "adds to this spread. It is an estimate, not a guarantee of use or savings.",
        q->after.n, generated(in) ? "winter" : "season", q->after.n == 1 ? "" : "s",
        generated(in) ? " of made-up weather, generated from monthly statistics of "
                        "the place: no such winter was measured"
                      : " of weather");
}

static void design_section(struct th_report *report, const struct th_quote_in *in,
                           const struct th_quote *q)
{
    const struct th_site *const site = &q->room.site;
    th_report_section(report, "design",
                      q->room.copies == 1 ? "Design day" : "Design day, each room");
    th_report_fact(report, "design_99_f",
                   generated(in) && !site->has_design_99 ? "Outdoors, of made-up weather"
                                                         : "Outdoors, 99 %",
                   "°F", TH_TENTHS, th_number(th_f_from_c(q->out_99_c)));
    th_report_fact(report, "needed_btu_h", "Heater input needed with pigs", "Btu/h", TH_SIG3,
                   th_number(q->sizing.needed_w / TH_W_PER_BTUH));
    th_report_fact(report, "preheat_btu_h", "before the pigs come, washing drying", "Btu/h",
                   TH_SIG3, th_number(q->sizing.preheat_w / TH_W_PER_BTUH));
    th_report_fact(report, "installed_btu_h", "Heater input quoted", "Btu/h", TH_SIG3,
                   th_number(q->installed_w / TH_W_PER_BTUH));
    th_report_fact(report, "one_out_btu_h", "With one unit out", "Btu/h", TH_SIG3,
                   th_number(q->one_out_w / TH_W_PER_BTUH));
    if (q->one_out_w < q->sizing.most_w)
        th_report_item(report, q->one_out_w >= q->sizing.needed_w
                                   ? "With one unit out the heaters hold the design day with pigs "
                                     "in the room, but do not warm and dry it before they come."
                                   : "With one unit out the heaters do not hold the design day.");
    if (q->installed_w < q->sizing.most_w)
        th_report_warning(report,
                          q->installed_w >= q->sizing.needed_w
                              ? "The heaters quoted hold set point on the 99 %% day with "
                                "pigs in the room, but do not warm and dry it before they "
                                "come on such a day."
                              : "The heaters quoted do not hold set point on the 99 %% day.");
}

/* What else the barn has to provide: gas, inlets, power; and whether surfaces stay dry. */
static void services_section(struct th_report *report, const struct th_quote *q)
{
    char title[TH_TITLE_MAX], hours[TH_SHOWN_MAX];
    bool dry = true;
    for (int i = 0; i < q->room.n_surfaces; i++)
        dry = dry && q->drip_h[i] <= th_drip_may_h(&q->room);
    th_report_section(report, "services", "Gas, air and power to provide for");
    th_report_fact(report, "peak_gas_btu_h", "Gas with every burner lit, all rooms", "Btu/h",
                   TH_SIG3, th_number(q->peak_gas_w / TH_W_PER_BTUH));
    th_report_fact(report, "inlet_first_ft2", "Inlet opening, first day, each room", "ft²",
                   TH_TENTHS, th_number(q->inlet_first_m2 / TH_M2_PER_FT2));
    th_report_fact(report, "inlet_last_ft2", "Inlet opening, last day, each room", "ft²", TH_TENTHS,
                   th_number(q->inlet_last_m2 / TH_M2_PER_FT2));
    th_report_fact(report, "standby_kw", "Standby power for all fans and blowers", "kW", TH_SIG2,
                   th_number(q->standby_w / 1000.0));
    th_report_fact(report, "dry", "Surfaces stay dry but for 1 % of the hours", "", TH_PLAIN,
                   th_bool(dry));
    for (int i = 0; i < q->room.n_surfaces; i++)
        if (q->drip_h[i] > th_drip_may_h(&q->room))
            th_report_item(report, "%s: damp inside in about %s hours a season.",
                           th_title_text(title, q->room.surfaces[i].name, NULL),
                           th_show(hours, th_number(q->drip_h[i]), TH_SIG2));
}

static void price_row(struct th_report *report, const char *what, struct th_value usd)
{
    th_report_row(report);
    th_report_cell(report, "item", "Item", "", TH_PLAIN, th_text(what));
    th_report_cell(report, "price_usd", "Price", "$", TH_WHOLE, usd);
}

static void price_table(struct th_report *report, const struct th_quote_in *in,
                        const struct th_quote *q, const struct th_quote_paper *paper)
{
    const bool has_base = paper->quotation->base_usd > 0.0;
    double sum_usd = paper->quotation->base_usd;
    th_report_table(report, "price", "What it costs");
    price_row(report, "Building and equipment without options",
              has_base ? th_number(paper->quotation->base_usd) : th_text("____________"));
    for (int i = 0; i < q->n; i++) {
        const struct th_purchase *option = &in->options[q->steps[i].option];
        const double usd = in->base->room->copies * option->cost_usd;
        char which[OPTION_MAX];
        if (q->steps[i].state != TH_QUOTE_TAKEN)
            continue;
        price_row(report, option_name(which, option), th_number(usd));
        sum_usd += usd;
    }
    for (int i = 0; i < paper->n_lines; i++) {
        const struct th_quote_line *line = &paper->lines[i];
        price_row(report, line->note[0] ? line->note : line->name, th_number(line->price_usd));
        sum_usd += line->price_usd;
    }
    th_report_total(report);
    th_report_cell(report, "item", "Item", "", TH_PLAIN, th_text("Total"));
    th_report_cell(report, "price_usd", "Price", "$", TH_WHOLE,
                   has_base ? th_number(sum_usd) : th_text("____________"));
}

/* Price, terms and signatures, which stay on one sheet. */
static void price_section(struct th_report *report, const struct th_quote_in *in,
                          const struct th_quote *q, const struct th_quote_paper *paper)
{
    const struct th_quotation *words = paper->quotation;
    th_report_section(report, "price", "Price and terms");
    price_table(report, in, q, paper);
    if (words->payment[0])
        th_report_item(report, "Payment: %s", words->payment);
    if (words->warranty[0])
        th_report_item(report, "Warranty: %s", words->warranty);
    th_report_item(report, "Not part of it: %s; anything not listed.",
                   words->exclusions[0] ? words->exclusions
                                        : "tank, gas line beyond the shut-off, electrical "
                                          "service, permits, site work");
    th_report_item(report, "Assumed: pigs, set points and ventilation as told to us; minimum air "
                           "as told to us, never less; materials dry and installed without gaps; R "
                           "values as listed.");
    th_report_item(report, "Valid %d days from the date of issue%s%s.", words->valid_days,
                   words->issued[0] ? ", " : "", words->issued);
    th_report_signature(report, "Builder, date");
    th_report_signature(report, "Customer, date");
}

/* What only the builder sees. The books must close either way. */
static enum th_code books(struct th_report *report, const struct th_quote *quote,
                          struct th_error *err)
{
    enum th_code code =
        th_report_books(report, "without", "one room in a mean season without the options",
                        &quote->before.mean, err);
    if (code == TH_OK)
        code = th_report_books(report, "quoted", "one room in a mean season as quoted",
                               &quote->after.mean, err);
    return code;
}

enum th_code th_quote_report(struct th_report *report, const struct th_quote_in *in,
                             const struct th_quote *quote, const struct th_quote_paper *paper,
                             struct th_error *err)
{
    scope_section(report, quote, paper->quotation);
    materials_table(report, quote);
    equipment_table(report, quote);
    design_section(report, in, quote);
    services_section(report, quote);
    energy_section(report, in, quote);
    price_section(report, in, quote, paper);
    if (in->builder) {
        th_report_thin_weather(report, in->base);
        th_report_thin_design(report, in->base);
        th_report_bad_air(report, in->base->room, &quote->after.mean, NULL);
        ranking_table(report, in, quote);
    }
    th_report_cautions(report);
    return books(in->builder ? report : NULL, quote, err);
}
