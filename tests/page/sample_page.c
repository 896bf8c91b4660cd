/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints a web page with every kind of block and chart and with hostile texts, for page.sh. All
 * its numbers are invented. */
#include "report.h"
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

static void add_bar(struct th_report *r, const char *choice, double load_gal, double waste_gal)
{
    th_report_row(r);
    th_report_cell(r, "choice", "Choice", "", TH_PLAIN, th_text(choice));
    th_report_cell(r, "load_gal", "Load " HOSTILE, "gal", TH_SIG3, th_number(load_gal));
    th_report_cell(r, "waste_gal", "Waste", "gal", TH_SIG3, th_number(waste_gal));
}

static void add_bars(struct th_report *r, enum th_chart chart, const char *key)
{
    th_report_figure(r, &(struct th_figure){key, "Bars " HOSTILE, "Waste falls. " HOSTILE, chart,
                                            "gal " HOSTILE});
    add_bar(r, "as it is", 2000, 310);
    add_bar(r, HOSTILE, 2010, NAN);
}

static void add_curves(struct th_report *r, enum th_chart chart, const char *key,
                       enum th_format format)
{
    th_report_figure(r, &(struct th_figure){key, "Curves", "Up and down.", chart, "°F"});
    const double start = 24.0 * (double)th_day_number(2019, 1, 27);
    for (int i = 0; i < 168; i++) {
        const double y = 20 + 10 * sin(i / 4.0);
        th_report_row(r);
        th_report_cell(r, "x", "x", "", format, th_number(format == TH_HOUR ? start + i : i));
        th_report_cell(r, "low_f", "Low", "°F", TH_TENTHS, th_number(y));
        th_report_cell(r, "middle_f", "Middle", "°F", TH_TENTHS, th_number(y + 5));
        th_report_cell(r, "high_f", "High", "°F", TH_TENTHS, th_number(y + 9));
        th_report_cell(r, "other_f", "Other", "°F", TH_TENTHS, th_number_if(i != 50, 30));
    }
}

int main(void)
{
    struct th_report *r = th_report_new("budget");
    add_facts(r);
    add_wide_table(r);
    add_bars(r, TH_BARS, "bars");
    add_bars(r, TH_STACKED_BARS, "stacked_bars");
    add_curves(r, TH_LINES, "lines", TH_HOUR);
    add_curves(r, TH_STACKED_AREAS, "areas", TH_WHOLE);
    add_curves(r, TH_BAND, "band", TH_WHOLE);
    struct th_error err = {0};
    const enum th_code code = th_report_write(r, TH_AS_HTML, stdout, &err);
    if (code)
        fprintf(stderr, "%s\n", err.text);
    th_report_free(r);
    return code || fflush(stdout) ? 1 : 0;
}
