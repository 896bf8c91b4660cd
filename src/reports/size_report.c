/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "size_report.h"

#include "fuel_unit.h"
#include "turnheat/air.h"
#include "turnheat/envelope.h"
#include "turnheat/psychro.h"
#include "turnheat/tank.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Recommended ratio of installed to needed: common practice, no source. */
#define RATIO_LOW 1.15
#define RATIO_HIGH 1.25
/* Largest unvented input per volume: Ontario clause 7.36.1. */
#define UNVENTED_BTUH_FT3 20.0
/* Ventilating efficiency of small fans, cfm per W: our judgement. */
#define FAN_CFM_W 12.0
#define VAPOUR_LEVEL 0.30
#define DAY_STEP 14

static double btuh(double w)
{
    return w / TH_W_PER_BTUH;
}

static enum th_code need_rows(struct th_report *report, const struct th_case *one,
                              const struct th_design_case *cases, int n, struct th_error *err)
{
    const double installed_w = th_sizing_installed_w(one->room, NULL);
    const double out_w = th_sizing_one_out_w(one->room);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < 2; k++) {
            struct th_sizing s;
            char when[64];
            if (!(k ? cases[i].has_996 : cases[i].has_99))
                continue;
            const double out_c = k ? cases[i].out_996_c : cases[i].out_99_c;
            const enum th_code code = th_sizing_run(one->room, out_c, &s, err);
            if (code != TH_OK)
                return code;
            snprintf(when, sizeof when, "%s %% %s", k ? "99.6" : "99", cases[i].from);
            th_report_row(report, (struct th_value[]){
                                      th_text(when), th_number(th_f_from_c(out_c)),
                                      th_number(btuh(s.load_w)), th_number(btuh(s.needed_w)),
                                      th_number(btuh(s.preheat_w)), th_number(s.day),
                                      th_number_if(s.needed_w > 0.0, installed_w / s.needed_w),
                                      th_number_if(s.needed_w > 0.0, out_w / s.needed_w)});
        }
    return TH_OK;
}

static enum th_code need_table(struct th_report *report, const struct th_case *one,
                               const struct th_design_case *cases, int n, struct th_error *err)
{
    static const struct th_column columns[] = {
        {"design", "Design day", "", TH_PLAIN},
        {"outdoor_f", "Outdoors", "°F", TH_TENTHS},
        {"load_btu_h", "Heat needed", "Btu/h", TH_SIG3},
        {"needed_btu_h", "Heater input needed", "Btu/h", TH_SIG3},
        {"preheat_btu_h", "Input to hold preheat", "Btu/h", TH_SIG3},
        {"worst_day", "Day of the turn, 0 = placed", "", TH_WHOLE},
        {"installed_ratio", "Installed / needed", "", TH_HUNDREDTHS},
        {"one_out_ratio", "With one unit out", "", TH_HUNDREDTHS}};
    th_report_section(report, "need", "What the room needs");
    th_report_table(report, "need", "At set point, 15 mph wind, no margin", columns, 8);
    const enum th_code code = need_rows(report, one, cases, n, err);
    th_report_fact(report, "installed_btu_h", "Installed input", "Btu/h", TH_SIG3,
                   th_number(btuh(th_sizing_installed_w(one->room, NULL))));
    th_report_paragraph(report, NULL,
                        "Recommended installed over needed: %.2f to %.2f (common practice, no "
                        "source). More than that overshoots and burns more; see compare.",
                        RATIO_LOW, RATIO_HIGH);
    return code;
}

