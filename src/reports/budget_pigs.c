/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inputs that mattered, and what the season was like for the pigs. */
#include "air_classes.h"
#include "budget_report.h"
#include "display.h"

#include "fuel_unit.h"
#include "heater_text.h"
#include "outlook_text.h"
#include "turnheat/calendar.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static double surface_ua(const struct th_room *room)
{
    double ua = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        ua += room->surfaces[i].area_m2 / room->surfaces[i].r_m2k_w;
    return ua / TH_UA_SI_PER_US;
}

static void heater_facts(struct th_report *report, const struct th_room *room)
{
    for (int i = 0; i < room->n_heaters; i++) {
        const struct th_heater *h = &room->heaters[i];
        char text[160], input[TH_SHOWN_MAX];
        snprintf(text, sizeof text, "%s: %d × %s, %s, %s; ON %.1f and OFF %.1f °F below set",
                 h->name, h->units,
                 th_show_with_unit(input, th_number(h->input_w / TH_W_PER_BTUH), TH_SIG3, "Btu/h"),
                 th_control_text(h->control), h->vented ? "vented" : "unvented",
                 h->on_k / TH_K_PER_F, h->off_k / TH_K_PER_F);
        th_report_fact(report, NULL, i == 0 ? "Heaters" : "", "", TH_PLAIN, th_text(text));
    }
}

/* The same for machines: one key, however many there are. */
static void heater_list(struct th_report *report, const struct th_room *room)
{
    th_report_table(report, "heaters", NULL);
    for (int i = 0; i < room->n_heaters; i++) {
        const struct th_heater *h = &room->heaters[i];
        th_report_row(report);
        th_report_cell(report, "heater", "", "", TH_PLAIN, th_text(h->name));
        th_report_cell(report, "units_count", "", "", TH_WHOLE, th_number(h->units));
        th_report_cell(report, "input_btu_h", "", "Btu/h", TH_SIG3,
                       th_number(h->input_w / TH_W_PER_BTUH));
        th_report_cell(report, "control", "", "", TH_PLAIN, th_text(th_control_text(h->control)));
        th_report_cell(report, "vented", "", "", TH_PLAIN, th_bool(h->vented));
        th_report_cell(report, "on_below_f", "", "°F", TH_TENTHS, th_number(h->on_k / TH_K_PER_F));
        th_report_cell(report, "off_below_f", "", "°F", TH_TENTHS,
                       th_number(h->off_k / TH_K_PER_F));
    }
}

void th_budget_inputs(struct th_report *report, const struct th_case *one)
{
    const struct th_room *room = one->room;
    const struct th_fuel_unit *unit = th_fuel_unit(&room->fuel);
    th_report_section(report, "inputs", "What mattered");
    if (room->copies > 1)
        th_report_fact(report, "copies_count", "Identical rooms, summed below", "", TH_WHOLE,
                       th_number(room->copies));
    th_report_fact(report, "weather", "Weather", "", TH_PLAIN, th_text(th_case_weather_name(one)));
    th_report_fact(report, "floor_ft2", "Floor", "ft²", TH_SIG3,
                   th_number(room->shell.floor_m2 / TH_M2_PER_FT2));
    th_report_fact(report, "ua_btu_h_f", "Heat loss through surfaces", "Btu/h °F", TH_SIG3,
                   th_number(surface_ua(room)));
    th_report_fact(report, "leak_in2", "Leakage area at 4 Pa", "in²", TH_SIG3,
                   th_number(room->air.leak_cm2 * 1e-4 / (TH_M_PER_IN * TH_M_PER_IN)));
    th_report_fact(report, "fan_floor_cfm", "Lowest steady fan flow", "cfm", TH_SIG3,
                   th_number(room->air.floor_m3_s / TH_M3S_PER_CFM));
    th_report_fact(report, "sensible_factor", "Share of pig heat felt as warmth", "", TH_HUNDREDTHS,
                   th_number(room->pigs.k_s));
    heater_facts(report, room);
    heater_list(report, room);
    if (room->fuel.has_price) {
        char price_unit[16];
        snprintf(price_unit, sizeof price_unit, "$/%s", unit->unit);
        th_report_fact(report, "price_usd_gal", "Fuel price", price_unit, TH_HUNDREDTHS,
                       th_number(room->fuel.price));
    }
    th_report_fitted(report, room);
}

/* When it was: machines are told the same with figures alone. */
static void at_fact(struct th_report *report, const char *key, long hour, bool typical)
{
    const struct th_date d = th_date_of(th_day_of_hour(hour));
    const int clock = th_hour_of_day(hour);
    char exact[48], when[TH_SHOWN_MAX];
    if (typical) {
        snprintf(exact, sizeof exact, "%02d-%02d %02d:00, typical year", d.month, d.day, clock);
        snprintf(when, sizeof when, "%s %d, %02d:00, typical year", th_month_name(d.month - 1),
                 d.day, clock);
    } else {
        snprintf(exact, sizeof exact, "%d-%02d-%02d %02d:00", d.year, d.month, d.day, clock);
        th_show(when, th_number((double)hour), TH_HOUR);
    }
    th_report_fact(report, key, NULL, "", TH_PLAIN, th_text(exact));
    th_report_fact(report, NULL, "  at", "", TH_PLAIN, th_text(when));
}

