/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_room_air.h"

#include "turnheat/air.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"

/* Dirt 0.9 and wind 0.9 (extension ventilation text). */
static const double CATALOGUE_DERATE = 0.81;
/* Room air that catalogue flows are turned into: our judgement. */
static const double ROOM_C = 21.0;
static const double ROOM_RH = 0.5;
/* Leakage per floor area: solid walls derived from ASHRAE Trans. 101(1) no. 3869, curtains our
 * judgement. */
static const double SOLID_CM2_M2 = 1.1;
static const double CURTAIN_CM2_M2 = 6.0;

static void convert_flows(const struct th_draft_air *draft, struct th_room *room)
{
    const bool catalogue = draft->basis == TH_AIR_STANDARD;
    double factor = draft->has_derate ? draft->derate : catalogue ? CATALOGUE_DERATE : 1.0;
    if (catalogue) {
        const double pressure = th_psy_pressure(room->site.elevation_m);
        const double w = th_psy_humidity_ratio(ROOM_C, ROOM_RH, pressure);
        factor *= th_air_standard_to_room(1.0, ROOM_C, w, pressure);
    }
    room->air.floor_m3_s *= factor;
    room->air.max_m3_s *= factor;
    room->air.stage_full_m3_s *= factor;
}

static bool has_curtain(const struct th_room *room)
{
    for (int i = 0; i < room->n_surfaces; i++)
        if (room->surfaces[i].kind == TH_CURTAIN)
            return true;
    return false;
}

static void find_leakage(const struct th_draft_air *draft, struct th_room *room)
{
    if (draft->has_leak)
        return;
    if (draft->has_ach20) {
        const double pressure = th_psy_pressure(room->site.elevation_m);
        const double w = th_psy_humidity_ratio(ROOM_C, ROOM_RH, pressure);
        const double density = (1.0 + w) / th_psy_volume(ROOM_C, w, pressure);
        room->air.leak_cm2 =
            th_air_leak_cm2_from_ach20(draft->ach20, room->shell.volume_m3, density);
        return;
    }
    const double usual = has_curtain(room) ? CURTAIN_CM2_M2 : SOLID_CM2_M2;
    room->air.leak_cm2 = (draft->has_leak_area ? draft->leak_cm2_m2 : usual) * room->shell.floor_m2;
}

void th_barn_room_air(struct th_apply *apply, struct th_room *room)
{
    const struct th_draft_air *const draft = &apply->draft->air;
    if (draft->minimum_classes)
        room->air.minimum_m3_s = *th_air_minimum_steps();
    convert_flows(draft, room);
    find_leakage(draft, room);
    if (draft->has_floor)
        return;
    const struct th_place place = th_apply_place(apply, "air", "");
    th_issues_warning(
        apply->issues, &place,
        "[air] fan_floor is not given: the fans are taken as able to turn down to the "
        "table's minimum. Read the lowest steady flow off your smallest fan; it can "
        "cost gallons");
}