static enum th_code age_rows(struct th_report *report, const struct th_engine *engine,
                             const struct th_design_case *design, struct th_error *err)
{
    const struct th_schedule *schedule = &engine->schedules[0];
    for (int day = 0; day < schedule->n; day += DAY_STEP) {
        const struct th_day *d = &schedule->days[day];
        struct th_hour_out at_99, at_996;
        enum th_code code = th_sizing_hour(engine, 0, day, design->out_99_c, &at_99, err);
        if (code == TH_OK && design->has_996)
            code = th_sizing_hour(engine, 0, day, design->out_996_c, &at_996, err);
        if (code != TH_OK)
            return code;
        th_report_row(report,
                      (struct th_value[]){
                          th_number(day), th_number(d->mass_kg / TH_KG_PER_LB),
                          th_number(th_f_from_c(d->set_c)), th_number(d->fan_m3_s / TH_M3S_PER_CFM),
                          th_number(th_air_inlet_m2(d->fan_m3_s, TH_AIR_INLET_M_S) / TH_M2_PER_FT2),
                          th_number(btuh(at_99.heating.heat_w)),
                          th_number_if(design->has_996,
                                       design->has_996 ? btuh(at_996.heating.heat_w) : 0.0)});
    }
    return TH_OK;
}

static enum th_code age_figure(struct th_report *report, const struct th_engine *engine,
                               const struct th_design_case *design, struct th_error *err)
{
    static const struct th_column columns[] = {{"day", "Day of the turn", "", TH_WHOLE},
                                               {"load_btu_h", "heat needed", "", TH_SIG3},
                                               {"installed_btu_h", "heat installed", "", TH_SIG3}};
    const struct th_schedule *schedule = &engine->schedules[0];
    double installed_w;
    th_sizing_installed_w(engine->room, &installed_w);
    th_report_figure(report,
                     &(struct th_figure){.key = "age_figure",
                                         .caption = "Heat needed on the 99 % design day by age",
                                         .alternative =
                                             "A line of the heat needed by day of the turn "
                                             "under the line of what is installed.",
                                         .chart = TH_LINES,
                                         .y_label = "1,000 Btu/h"},
                     columns, 3);
    for (int day = 0; day < schedule->n; day += 3) {
        struct th_hour_out hour;
        const enum th_code code = th_sizing_hour(engine, 0, day, design->out_99_c, &hour, err);
        if (code != TH_OK)
            return code;
        th_report_row(report, (struct th_value[]){th_number(day),
                                                  th_number(btuh(hour.heating.heat_w) / 1e3),
                                                  th_number(btuh(installed_w) / 1e3)});
    }
    return TH_OK;
}

static enum th_code age_table(struct th_report *report, const struct th_case *one,
                              const struct th_design_case *design, struct th_error *err)
{
    static const struct th_column columns[] = {
        {"day", "Day", "", TH_WHOLE},
        {"weight_lb", "Weight", "lb", TH_WHOLE},
        {"set_f", "Set point", "°F", TH_TENTHS},
        {"minimum_cfm", "Minimum air", "cfm", TH_SIG3},
        {"inlet_ft2", "Inlet opening at 800 ft/min", "ft²", TH_HUNDREDTHS},
        {"load_99_btu_h", "Heat needed, 99 %", "Btu/h", TH_SIG3},
        {"load_996_btu_h", "99.6 %", "Btu/h", TH_SIG3}};
    struct th_engine engine;
    enum th_code code = th_engine_init(&engine, one->room, err);
    if (code != TH_OK)
        return code;
    char caption[96];
    snprintf(caption, sizeof caption, "Turn %s, every two weeks, %s", one->room->turns[0].name,
             design->from);
    th_report_section(report, "by_age", "By age of the pigs");
    th_report_table(report, "by_age", caption, columns, 7);
    code = age_rows(report, &engine, design, err);
    if (code == TH_OK)
        code = age_figure(report, &engine, design, err);
    th_engine_finish(&engine);
    return code;
}

static int units_for(const struct th_room *room, double needed_w)
{
    const double share = th_sizing_altitude_share(room->site.elevation_m);
    return (int)ceil(RATIO_LOW * needed_w / (room->heaters[0].input_w * share) - 1e-9);
}

