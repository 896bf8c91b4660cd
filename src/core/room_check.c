/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong or doubtful in a room: ranges first, then what one value alone cannot show. */
#include "room_check.h"

#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

static void find(int *n, struct th_finding *list, const char *section, const char *key,
                 const char *format, va_list args)
{
    if (*n < TH_FINDINGS_MAX) {
        struct th_finding *finding = &list[*n];
        snprintf(finding->section, sizeof finding->section, "%s", section);
        snprintf(finding->key, sizeof finding->key, "%s", key);
        vsnprintf(finding->text, sizeof finding->text, format, args);
    }
    (*n)++;
}

void th_find_error(struct th_findings *f, const char *section, const char *key, const char *format,
                   ...)
{
    va_list args;
    va_start(args, format);
    find(&f->n_errors, f->errors, section, key, format, args);
    va_end(args);
}

void th_find_warning(struct th_findings *f, const char *section, const char *key,
                     const char *format, ...)
{
    va_list args;
    va_start(args, format);
    find(&f->n_warnings, f->warnings, section, key, format, args);
    va_end(args);
}

bool th_find_range(struct th_findings *f, const char *section, const char *key, double value,
                   double low, double high)
{
    if (isfinite(value) && value >= low && value <= high)
        return true;
    th_find_error(f, section, key, "%s lies outside its range", key);
    return false;
}

static void check_shell(const struct th_room *room, struct th_findings *f)
{
    const struct th_shell *shell = &room->shell;
    if (!(shell->floor_m2 > 0.0) || !(shell->volume_m3 > 0.0))
        th_find_error(f, "room", "length",
                      "the room has no size: give length, width and height, or floor and volume");
    th_find_range(f, "room", "floor", shell->floor_m2, 0.0, 1e5);
    th_find_range(f, "room", "volume", shell->volume_m3, 0.0, 1e6);
    th_find_range(f, "room", "perimeter", shell->perimeter_m, 0.0, 1e4);
    th_find_range(f, "room", "slab_edge", shell->edge_f_w_mk, 0.0, 10.0);
    th_find_range(f, "room", "stratification", shell->stratification_k, 0.0, 20.0);
    th_find_range(f, "room", "mass", shell->mass_j_m2k, 0.0, 5e6);
    th_find_range(f, "room", "mass_contact", shell->mass_h_w_m2k, 0.0, 100.0);
    th_find_range(f, "room", "internal", shell->internal_w, 0.0, 1e6);
    th_find_range(f, "room", "copies", room->copies, 1, 1000);
    if (room->n_turns > 0)
        th_find_range(f, "room", "spaces", room->spaces, 1.0, 1e5);
}

static void check_site(const struct th_site *site, struct th_findings *f)
{
    if (!site->has_elevation)
        th_find_error(f, "site", "elevation",
                      "the elevation is missing: air is thinner higher up, so every air flow needs "
                      "it");
    else
        th_find_range(f, "site", "elevation", site->elevation_m, -400.0, 5000.0);
    if (site->has_utc_offset)
        th_find_range(f, "site", "utc_offset", site->utc_offset_h, -12.0, 14.0);
}

/* US R-80, twice the deepest ceilings in use: our judgement. */
#define HIGHEST_SENSIBLE_R (80.0 * TH_R_SI_PER_US)

static void check_surface(const struct th_surface *surface, struct th_findings *f)
{
    char section[TH_NAME_MAX + 12];
    snprintf(section, sizeof section, "surface %s", surface->name);
    if (!(surface->r_m2k_w > 0.0))
        th_find_error(f, section, "R",
                      "R must be above 0: nothing stops heat but air films do, and "
                      "even bare steel has R 0.85");
    else
        th_find_range(f, section, "R", surface->r_m2k_w, 0.0, 50.0);
    if (surface->r_m2k_w > HIGHEST_SENSIBLE_R)
        th_find_warning(f, section, "R", "R-%.0f is more than barns are built with: was it metric?",
                        surface->r_m2k_w / TH_R_SI_PER_US);
    if (!(surface->area_m2 > 0.0))
        th_find_error(f, section, "area", "the area must be above 0");
    else
        th_find_range(f, section, "area", surface->area_m2, 0.0, 1e6);
    if (surface->loose_fill && surface->faces != TH_FACES_ATTIC)
        th_find_warning(f, section, "loose_fill",
                        "loose fill loses R on an attic floor only, and this surface does not face "
                        "the attic: its R is taken as given");
}

/* Walls, curtains and doors that face outdoors against the wall the slab's edge and the height
 * make; gables and high sides may add to it, walls shared with other rooms may be left out. */
