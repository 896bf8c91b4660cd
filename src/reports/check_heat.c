/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The air the room moves and the heaters that warm it. */
#include "check_report.h"

#include "heater_text.h"
#include "turnheat/air.h"
#include "turnheat/units.h"

#include <math.h>

#define SHOWN_DELTA_F 60.0
#define SHOWN_WIND_MPH 10.0

static const char *source_of_air(enum th_inlet inlet)
{
    static const char *const texts[] = {[TH_INLET_OUTSIDE] = "outdoors",
                                        [TH_INLET_ATTIC] = "the attic",
                                        [TH_INLET_HALLWAY] = "the hallway"};
    return texts[inlet];
}

static double cfm(double m3_s)
{
    return m3_s / TH_M3S_PER_CFM;
}

void th_checked_air(struct th_report *report, const struct th_room *room)
{
    const struct th_air *air = &room->air;
    th_report_section(report, "air", "Air");
    th_report_fact(report, "inlet_air", "Air comes from", "", TH_PLAIN,
                   th_text(source_of_air(air->inlet)));
    if (air->inlet == TH_INLET_HALLWAY) {
        th_report_fact(report, "hallway_f", "Hallway kept at", "°F", TH_TENTHS,
                       th_number(th_f_from_c(air->hallway_c)));
        th_report_fact(report, "hallway_surplus", "More air than the minimum comes", "", TH_PLAIN,
                       th_text(air->surplus == TH_SURPLUS_OUTSIDE ? "straight from outside"
                                                                  : "through the hallway"));
    }
    th_report_fact(report, "minimum_share_pct", "Minimum air, of the table", "%", TH_WHOLE,
                   th_number(100.0 * air->minimum_share));
    th_report_fact(report, "fan_floor_cfm", "Fans turn down to", "cfm", TH_SIG3,
                   th_number(cfm(air->floor_m3_s)));
    th_report_fact(report, "installed_max_cfm", "Fans installed", "cfm", TH_SIG3,
                   th_number_if(air->max_m3_s > 0.0, cfm(air->max_m3_s)));
    th_report_fact(report, "ramp_start_f", "Fans speed up, above set point", "°F", TH_TENTHS,
                   th_number(air->ramp_start_k / TH_K_PER_F));
    th_report_fact(report, "leak_in2", "Leakage area at 4 Pa", "in²", TH_SIG3,
                   th_number(air->leak_cm2 * 1e-4 / (TH_M_PER_IN * TH_M_PER_IN)));
    th_report_fact(
        report, "leak_cfm", "Leaks, 60 °F colder outdoors and 10 mph wind", "cfm", TH_SIG3,
        th_number(cfm(th_air_leak_m3_s(air->leak_cm2, air->shelter, SHOWN_DELTA_F * TH_K_PER_F,
                                       SHOWN_WIND_MPH * TH_M_S_PER_MPH))));
    const double leak_m3_s = th_air_leak_20_pa_m3_s(air->leak_cm2);
    th_report_fact(report, "leak_20_pa_cfm", "Leaks at 20 Pa", "cfm", TH_SIG3,
                   th_number(cfm(leak_m3_s)));
    if (!room->known.leakage && leak_m3_s > th_room_least_fan_m3_s(room))
        th_report_paragraph(report, NULL,
                            "By the default leakage the shell leaks more at 20 Pa than the fans "
                            "move at minimum, so the inlets would not be in control of the air: "
                            "a blower door or a smoke test tells whether it is so.");
}

static void zone_facts(struct th_report *report, const struct th_room *room)
{
    const struct th_zone *zone = &room->zone;
    th_report_section(report, "zone", "Brooders");
    if (zone->units > 0.0)
        th_report_fact(report, "units_count", "Units", "", TH_WHOLE, th_number(zone->units));
    else
        th_report_fact(report, "pigs_per_unit_count", "Pigs to a unit", "", TH_WHOLE,
                       th_number(zone->pigs_per_unit));
    th_report_fact(report, "input_btu_h", "Gas input of one", "Btu/h", TH_SIG3,
                   th_number(zone->input_w / TH_W_PER_BTUH));
    th_report_fact(report, "target_f", "At pig level, new pigs", "°F", TH_TENTHS,
                   th_number(th_f_from_c(zone->target_c)));
    th_report_fact(report, "days", "Days in use", "", TH_WHOLE, th_number(zone->days));
    th_report_fact(report, "drop_f", "Room set point lower by", "°F", TH_TENTHS,
                   th_number(zone->drop_k / TH_K_PER_F));
}

void th_checked_heaters(struct th_report *report, const struct th_room *room)
{
    double input_w = 0.0;
    double units = 0.0;
    th_report_section(report, "heaters", "Heaters");
    th_report_table(report, "heaters", "");
    for (int i = 0; i < room->n_heaters; i++) {
        const struct th_heater *h = &room->heaters[i];
        input_w += h->units * h->input_w;
        units += h->units;
        th_report_row(report);
        th_report_cell(report, "heater", "Heater", "", TH_PLAIN, th_text(h->name));
        th_report_cell(report, "units_count", "Units", "", TH_WHOLE, th_number(h->units));
        th_report_cell(report, "input_btu_h", "Input of one", "Btu/h", TH_SIG3,
                       th_number(h->input_w / TH_W_PER_BTUH));
        th_report_cell(report, "control", "Control", "", TH_PLAIN,
                       th_text(th_control_text(h->control)));
        th_report_cell(report, "vented", "Vented", "", TH_PLAIN, th_bool(h->vented));
        th_report_cell(report, "on_below_f", "ON below set", "°F", TH_TENTHS,
                       th_number(h->on_k / TH_K_PER_F));
        th_report_cell(report, "off_below_f", "OFF below set", "°F", TH_TENTHS,
                       th_number(h->off_k / TH_K_PER_F));
        th_report_cell(report, "lowest_fire_pct", "Lowest fire", "%", TH_WHOLE,
                       th_number(100.0 * h->turndown));
    }
    th_report_fact(report, "installed_btu_h", "Installed input, one room", "Btu/h", TH_SIG3,
                   th_number(input_w / TH_W_PER_BTUH));
    th_report_fact(report, "installed_units_count", "in units", "", TH_WHOLE, th_number(units));
    if (room->zone.on)
        zone_facts(report, room);
}
