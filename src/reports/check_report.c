/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check_report.h"

#include "fuel_unit.h"
#include "outlook_text.h"
#include "overshoot_text.h"
#include "turnheat/units.h"

#include <stdio.h>

static double ua_us(double w_k)
{
    return w_k / TH_UA_SI_PER_US;
}

static void barn_section(struct th_report *report, const struct th_barn *barn)
{
    const struct th_room *room = &barn->room;
    const struct th_site *site = &room->site;
    th_report_section(report, "barn", "The room");
    th_report_fact(report, "file", "Barn file", "", TH_PLAIN, th_text(barn->path));
    if (barn->farm_path[0])
        th_report_fact(report, "farm_file", "Farm file", "", TH_PLAIN, th_text(barn->farm_path));
    for (int i = 0; i < barn->n_weather; i++)
        th_report_fact(report, NULL, i == 0 ? "Weather file" : "", "", TH_PLAIN,
                       th_text(barn->weather[i]));
    th_report_table(report, "weather_files", NULL);
    for (int i = 0; i < barn->n_weather; i++) {
        th_report_row(report);
        th_report_cell(report, "file", "", "", TH_PLAIN, th_text(barn->weather[i]));
    }
    if (barn->n_weather == 0)
        th_report_paragraph(report, NULL,
                            barn->room.site.has_latitude
                                ? "No station files are named in [site]: without --weather other "
                                  "commands use winters generated for the place."
                                : "No weather is named in [site]: other commands need --weather.");
    th_report_fact(report, "copies_count", "Identical rooms", "", TH_WHOLE,
                   th_number(room->copies));
    th_report_fact(report, "spaces_count", "Finishing places, one room", "", TH_WHOLE,
                   th_number(room->spaces));
    th_report_fact(report, "floor_ft2", "Floor", "ft²", TH_SIG3,
                   th_number(room->shell.floor_m2 / TH_M2_PER_FT2));
    th_report_fact(report, "volume_ft3", "Volume", "ft³", TH_SIG3,
                   th_number(room->shell.volume_m3 / TH_M3_PER_FT3));
    th_report_fact(report, "elevation_ft", "Elevation", "ft", TH_WHOLE,
                   th_number_if(site->has_elevation, site->elevation_m / TH_M_PER_FT));
    th_report_fact(report, "utc_offset_h", "Standard time minus UTC", "h", TH_PLAIN,
                   th_number_if(site->has_utc_offset, site->utc_offset_h));
    th_report_fact(report, "design_99_f", "Design temperature, 99 %", "°F", TH_TENTHS,
                   th_number_if(site->has_design_99, th_f_from_c(site->design_99_c)));
    th_report_fact(report, "design_996_f", "Design temperature, 99.6 %", "°F", TH_TENTHS,
                   th_number_if(site->has_design_996, th_f_from_c(site->design_996_c)));
    if (room->fuel.has_price) {
        char unit[16];
        snprintf(unit, sizeof unit, "$/%s", th_fuel_unit(&room->fuel)->unit);
        th_report_fact(report, "price_usd_gal", "Fuel price", unit, TH_HUNDREDTHS,
                       th_number(room->fuel.price));
    } else {
        th_report_paragraph(report, NULL, "No fuel price is given: no dollars will be shown.");
    }
}

static const char *beyond(enum th_faces faces)
{
    static const char *const texts[] = {[TH_FACES_OUTSIDE] = "outdoors",
                                        [TH_FACES_ATTIC] = "attic",
                                        [TH_FACES_HALLWAY] = "hallway"};
    return texts[faces];
}

static double surfaces_w_k(const struct th_room *room)
{
    double sum = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        sum += room->surfaces[i].area_m2 / room->surfaces[i].r_m2k_w;
    return sum;
}

void th_checked_shell(struct th_report *report, const struct th_room *room)
{
    const double edge_w_k = room->shell.perimeter_m * room->shell.edge_f_w_mk;
    const double all_w_k = surfaces_w_k(room) + edge_w_k;
    th_report_section(report, "shell", "Walls, ceiling and slab edge");
    th_report_table(report, "surfaces", "Heat loss for each °F between inside and beyond");
    for (int i = 0; i < room->n_surfaces; i++) {
        const struct th_surface *s = &room->surfaces[i];
        const double w_k = s->area_m2 / s->r_m2k_w;
        th_report_row(report);
        th_report_cell(report, "surface", "Surface", "", TH_PLAIN, th_text(s->name));
        th_report_cell(report, "faces", "Faces", "", TH_PLAIN, th_text(beyond(s->faces)));
        th_report_cell(report, "area_ft2", "Area", "ft²", TH_WHOLE,
                       th_number(s->area_m2 / TH_M2_PER_FT2));
        th_report_cell(report, "r_us", "R", "", TH_TENTHS, th_number(s->r_m2k_w / TH_R_SI_PER_US));
        th_report_cell(report, "ua_btu_h_f", "Heat loss", "Btu/h °F", TH_WHOLE,
                       th_number(ua_us(w_k)));
        th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE,
                       th_number_if(all_w_k > 0.0, 100.0 * w_k / all_w_k));
    }
    th_report_row(report);
    th_report_cell(report, "surface", "Surface", "", TH_PLAIN, th_text("slab edge"));
    th_report_cell(report, "faces", "Faces", "", TH_PLAIN, th_text("outdoors"));
    th_report_cell(report, "area_ft2", "Area", "ft²", TH_WHOLE, th_missing());
    th_report_cell(report, "r_us", "R", "", TH_TENTHS, th_missing());
    th_report_cell(report, "ua_btu_h_f", "Heat loss", "Btu/h °F", TH_WHOLE,
                   th_number(ua_us(edge_w_k)));
    th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE,
                   th_number_if(all_w_k > 0.0, 100.0 * edge_w_k / all_w_k));
    th_report_total(report);
    th_report_cell(report, "surface", "Surface", "", TH_PLAIN, th_text("all"));
    th_report_cell(report, "faces", "Faces", "", TH_PLAIN, th_missing());
    th_report_cell(report, "area_ft2", "Area", "ft²", TH_WHOLE, th_missing());
    th_report_cell(report, "r_us", "R", "", TH_TENTHS, th_missing());
    th_report_cell(report, "ua_btu_h_f", "Heat loss", "Btu/h °F", TH_WHOLE,
                   th_number(ua_us(all_w_k)));
    th_report_cell(report, "share_pct", "Share", "%", TH_WHOLE, th_number_if(all_w_k > 0.0, 100.0));
    th_report_fitted(report, room);
}

enum th_code th_check_report(struct th_report *report, const struct th_barn *barn, bool farm_told,
                             struct th_error *err)
{
    barn_section(report, barn);
    th_checked_shell(report, &barn->room);
    th_checked_air(report, &barn->room);
    th_checked_heaters(report, &barn->room);
    enum th_code code = th_report_overshoot(report, &barn->room, err);
    if (code == TH_OK)
        code = th_checked_pigs(report, &barn->room, err);
    if (code == TH_OK)
        th_checked_farm(report, barn, farm_told);
    return code;
}