static void heater_section(struct th_report *report, const struct th_case *one,
                           const struct th_sizing *worst, double autumn_w)
{
    const struct th_room *room = one->room;
    const double installed_w = th_sizing_installed_w(room, NULL);
    th_report_section(report, "heaters", "Heaters");
    if (room->n_heaters > 0)
        th_report_fact(report, "units_count", "Units of this size for 1.15 × the need", "",
                       TH_WHOLE, th_number(units_for(room, worst->needed_w)));
    th_report_fact(report, "altitude_share_pct", "Rating kept at this elevation", "%", TH_WHOLE,
                   th_number(100.0 * th_sizing_altitude_share(room->site.elevation_m)));
    th_report_fact(report, "autumn_btu_h", "Input needed at 45 °F outdoors, new pigs", "Btu/h",
                   TH_SIG3, th_number(btuh(autumn_w)));
    th_report_fact(report, "autumn_fire_pct", "that is, of what is installed", "%", TH_WHOLE,
                   th_number_if(installed_w > 0.0, 100.0 * autumn_w / installed_w));
    th_report_paragraph(
        report, NULL,
        "A variable-output heater whose lowest fire lies above that share starts and "
        "stops in autumn as a fixed one does.");
}

static double zone_input_w(const struct th_room *room)
{
    if (!room->zone.on)
        return 0.0;
    const double units = room->zone.units > 0.0
                             ? room->zone.units
                             : ceil(room->turns[0].head / room->zone.pigs_per_unit);
    return units * room->zone.input_w;
}

static void gas_section(struct th_report *report, const struct th_case *one, double out_c)
{
    const struct th_room *room = one->room;
    const double peak_w = room->copies * (th_sizing_installed_w(room, NULL) + zone_input_w(room));
    th_report_section(report, "gas", "Gas supply");
    th_report_fact(report, "peak_gas_btu_h", "All burners lit, all copies of the room", "Btu/h",
                   TH_SIG3, th_number(btuh(peak_w)));
    if (room->fuel.gas != TH_PROPANE)
        return;
    th_report_fact(report, "peak_gas_gal_h", "that is", "gal/h", TH_TENTHS,
                   th_number(peak_w * TH_S_PER_H / room->fuel.hhv_j));
    static const double sizes[] = {500.0, 1000.0, 1990.0};
    static const struct th_column columns[] = {
        {"tank_gal", "Tank", "gal", TH_WHOLE},
        {"vapour_btu_h", "Vapour, 30 % full on the design day", "Btu/h", TH_SIG3},
        {"tanks_count", "Tanks for all burners", "", TH_WHOLE}};
    th_report_table(report, "tanks", "What tanks can vaporise", columns, 3);
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct th_tank tank;
        th_tank_defaults(&tank);
        tank.capacity_gal = sizes[i];
        if (th_tank_size(sizes[i], &tank.diameter_m, &tank.length_m, NULL) != TH_OK)
            continue;
        const double vapour_w = th_tank_vapour_w(&tank, VAPOUR_LEVEL, out_c);
        th_report_row(report,
                      (struct th_value[]){th_number(sizes[i]), th_number(btuh(vapour_w)),
                                          th_number_if(vapour_w > 0.0, ceil(peak_w / vapour_w))});
    }
    th_report_paragraph(report, NULL,
                        "A rule for tanks in use day after day (from memory); whether a vaporiser "
                        "or more tanks are right is the supplier's decision.");
}

static void air_section(struct th_report *report, const struct th_case *one)
{
    const struct th_room *room = one->room;
    double unvented_w = zone_input_w(room), blowers_w = 0.0;
    for (int i = 0; i < room->n_heaters; i++) {
        if (!room->heaters[i].vented)
            unvented_w += room->heaters[i].units * room->heaters[i].input_w;
        blowers_w += room->heaters[i].units * room->heaters[i].blower_w;
    }
    const double per_ft3 = btuh(unvented_w) / (room->shell.volume_m3 / TH_M3_PER_FT3);
    const double fans_w = room->air.max_m3_s / TH_M3S_PER_CFM / FAN_CFM_W;
    th_report_section(report, "air", "Air for burners, and standby power");
    th_report_fact(report, "burner_air_cfm", "Air while all unvented burners fire", "cfm", TH_SIG3,
                   th_number(room->air.burner_air_m3_s_w * unvented_w / TH_M3S_PER_CFM));
    th_report_fact(report, "unvented_btu_h_ft3", "Unvented input per volume (limit 20)",
                   "Btu/h ft³", TH_TENTHS, th_number(per_ft3));
    if (per_ft3 > UNVENTED_BTUH_FT3)
        th_report_warning(report,
                          "%s: unvented burners of %.1f Btu/h per ft³ are above the limit of 20 "
                          "(Ontario clause 7.36.1): vent some of them.",
                          room->name, per_ft3);
    th_report_fact(report, "standby_kw", "Standby power for all fans and blowers", "kW", TH_SIG2,
                   th_number(room->copies * (fans_w + blowers_w) / 1000.0));
    th_report_paragraph(report, NULL,
                        "Standby: the installed maximum air at 12 cfm a watt (our judgement) plus "
                        "heater blowers, running; motors take several times that when they start. "
                        "Controls, lights and wells are not in it.");
}

