/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The builder's quotation document. */
#include "quote_report.h"

#include "balance_text.h"
#include "cautions.h"
#include "fuel_unit.h"
#include "heater_text.h"
#include "spread_text.h"
#include "turnheat/units.h"

#include <stdio.h>

static void scope_section(struct th_report *report, const struct th_quote *q)
{
    const struct th_room *room = &q->room;
    th_report_section(report, "scope", "Scope");
    th_report_paragraph(
        report, "scope_text",
        "Insulation, heating and minimum-ventilation equipment for %d room%s \"%s\" "
        "of %.0f by %.0f ft, %.0f pig spaces each, as listed below.",
        room->copies, room->copies == 1 ? "" : "s", room->name, room->shell.length_m / TH_M_PER_FT,
        room->shell.width_m / TH_M_PER_FT, room->spaces);
    th_report_fact(report, "customer", "For", "", TH_PLAIN,
                   th_text("______________________________"));
    th_report_fact(
        report, "site", "Site", "", TH_PLAIN,
        th_text(room->site.name[0] ? room->site.name : "______________________________"));
}

static void materials_table(struct th_report *report, const struct th_quote *q)
{
    th_report_section(report, "materials", "Surfaces");
    th_report_table(report, "materials", "Areas are net of openings");
    for (int i = 0; i < q->room.n_surfaces; i++) {
        const struct th_surface *s = &q->room.surfaces[i];
        th_report_row(report);
        th_report_cell(report, "surface", "Surface", "", TH_PLAIN, th_text(s->name));
        th_report_cell(report, "area_ft2", "Net area, one room", "ft²", TH_WHOLE,
                       th_number(s->area_m2 / TH_M2_PER_FT2));
        th_report_cell(report, "r_us", "R, whole assembly with films", "ft² °F h/Btu", TH_TENTHS,
                       th_number(s->r_m2k_w / TH_R_SI_PER_US));
    }
}