static void extremes(struct th_report *report, const struct th_case *one, const struct th_tally *t)
{
    const bool typical = one->climate->typical;
    /* Known from whole winters only. */
    if (!isfinite(t->coldest_out_c))
        return;
    th_report_fact(report, "coldest_f", "Coldest hour outdoors with pigs", "°F", TH_TENTHS,
                   th_number(th_f_from_c(t->coldest_out_c)));
    at_fact(report, "coldest_hour", t->coldest_hour, typical);
    th_report_fact(report, "room_lowest_f", "Lowest the room fell to, swing included", "°F",
                   TH_TENTHS, th_number(th_f_from_c(t->lowest_c)));
    th_report_fact(report, "peak_gas_btu_h", "Highest hourly gas demand, one room", "Btu/h",
                   TH_SIG3, th_number(t->peak_gas_w / TH_W_PER_BTUH));
    at_fact(report, "peak_hour", t->peak_hour, typical);
    th_report_fact(report, "rh_highest_pct", "Highest humidity (indicative)", "%", TH_WHOLE,
                   th_number(100.0 * t->highest_rh));
    th_report_fact(report, "co2_highest_ppm", "Highest CO2", "ppm", TH_SIG2,
                   th_number(t->highest_co2_ppm));
}

/* Degree-hours below the comfort limit, of the mean turn and of the worst one. */
static void cold_facts(struct th_report *report, const struct th_winters *winters,
                       const struct th_tally *total)
{
    double mean_kh = 0.0, worst_kh = 0.0;
    int turns = 0;
    for (int i = 0; i < winters->n; i++) {
        const struct th_season *season = &winters->seasons[i];
        for (int k = 0; season->counted && k < season->n_turns; k++) {
            if (!season->turns[k].counted)
                continue;
            turns++;
            mean_kh += th_tally_cold_kh(&season->turns[k].total);
            worst_kh = fmax(worst_kh, th_tally_cold_kh(&season->turns[k].total));
        }
    }
    th_report_fact(report, "below_comfort_f_h", "Mean of an hour below comfort, a mean turn",
                   "°F h", TH_SIG3, th_number_if(turns > 0, mean_kh / turns / TH_K_PER_F));
    th_report_fact(report, "below_comfort_worst_f_h", "  the worst turn", "°F h", TH_SIG3,
                   th_number(worst_kh / TH_K_PER_F));
    th_report_fact(report, "below_comfort_deepest_f", "  at most below it, mean of an hour", "°F",
                   TH_TENTHS, th_number(total->deepest_below_k / TH_K_PER_F));
}

enum th_code th_budget_pigs(struct th_report *report, const struct th_case *one,
                            const struct th_winters *winters, struct th_error *err)
{
    static const struct {
        enum th_tally_item item;
        const char *key;
        const char *label;
    } rows[] = {{TH_BELOW_SET, "below_set_h", "Below set point by more than 0.5 °F"},
                {TH_BELOW_COMFORT, "below_comfort_h", "Low of the swing under the comfort limit"},
                {TH_UNMET, "unmet_h", "Heaters could not keep up"},
                {TH_OVER_RH, "over_rh_h", "Over the humidity ceiling (indicative)"},
                {TH_OVER_CO2_DESIGN, "over_co2_design_h", "Over the CO2 design ceiling"},
                {TH_OVER_CO2_WORKER, "over_co2_worker_h", "Over the CO2 limit for people"},
                {TH_UNREACHED, "unreached_h", "A controlled ceiling could not be held"},
                {TH_INTERACT, "interact_h", "Heater stages interact"},
                {TH_BEYOND_STAGE, "beyond_stage_h", "Heater peak beyond the first fan stage"},
                {TH_WARM, "warm_h", "Warmer than the fans can hold (not modelled)"}};
    struct th_tally t;
    th_winters_total(winters, &t);
    th_report_section(report, "pigs", "For the pigs: hours of a mean season, one room");
    th_report_fact(report, "growing_h", "Hours simulated, preheat included", "h", TH_WHOLE,
                   th_number(t.sum[TH_HOURS] / winters->n_counted));
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        th_report_fact(report, rows[i].key, rows[i].label, "h", TH_WHOLE,
                       th_number(t.sum[rows[i].item] / winters->n_counted));
    cold_facts(report, winters, &t);
    if (t.sum[TH_HEAT_WANTED] > 0.0)
        th_report_fact(report, "heated_mean_f", "Mean room temperature while heating", "°F",
                       TH_TENTHS,
                       th_number(th_f_from_c(t.sum[TH_HEATED_KH] / t.sum[TH_HEAT_WANTED])));
    extremes(report, one, &t);
    return th_report_air_classes(report, one->room, err);
}
