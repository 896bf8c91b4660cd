/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_room_air.h"

#include "turnheat/air.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"

#include <string.h>

/* Dirt 0.9 and wind 0.9 (extension ventilation text). */
static const double CATALOGUE_DERATE = 0.81;
/* Room air that catalogue flows are turned into: our judgement. */
static const double ROOM_C = 21.0;
static const double ROOM_RH = 0.5;
/* Leakage per floor area: solid walls derived from ASHRAE Trans. 101(1) no. 3869; what curtains add
 * with both long sides curtained (19 % of the floor), less in proportion: our judgement. */
static const double SOLID_CM2_M2 = 1.1;
static const double CURTAINS_ADD_CM2_M2 = 4.9;
static const double CURTAINS_PER_FLOOR = 0.19;

static bool is_chosen(const struct th_apply *apply, const char *key, const char *word)
{
    return strcmp(th_apply_text(apply, "air", key).text, word) == 0;
}

static void convert_flows(const struct th_apply *apply, struct th_room *room)
{
    const bool catalogue = is_chosen(apply, "air_basis", "standard");
    double factor = th_apply_holds(apply, "air", "fan_derate")
                        ? th_apply_number(apply, "air", "fan_derate")
                    : catalogue ? CATALOGUE_DERATE
                                : 1.0;
    if (catalogue) {
        const double pressure = th_psy_pressure(room->site.elevation_m);
        const double w = th_psy_humidity_ratio(ROOM_C, ROOM_RH, pressure);
        factor *= th_air_standard_to_room(1.0, ROOM_C, w, pressure);
    }
    room->air.floor_m3_s *= factor;
    room->air.max_m3_s *= factor;
    room->air.stage_full_m3_s *= factor;
}

static double usual_leak_cm2_m2(const struct th_room *room)
{
    double curtain_m2 = 0.0;
    for (int i = 0; i < room->n_surfaces; i++)
        if (room->surfaces[i].kind == TH_CURTAIN)
            curtain_m2 += room->surfaces[i].area_m2;
    const double full_m2 = CURTAINS_PER_FLOOR * room->shell.floor_m2;
    const double share = curtain_m2 < full_m2 ? curtain_m2 / full_m2 : 1.0;
    return SOLID_CM2_M2 + CURTAINS_ADD_CM2_M2 * share;
}

static double density_kg_m3(const struct th_room *room)
{
    const double pressure = th_psy_pressure(room->site.elevation_m);
    const double w = th_psy_humidity_ratio(ROOM_C, ROOM_RH, pressure);
    return (1.0 + w) / th_psy_volume(ROOM_C, w, pressure);
}

static void find_leakage(const struct th_apply *apply, struct th_room *room)
{
    if (th_apply_holds(apply, "air", "leakage"))
        return;
    if (th_apply_holds(apply, "air", "leakage_ach20")) {
        room->air.leak_cm2 =
            th_air_leak_cm2_from_ach20(th_apply_number(apply, "air", "leakage_ach20"),
                                       room->shell.volume_m3, density_kg_m3(room));
        return;
    }
    const double cm2_m2 = th_apply_holds(apply, "air", "leakage_per_floor")
                              ? th_apply_number(apply, "air", "leakage_per_floor")
                              : usual_leak_cm2_m2(room);
    room->air.leak_cm2 = cm2_m2 * room->shell.floor_m2;
}

void th_barn_room_air(struct th_apply *apply, struct th_room *room)
{
    if (is_chosen(apply, "minimum_curve", "classes"))
        room->air.minimum_m3_s = *th_air_minimum_steps();
    convert_flows(apply, room);
    find_leakage(apply, room);
    if (th_apply_holds(apply, "air", "fan_floor"))
        return;
    const struct th_place place = th_apply_place(apply, "air", "");
    th_issues_warning(
        apply->issues, &place,
        "[air] fan_floor is not given: the fans are taken as able to turn down to the "
        "table's minimum. Read the lowest steady flow off your smallest fan; it can "
        "cost gallons");
}
