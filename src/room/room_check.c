/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong or doubtful in a room: ranges first, then what one value alone cannot show. */
#include "room_check.h"

#include "turnheat/thousands.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

static void check_ranges(const struct th_room *room, struct th_findings *f)
{
    const struct th_parameters *const lists[] = {&th_parameters_room,
                                                 &th_parameters_site,
                                                 &th_parameters_air,
                                                 &th_parameters_pigs,
                                                 &th_parameters_setpoints,
                                                 &th_parameters_fuel,
                                                 &th_parameters_money,
                                                 room->zone.on ? &th_parameters_zone : NULL,
                                                 NULL};
    for (const struct th_parameters *const *list = lists; *list; list++)
        th_find_ranges(f, (*list)->section, *list, room);
}

static void check_shell(const struct th_room *room, struct th_findings *f)
{
    const struct th_shell *shell = &room->shell;
    if (!(shell->floor_m2 > 0.0) || !(shell->volume_m3 > 0.0))
        th_find_error(f, "room", "length",
                      "the room has no size: give length, width and height, or floor and volume");
}

static void check_site(const struct th_site *site, struct th_findings *f)
{
    if (!site->has_elevation)
        th_find_error(f, "site", "elevation",
                      "the elevation is missing: air is thinner higher up, so every air flow needs "
                      "it; write it or a place into [site]");
}

/* Less is not found under an attic: our judgement. */
#define LEAST_CEILING_R (8.0 * TH_R_SI_PER_US)

static void check_surface(const struct th_surface *surface, struct th_findings *f)
{
    char section[TH_NAME_MAX + 12];
    snprintf(section, sizeof section, "surface %s", surface->name);
    if (!(surface->r_m2k_w > 0.0))
        th_find_error(f, section, "R",
                      "R must be above 0: nothing stops heat but air films do, and "
                      "even bare steel has R 0.85");
    th_find_ranges(f, section, &th_parameters_surface, surface);
    if (surface->kind == TH_CEILING && surface->r_m2k_w < LEAST_CEILING_R &&
        th_parameters_outside(&th_parameters_surface, surface) == NULL)
        th_find_warning(f, section, "R",
                        "a ceiling of R %.3g loses more than barns are built for (R 12 to 50): is "
                        "it metric? R %.3g would then be meant, written %.3g m2K/W",
                        surface->r_m2k_w / TH_R_SI_PER_US,
                        surface->r_m2k_w / TH_R_SI_PER_US / TH_R_SI_PER_US,
                        surface->r_m2k_w / TH_R_SI_PER_US);
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

/* What payback would refuse. */
static void check_loan(const struct th_money *money, struct th_findings *f)
{
    if (money->loan_share > 0.0 && money->loan_years > money->years)
        th_find_error(f, "money", "loan_years",
                      "loan_years = %d goes beyond the years looked at, years = %d",
                      money->loan_years, money->years);
}

void th_room_review(const struct th_room *room, struct th_findings *findings)
{
    findings->n_errors = 0;
    findings->n_warnings = 0;
    check_ranges(room, findings);
    check_shell(room, findings);
    check_loan(&room->money, findings);
    check_site(&room->site, findings);
    check_surfaces(room, findings);
    th_check_air(room, findings);
    th_check_heat(room, findings);
    th_check_pigs(room, findings);
    th_check_turns(room, findings);
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
