/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A room so plain that a pencil can follow it: one wall of 1,000 W/K, 1 m³/s of fan air, no
 * leakage, edge, floor mass, activity or pilots, held at 20 °C by ideal heat; outdoors dry air of
 * 97 kPa at one temperature. Tests switch on what they look at. By hand, for all of them:
 *
 *   dry air of 20 °C      287.042 × 293.15 / 97,000 = 0.867488 m³/kg, so 1 m³/s is 1.152753 kg/s
 *   which carries         1.152753 × 1006 = 1159.67 W/K
 *   unvented propane      84,250 / 91,500 = 0.920765 of its gas warms the room
 *   a pig of 30 kg        124.055 W at 20 °C (docs/theory.md, "Pigs")
 */
#ifndef TURNHEAT_STILL_ROOM_H
#define TURNHEAT_STILL_ROOM_H

#include "turnheat/calendar.h"
#include "turnheat/season.h"
#include "turnheat/units.h"

#include <check.h>
#include <stdlib.h>

#define STILL_YEAR 2010
#define STILL_DAYS_BEFORE 300
#define STILL_HOURS (24 * (STILL_DAYS_BEFORE + 240)) /* to the end of June */
#define STILL_FLOW_KG_S 1.152753
#define STILL_AIR_W_K 1159.67
#define STILL_SHARE 0.920765

/** The hours of preheat and turn as the engine left them, and the season. `in[].balance` borrows
 * what is gone: read its numbers only. */
struct still {
    int preheat;
    int n;
    struct th_hour_in in[24 * 110];
    struct th_hour_out out[24 * 110];
    struct th_season season;
};

static inline struct th_table still_always(double value)
{
    return (struct th_table){.n = 1, .x = {0.0}, .y = {value}};
}

/** No pigs to speak of: set head for some. The turn is 100 days from 5 November. */
static inline struct th_room still_room(void)
{
    struct th_room room;
    th_room_defaults(&room);
    room.spaces = 1000.0;
    room.site.has_elevation = true;
    room.shell.floor_m2 = 500.0;
    room.shell.volume_m3 = 1500.0;
    room.shell.edge_f_w_mk = 0.0;
    room.shell.mass_j_m2k = 0.0;
    room.n_surfaces = 1;
    th_surface_defaults(&room.surfaces[0]);
    room.surfaces[0].area_m2 = 1000.0;
    room.surfaces[0].r_m2k_w = 1.0;
    room.air.minimum_m3_s = still_always(0.0);
    room.air.floor_m3_s = 1.0;
    room.air.max_m3_s = 100.0;
    room.air.stage_full_m3_s = 20.0;
    room.air.burner_air_m3_s_w = 0.0;
    room.pigs.activity = 0.0;
    room.pigs.growth = TH_GROWTH_BY_DAY;
    room.pigs.weight_kg = still_always(30.0);
    room.pigs.death_share = 0.0;
    room.setpoints.by = TH_BY_TURN_DAY;
    room.setpoints.set_c = still_always(20.5);
    room.n_heaters = 1;
    th_heater_defaults(&room.heaters[0]);
    room.heaters[0].control = TH_IDEAL;
    room.heaters[0].units = 1;
    room.heaters[0].input_w = 1e6;
    room.heaters[0].on_k = 1.0;
    room.heaters[0].off_k = 0.0;
    room.heaters[0].pilot = TH_PILOT_NONE;
    room.heaters[0].blower_w = 0.0;
    room.n_turns = 1;
    th_turn_defaults(&room.turns[0]);
    room.turns[0].month = 11;
    room.turns[0].day = 5;
    room.turns[0].head = 1e-9;
    room.turns[0].weight_kg = 30.0;
    room.turns[0].days = 100;
    room.turns[0].preheat_h = 0.0;
    room.turns[0].wash_kg_m2 = 0.0;
    return room;
}

static inline void still_see(void *context, int turn, long hour, const struct th_hour_in *in,
                             const struct th_hour_out *out)
{
    struct still *still = context;
    (void)turn;
    (void)hour;
    if (in->phase == TH_EMPTY)
        return;
    still->in[still->n] = *in;
    still->out[still->n] = *out;
    still->n++;
}

/** Runs the turn with outdoors always at `out_c`; what was there before is overwritten. */
static inline const struct still *still_run(const struct th_room *room, double out_c)
{
    static struct th_climate_hour hours[STILL_HOURS];
    static struct still still;
    const struct th_climate climate = {
        .first_hour = 24 * (th_day_number(STILL_YEAR, 11, 5) - STILL_DAYS_BEFORE),
        .n = STILL_HOURS,
        .hours = hours};
    for (int i = 0; i < STILL_HOURS; i++)
        hours[i] = (struct th_climate_hour){
            .out_c = out_c, .mean24_c = out_c, .pressure_pa = 97000.0, .state = TH_HOUR_OBSERVED};
    still.n = 0;
    still.preheat = (int)room->turns[0].preheat_h;
    const struct th_watch watch = {.hour = still_see, .context = &still};
    struct th_engine engine;
    struct th_error err = {0};
    ck_assert_int_eq(th_engine_init(&engine, room, &err), TH_OK);
    const enum th_code code =
        th_season_run(&engine, &climate, STILL_YEAR, &watch, &still.season, &err);
    ck_assert_msg(code == TH_OK, "%s", err.text);
    ck_assert(still.season.counted);
    th_engine_finish(&engine);
    return &still;
}

/** The hour so many days and hours after placement (before it: hour below 0). */
static inline const struct th_hour_out *still_at(const struct still *still, int day, int hour)
{
    return &still->out[still->preheat + 24 * day + hour];
}

/** `value` within `share` of what was worked by hand. */
static inline void by_hand(double value, double worked, double share)
{
    ck_assert_double_eq_tol(value, worked, share * (worked < 0.0 ? -worked : worked));
}

#endif