static void equipment_table(struct th_report *report, const struct th_quote *q)
{
    th_report_section(report, "equipment", "Heating equipment");
    th_report_table(report, "equipment", "One room");
    for (int i = 0; i < q->room.n_heaters; i++) {
        const struct th_heater *h = &q->room.heaters[i];
        if (h->units > 0) {
            th_report_row(report);
            th_report_cell(report, "heater", "Heater", "", TH_PLAIN, th_text(h->name));
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
}

static const char *state_text(enum th_quote_state state)
{
    static const char *const texts[] = {[TH_QUOTE_TAKEN] = "included",
                                        [TH_QUOTE_NO_PAY] = "left out: does not pay",
                                        [TH_QUOTE_WET] = "left out: a surface would drip",
                                        [TH_QUOTE_AIR] = "left out: air rule"};
    return texts[state];
}

static struct th_value sir_value(const struct th_return *r)
{
    if (r->sir.state == TH_MEASURE_DEFINED)
        return th_number(r->sir.value);
    return r->sir.state == TH_MEASURE_BETTER_AT_ONCE ? th_text("better at once") : th_missing();
}

static struct th_value years_value(const struct th_measure *years)
{
    if (years->state == TH_MEASURE_DEFINED)
        return th_number(years->value);
    return years->state == TH_MEASURE_NEVER ? th_text("never") : th_missing();
}

static void options_table(struct th_report *report, const struct th_quote_in *in,
                          const struct th_quote *q)
{
    const struct th_room *base = in->base->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&base->fuel);
    th_report_section(report, "options", "Options, ranked one step at a time");
    th_report_table(report, "options", "Each on top of those included above it");
    for (int i = 0; i < q->n; i++) {
        const struct th_quote_step *s = &q->steps[i];
        const struct th_purchase *o = &in->options[s->option];
        th_report_row(report);
        th_report_cell(report, "option", "Option", "", TH_PLAIN,
                       th_text(o->note[0] ? o->note : o->name));
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
    }
    th_report_paragraph(report, NULL,
                        "Net savings over %d years at %.1f %% real discount and $%.2f/%s of fuel. "
                        "SIR: savings over investment, of this step alone (NIST Handbook 135).",
                        base->money.years, 100.0 * base->money.discount, base->fuel.price,
                        unit->unit);
}

static void energy_section(struct th_report *report, const struct th_quote *q)
{
    const struct th_fuel_unit *unit = th_fuel_unit(&q->room.fuel);
    th_report_section(report, "energy", "Heating fuel, estimated");
    th_report_spread(report, "quoted", unit->unit, "As quoted", unit->unit, TH_SIG3,
                     &q->after_units);
    th_report_spread(report, "without", unit->unit, "Without the options", unit->unit, TH_SIG3,
                     &q->before_units);
    th_report_paragraph(report, NULL,
                        "Over %d season%s of weather. The barn's own uncertainty, pig heat and air "
                        "first of all, adds to this spread; turnheat budget shows it.",
                        q->after.n, q->after.n == 1 ? "" : "s");
}

static void design_section(struct th_report *report, const struct th_quote *q)
{
    th_report_section(report, "design", "Design day");
    th_report_fact(report, "design_99_f", "Outdoors, 99 %", "°F", TH_TENTHS,
                   th_number(th_f_from_c(q->out_99_c)));
    th_report_fact(report, "needed_btu_h", "Heater input needed", "Btu/h", TH_SIG3,
                   th_number(q->sizing.needed_w / TH_W_PER_BTUH));
    th_report_fact(report, "installed_btu_h", "Heater input quoted", "Btu/h", TH_SIG3,
                   th_number(q->installed_w / TH_W_PER_BTUH));
    th_report_fact(report, "one_out_btu_h", "With one unit out", "Btu/h", TH_SIG3,
                   th_number(q->one_out_w / TH_W_PER_BTUH));
    if (q->installed_w < q->sizing.needed_w)
        th_report_warning(report, "The heaters quoted do not hold set point on the 99 %% day.");
}

static void terms_section(struct th_report *report, const struct th_quote *q)
{
    th_report_section(report, "price", "Price");
    th_report_fact(report, "options_usd", "Options included", "$", TH_WHOLE,
                   th_number(q->options_usd));
    th_report_fact(report, "base", "Building and equipment without options", "", TH_PLAIN,
                   th_text("$ ______________"));
    th_report_section(report, "terms", "Assumptions, exclusions, validity");
    th_report_item(report, "Assumed: pigs, set points, ventilation and weather as in the barn file "
                           "and the files named; minimum air never below the table.");
    th_report_item(report,
                   "Assumed: materials dry and installed without gaps; R values as listed.");
    th_report_item(report, "Excluded: tank, gas line beyond the shut-off, electrical service, "
                           "permits, site work, anything not listed.");
    th_report_item(report, "The fuel estimate is not a guarantee of use or savings.");
    th_report_item(report,
                   "Valid 30 days from the date of signing below unless agreed otherwise in "
                   "writing.");
    th_report_signature(report, "Builder, date");
    th_report_signature(report, "Customer, date");
}

enum th_code th_quote_report(struct th_report *report, const struct th_quote_in *in,
                             const struct th_quote *quote, struct th_error *err)
{
    th_report_thin_weather(report, in->base);
    scope_section(report, quote);
    materials_table(report, quote);
    equipment_table(report, quote);
    design_section(report, quote);
    options_table(report, in, quote);
    energy_section(report, quote);
    terms_section(report, quote);
    th_report_cautions(report);
    enum th_code code =
        th_report_books(report, "without", "one room in a mean season without the options",
                        &quote->before.mean, err);
    if (code == TH_OK)
        code = th_report_books(report, "quoted", "one room in a mean season as quoted",
                               &quote->after.mean, err);
    return code;
}
