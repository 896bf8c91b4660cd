/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_shape.h"

#include "barn_layers.h"
#include "turnheat/envelope.h"
#include "turnheat/units.h"

#include <math.h>
#include <stdio.h>

/* Doors and fan openings together, between an insulated door and a fan's shutter: our judgement. */
#define DOORS_R (2.0 * TH_R_SI_PER_US)
#define CONCRETE "concrete 8 in"

static bool has_kind(const struct th_room *room, int n, enum th_surface_kind kind)
{
    for (int i = 0; i < n; i++)
        if (room->surfaces[i].kind == kind &&
            (kind == TH_CEILING || room->surfaces[i].faces == TH_FACES_OUTSIDE))
            return true;
    return false;
}

static double area_of(const struct th_room *room, enum th_surface_kind kind)
{
    double area_m2 = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        if (room->surfaces[i].kind == kind && room->surfaces[i].faces == TH_FACES_OUTSIDE)
            area_m2 += room->surfaces[i].area_m2;
    return area_m2;
}

static double whole_ft2(double area_m2)
{
    return round(area_m2 / TH_M2_PER_FT2) * TH_M2_PER_FT2;
}

static void add(struct th_apply *apply, struct th_room *room, const char *name,
                enum th_surface_kind kind, double area_m2, double r_m2k_w)
{
    if (room->n_surfaces >= TH_SURFACES_MAX) {
        th_apply_error(apply, "room", "", "there are too many surfaces; expected at most %d",
                       TH_SURFACES_MAX);
        return;
    }
    struct th_surface *const surface = &room->surfaces[room->n_surfaces++];
    *surface = (struct th_surface){.kind = kind,
                                   .faces = kind == TH_CEILING ? TH_FACES_ATTIC : TH_FACES_OUTSIDE,
                                   .area_m2 = whole_ft2(area_m2),
                                   .r_m2k_w = r_m2k_w};
    snprintf(surface->name, sizeof surface->name, "%s", name);
}

static double outer_edge_m(const struct th_apply *apply, const struct th_shell *shell)
{
    return th_apply_holds(apply, "room", "perimeter") ? shell->perimeter_m
                                                      : 2.0 * (shell->length_m + shell->width_m);
}

static void add_curtain(struct th_apply *apply, struct th_room *room, double height_m)
{
    const struct th_assembly *const curtain = th_assembly_find("curtain");
    double r_m2k_w = 0.0;
    th_envelope_r(curtain->layers, curtain->n_layers, curtain->framing_share, &r_m2k_w, NULL);
    add(apply, room, "curtains", TH_CURTAIN, 2.0 * room->shell.length_m * height_m, r_m2k_w);
}

static void add_concrete(struct th_apply *apply, struct th_room *room, double height_m)
{
    double r_m2k_w = 0.0;
    th_layers_r(CONCRETE, 0.0, TH_WALL, TH_FACES_OUTSIDE, &r_m2k_w, NULL);
    add(apply, room, "concrete", TH_WALL, outer_edge_m(apply, &room->shell) * height_m, r_m2k_w);
}

/* What curtains, concrete and doors leave of the outer walls. */
static void add_walls(struct th_apply *apply, struct th_room *room, double r_m2k_w)
{
    const double all_m2 = outer_edge_m(apply, &room->shell) * room->shell.height_m;
    const double left_m2 =
        all_m2 - area_of(room, TH_CURTAIN) - area_of(room, TH_WALL) - area_of(room, TH_DOOR);
    if (left_m2 > 0.5 * TH_M2_PER_FT2)
        add(apply, room, "walls", TH_WALL, left_m2, r_m2k_w);
    else if (left_m2 < -0.005 * all_m2)
        th_apply_error(apply, "room", "walls",
                       "curtains, concrete and doors are %.0f ft2 larger than the outer walls; "
                       "expected less of them",
                       -left_m2 / TH_M2_PER_FT2);
}

void th_barn_shape_surfaces(struct th_apply *apply, struct th_room *room)
{
    const int own = room->n_surfaces;
    const bool own_walls = has_kind(room, own, TH_WALL);
    const double curtain_m = th_apply_number(apply, "room", "curtain_height");
    const double concrete_m = th_apply_number(apply, "room", "concrete_height");
    const double doors_m2 = th_apply_number(apply, "room", "doors");
    if (th_apply_is_bad(apply, "room"))
        return;
    if (curtain_m > 0.0 && !has_kind(room, own, TH_CURTAIN))
        add_curtain(apply, room, curtain_m);
    if (concrete_m > 0.0 && !own_walls)
        add_concrete(apply, room, concrete_m);
    if (doors_m2 > 0.0 && !has_kind(room, own, TH_DOOR))
        add(apply, room, "doors and fans", TH_DOOR, doors_m2, DOORS_R);
    if (th_apply_holds(apply, "room", "walls") && !own_walls)
        add_walls(apply, room, th_apply_number(apply, "room", "walls"));
    if (th_apply_holds(apply, "room", "ceiling") && !has_kind(room, own, TH_CEILING))
        add(apply, room, "ceiling", TH_CEILING, room->shell.length_m * room->shell.width_m,
            th_apply_number(apply, "room", "ceiling"));
}
