/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/variant.h"

#include "turnheat/calendar.h"
#include "turnheat/season.h"
#include "turnheat/units.h"
#include "turnheat/weather.h"

#include <math.h>

/* OFF stays this far below the start of the fan ramp, so that rounding never puts it above. */
#define RAMP_CLEARANCE_K 1e-6
/* No divisor in common with the 24 hours of a day. */
#define ROUGH_H 5

void th_room_shift_offsets(struct th_room *room, double shift_k)
{
    for (int i = 0; i < room->n_heaters; i++) {
        room->heaters[i].on_k -= shift_k;
        room->heaters[i].off_k -= shift_k;
    }
}

double th_room_highest_shift_k(const struct th_room *room)
{
    double most = INFINITY;
    for (int i = 0; i < room->n_heaters; i++)
        most = fmin(most, room->heaters[i].off_k + room->air.ramp_start_k);
    return most - RAMP_CLEARANCE_K;
}

void th_room_leak(struct th_room *room, double factor)
{
    room->air.leak_cm2 *= factor;
}

void th_room_roughly(struct th_room *room)
{
    room->solve_every_h = ROUGH_H;
}

void th_room_place_later(struct th_room *room, int days)
{
    for (int i = 0; i < room->n_turns; i++) {
        struct th_turn_plan *turn = &room->turns[i];
        const struct th_date date =
            th_date_of(th_day_number(TH_TYPICAL_YEAR, turn->month, turn->day) + days);
        turn->month = date.month;
        turn->day = date.day;
    }
}

static bool same_response(const struct th_response *a, const struct th_response *b)
{
    return a->overshoot_k == b->overshoot_k && a->overshoot_out_c == b->overshoot_out_c &&
           a->air_capacity == b->air_capacity;
}

enum th_code th_response_keep(struct th_room *variant, const struct th_room *barn,
                              struct th_error *err)
{
    struct th_engine engine;
    if (!barn->response.has_overshoot || !same_response(&variant->response, &barn->response))
        return TH_OK;
    const enum th_code code = th_engine_init(&engine, barn, err);
    if (code != TH_OK)
        return code;
    variant->response.kept_dead_time_s = engine.heating.dead_time_s / barn->response.factor;
    th_engine_finish(&engine);
    return TH_OK;
}

double th_response_factor(const struct th_room *room, enum th_response_case response)
{
    static const double guessed[TH_RESPONSE_CASES] = {1.0, 0.5, 2.0, 1.0, 1.0};
    static const double measured[TH_RESPONSE_CASES] = {1.0, 0.75, 1.25, 1.0, 1.0};
    return (room->response.has_overshoot ? measured : guessed)[response];
}

void th_response_apply(struct th_room *room, enum th_response_case response)
{
    static const double stage[TH_RESPONSE_CASES] = {1.0, 1.0, 1.0, 0.7, 1.4};
    room->response.factor *= th_response_factor(room, response);
    room->air.stage_factor *= stage[response];
}

const char *th_cost_text(enum th_cost_kind kind)
{
    static const char *const texts[TH_COST_COUNT] = {"Fans that cannot turn down to the minimum",
                                                     "10 % more minimum air",
                                                     "1 °F of set point",
                                                     "1 °F of OFF offset, ON with it",
                                                     "Leakage doubled",
                                                     "Standing pilots",
                                                     "Humidity and CO2 held under their ceilings",
                                                     ("More than minimum air through the hallway, "
                                                      "not straight from outside")};
    return texts[kind];
}

double th_cost_apply(struct th_room *room, enum th_cost_kind kind)
{
    switch (kind) {
    case TH_COST_FAN_FLOOR:
        room->air.floor_m3_s = 0.0;
        return -1.0;
    case TH_COST_AIR:
        room->calibration.air_factor *= 1.1;
        return 1.0;
    case TH_COST_SET_POINT:
        room->calibration.set_shift_k += TH_K_PER_F;
        return 1.0;
    case TH_COST_OFF:
        th_room_shift_offsets(room, -TH_K_PER_F);
        return -1.0;
    case TH_COST_LEAKAGE:
        th_room_leak(room, 2.0);
        return 1.0;
    case TH_COST_CEILINGS:
        room->air.control_rh = room->air.control_co2 = true;
        return 1.0;
    case TH_COST_HALLWAY:
        room->air.surplus = TH_SURPLUS_OUTSIDE;
        return -1.0;
    case TH_COST_PILOTS:
    case TH_COST_COUNT:
    default:
        for (int i = 0; i < room->n_heaters; i++)
            room->heaters[i].pilot = TH_PILOT_NONE;
        room->zone.pilot_w = 0.0;
        return -1.0;
    }
}
