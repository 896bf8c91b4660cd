/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints a web page with every kind of block and chart and with hostile texts, for page.sh. All
 * its numbers are invented. */
#include "figure.h"
#include "render.h"
#include "turnheat/calendar.h"
#include <math.h>

#define HOSTILE "'x' \"y\" <script>alert(1)</script> & %d {/b} \\n @x `ls` $(ls)"

static void add_facts(struct th_report *r)
{
    th_report_title(r, "A page of invented numbers – %s", HOSTILE);
    th_report_warning(r, "Minimum air is set to 0.85 of the table by hand. %s", HOSTILE);
    th_report_part(r, "rooms", HOSTILE);
    th_report_section(r, "season", "A heating season");
    th_report_paragraph(r, "verdict", "About 2,290 gal of propane in the middle winter.");
    th_report_fact(r, "gas_gal", "Propane", "gal", TH_SIG3, th_number(2290.4));
    th_report_fact(r, "gas_usd", "Its price", "$", TH_SIG3, th_missing());
    th_report_fact(r, "price_usd_gal", "A gallon at", "$/gal", TH_HUNDREDTHS, th_number(1.85));
    th_report_fact(r, "station", "Weather from", "", TH_PLAIN, th_text(HOSTILE));
    th_report_item(r, "Ceiling R-30, %s", HOSTILE);
    th_report_item(r, "Two heaters");
    th_report_part_end(r);
    th_report_signature(r, "For the builder");
    th_report_balance(r, "heat", "Heat", "kWh", 1000, 1000);
    th_report_balance(r, "water", "Water", "kg", 1000, 990);
    th_report_caution(r, "Three winters are thin evidence. %s", HOSTILE);
}

static void wide_cells(struct th_report *r)
{
    for (int i = 0; i < 12; i++) {
        char key[16];
        snprintf(key, sizeof key, "c%d_gal", i);
        th_report_cell(r, key, "Propane of a choice", "gal", TH_SIG3, th_number(1234.5 * i));
    }
}

static void add_wide_table(struct th_report *r)
{
    th_report_table(r, "wide", "A wide table " HOSTILE);
    for (int i = 0; i < 2; i++) {
        th_report_row(r);
        wide_cells(r);
    }
    th_report_total(r);
    wide_cells(r);
}

static void start(struct th_report *r, enum th_axis_kind kind)
{
    th_figure(r, &(struct th_figure){.caption = "A finding " HOSTILE,
                                     .reading = "How to read it " HOSTILE,
                                     .along = {.kind = kind, .format = TH_WHOLE},
                                     .value = {.unit = "gal",
                                               .label = "gal " HOSTILE,
                                               .format = TH_SIG3,
                                               .from_zero = true}});
}

static void add_names(struct th_report *r, enum th_axis_kind kind)
{
    start(r, kind);
    th_figure_name(r, "as it is");
    th_figure_name(r, HOSTILE);
    for (int mark = TH_MARK_BAND; mark <= TH_MARK_SPECK; mark++) {
        th_figure_mark(r, (enum th_mark_kind)mark, TH_INK_HEAT,
                       mark == TH_MARK_DOT ? HOSTILE : NULL);
        th_figure_span(r, 0, 1500, 2000);
        th_figure_span(r, 1, 1600, NAN);
    }
    th_figure_rule(r, TH_MARK_RULE_VALUE, HOSTILE, 1800);
}

static void add_curves(struct th_report *r, enum th_axis_kind kind, double first)
{
    start(r, kind);
    for (int mark = TH_MARK_BAND; mark >= TH_MARK_LINE; mark--) {
        th_figure_mark(r, (enum th_mark_kind)mark, TH_INK_COLD, HOSTILE);
        for (int i = 0; i < 168; i++) {
            const double y = i == 50 ? NAN : 20 + 10 * sin(i / 4.0);
            th_figure_span(r, first + i, mark == TH_MARK_BAND ? y - 5 : y, y);
        }
    }
    th_figure_rule(r, TH_MARK_RULE_AT, HOSTILE, first + 20);
    th_figure_rule(r, TH_MARK_RULE_VALUE, HOSTILE, 15);
}

int main(void)
{
    struct th_report *r = th_report_new("budget");
    add_facts(r);
    add_wide_table(r);
    add_names(r, TH_AXIS_NAMES);
    add_names(r, TH_AXIS_NAMES_DOWN);
    add_curves(r, TH_AXIS_NUMBER, 0);
    add_curves(r, TH_AXIS_DAY, (double)th_day_number(2019, 1, 27));
    add_curves(r, TH_AXIS_HOUR, 24.0 * (double)th_day_number(2019, 1, 27));
    start(r, TH_AXIS_NUMBER);
    struct th_error err = {0};
    const enum th_code code = th_report_write(r, TH_AS_HTML, stdout, &err);
    if (code)
        fprintf(stderr, "%s\n", err.text);
    th_report_free(r);
    return code || fflush(stdout) ? 1 : 0;
}