static void check_sides(const struct th_room *room, struct th_findings *f)
{
    const struct th_shell *shell = &room->shell;
    const double height_m = shell->floor_m2 > 0.0 ? shell->volume_m3 / shell->floor_m2 : 0.0;
    const double sides_m2 = shell->perimeter_m * height_m;
    double given_m2 = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        if (room->surfaces[i].kind != TH_CEILING && room->surfaces[i].faces == TH_FACES_OUTSIDE)
            given_m2 += room->surfaces[i].area_m2;
    if (room->n_surfaces > 0 && sides_m2 > 0.0 &&
        (given_m2 < 0.5 * sides_m2 || given_m2 > 1.3 * sides_m2))
        th_find_warning(f, "room", "",
                        "walls, curtains and doors add up to %s ft², but the outer edge times the "
                        "height is %s ft²",
                        th_whole(given_m2 / TH_M2_PER_FT2).text,
                        th_whole(sides_m2 / TH_M2_PER_FT2).text);
}

static void check_surfaces(const struct th_room *room, struct th_findings *f)
{
    if (room->n_surfaces < 1)
        th_find_error(f, "room", "", "the room has no surface: add [surface ceiling] and so on");
    double ceiling_m2 = 0.0;
    double attic_m2 = 0.0;
    for (int i = 0; i < room->n_surfaces; i++) {
        const struct th_surface *surface = &room->surfaces[i];
        check_surface(surface, f);
        ceiling_m2 += surface->kind == TH_CEILING ? surface->area_m2 : 0.0;
        attic_m2 += surface->faces == TH_FACES_ATTIC ? surface->area_m2 : 0.0;
    }
    const double floor_m2 = room->shell.floor_m2;
    if (room->n_surfaces > 0 && floor_m2 > 0.0 &&
        (ceiling_m2 < 0.8 * floor_m2 || ceiling_m2 > 2.0 * floor_m2))
        th_find_warning(f, "room", "", "the ceiling (%s ft²) does not fit the floor (%s ft²)",
                        th_whole(ceiling_m2 / TH_M2_PER_FT2).text,
                        th_whole(floor_m2 / TH_M2_PER_FT2).text);
    check_sides(room, f);
    if ((attic_m2 > 0.0 || room->air.inlet == TH_INLET_ATTIC) &&
        !(room->shell.roof_m2 > 0.0 && room->shell.roof_r_m2k_w > 0.0))
        th_find_error(f, "room", "roof_area", "an attic needs the roof's area and R above it");
    if (room->air.inlet == TH_INLET_ATTIC && !(attic_m2 > 0.0))
        th_find_error(f, "air", "inlet_air", "air comes from the attic, but no surface faces it");
}

static void check_calibration(const struct th_calibration *calibration, struct th_findings *f)
{
    th_find_range(f, "calibration", "ua_factor", calibration->ua_factor, 0.3, 3.0);
    th_find_range(f, "calibration", "air_factor", calibration->air_factor, 0.3, 3.0);
    th_find_range(f, "calibration", "set_shift", calibration->set_shift_k, -6.0, 6.0);
}

static void check_fuel_and_money(const struct th_room *room, struct th_findings *f)
{
    const struct th_fuel *fuel = &room->fuel;
    const struct th_money *money = &room->money;
    th_find_range(f, "fuel", "heat_content", fuel->hhv_j, 1e6, 1e10);
    th_find_range(f, "fuel", "lower_share", fuel->lhv_share, 0.8, 1.0);
    th_find_range(f, "fuel", "freeze", fuel->freeze_c, -10.0, 25.0);
    if (fuel->has_price)
        th_find_range(f, "fuel", "price", fuel->price, 0.0, 100.0);
    th_find_range(f, "money", "electricity", money->electricity_j, 0.0, 1e-5);
    th_find_range(f, "money", "discount", money->discount, -0.05, 0.5);
    th_find_range(f, "money", "fuel_growth", money->fuel_growth, -0.2, 0.2);
    th_find_range(f, "money", "years", money->years, 1, 50);
    th_find_range(f, "money", "payer_share", money->payer_share, 0.0, 1.0);
    th_find_range(f, "money", "loan_share", money->loan_share, 0.0, 1.0);
    th_find_range(f, "money", "loan_rate", money->loan_rate, 0.0, 0.5);
    th_find_range(f, "money", "loan_years", money->loan_years, 1, 50);
    th_find_range(f, "money", "inflation", money->inflation, -0.05, 0.5);
    th_find_range(f, "money", "tax_rate", money->tax_rate, 0.0, 0.9);
}

void th_room_review(const struct th_room *room, struct th_findings *findings)
{
    findings->n_errors = 0;
    findings->n_warnings = 0;
    check_shell(room, findings);
    check_site(&room->site, findings);
    check_surfaces(room, findings);
    th_check_air(room, findings);
    th_check_heat(room, findings);
    th_check_pigs(room, findings);
    th_check_turns(room, findings);
    check_fuel_and_money(room, findings);
    check_calibration(&room->calibration, findings);
}

enum th_code th_room_check(const struct th_room *room, struct th_error *err)
{
    struct th_findings findings;
    th_room_review(room, &findings);
    if (findings.n_errors == 0)
        return TH_OK;
    const struct th_finding *first = &findings.errors[0];
    return th_fail(err, TH_ERR_RANGE, "[%s] %s: %s", first->section, first->key, first->text);
}