static double film(const struct th_surface *surface)
{
    return surface->kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
}

static enum th_code dry_section(struct th_report *report, const struct th_case *one,
                                const struct th_sizing *worst, struct th_error *err)
{
    static const struct th_column columns[] = {{"surface", "Surface", "", TH_PLAIN},
                                               {"r_us", "R", "", TH_TENTHS},
                                               {"inside_f", "Inside face", "°F", TH_TENTHS},
                                               {"dry", "Stays dry", "", TH_PLAIN},
                                               {"dry_r_us", "R that stays dry", "", TH_TENTHS}};
    const struct th_room *room = one->room;
    double dew_c;
    const enum th_code code =
        th_psy_dew_point(worst->room_w_kg_kg, th_psy_pressure(room->site.elevation_m), &dew_c, err);
    if (code != TH_OK)
        return code;
    th_report_section(report, "condensation", "Condensation on the design day");
    th_report_fact(report, "room_f", "Room", "°F", TH_TENTHS,
                   th_number(th_f_from_c(worst->room_c)));
    th_report_fact(report, "rh_pct", "Humidity (indicative)", "%", TH_WHOLE,
                   th_number(100.0 * worst->rh));
    th_report_fact(report, "dew_f", "Dew point", "°F", TH_TENTHS, th_number(th_f_from_c(dew_c)));
    th_report_table(report, "surfaces", "Each surface", columns, 5);
    for (int i = 0; i < room->n_surfaces; i++) {
        const struct th_surface *s = &room->surfaces[i];
        const double inside_c =
            th_envelope_inside_surface_c(worst->room_c, worst->out_c, s->r_m2k_w, film(s));
        const double r = th_sizing_dry_r_m2k_w(worst->room_c, worst->out_c, dew_c, film(s));
        th_report_row(
            report, (struct th_value[]){th_text(s->name), th_number(s->r_m2k_w / TH_R_SI_PER_US),
                                        th_number(th_f_from_c(inside_c)), th_bool(inside_c > dew_c),
                                        th_number(r / TH_R_SI_PER_US)});
    }
    return TH_OK;
}

static enum th_code autumn_input(const struct th_case *one, double *needed_w, struct th_error *err)
{
    struct th_engine engine;
    struct th_hour_out hour;
    enum th_code code = th_engine_init(&engine, one->room, err);
    if (code != TH_OK)
        return code;
    code = th_sizing_hour(&engine, 0, 0, th_c_from_f(45.0), &hour, err);
    *needed_w = hour.heating.gas_w;
    th_engine_finish(&engine);
    return code;
}

enum th_code th_size_report(struct th_report *report, const struct th_case *one,
                            const struct th_design_case *cases, int n, struct th_error *err)
{
    struct th_sizing worst;
    double autumn_w = 0.0;
    enum th_code code = need_table(report, one, cases, n, err);
    if (code == TH_OK)
        code = th_sizing_run(one->room, cases[0].out_99_c, &worst, err);
    if (code == TH_OK)
        code = autumn_input(one, &autumn_w, err);
    if (code == TH_OK)
        code = age_table(report, one, &cases[0], err);
    if (code != TH_OK)
        return code;
    heater_section(report, one, &worst, autumn_w);
    gas_section(report, one, cases[0].out_99_c);
    air_section(report, one);
    return dry_section(report, one, &worst, err);
}
