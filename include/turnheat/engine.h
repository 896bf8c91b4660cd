/* SPDX-License-Identifier: GPL-3.0-or-later */
/** A room made ready to be run hour by hour. */
#ifndef TURNHEAT_ENGINE_H
#define TURNHEAT_ENGINE_H

#include "turnheat/climate.h"
#include "turnheat/hour.h"
#include "turnheat/room.h"
#include "turnheat/schedule.h"

/** A room made ready for simulation: everything that is the same in every hour and season. */
struct th_engine {
    const struct th_room *room; /**< must outlive the engine */
    struct th_fabric fabric;
    struct th_heating heating;
    struct th_schedule schedules[TH_TURNS_MAX];
    struct th_solvers solvers;
    double activity[24]; /**< multiplier by hour of day */
    double zone_share;
};

/**
 * Prepares `room`, which must have passed th_room_check(). TH_ERR_MEMORY, TH_ERR_MODEL or
 * TH_ERR_RANGE (an overshoot that the heaters could not cause).
 */
enum th_code th_engine_init(struct th_engine *engine, const struct th_room *room,
                            struct th_error *err);

/** Frees what the engine owns; NULL and a second call are allowed. */
void th_engine_finish(struct th_engine *engine);

/**
 * A steady hour of day `day` of turn `turn` with outdoors held at `out_c`: building mass at set
 * point, mean activity, minimum air. Fills `out` and a balance that borrows it and the engine.
 */
void th_engine_still_hour(const struct th_engine *engine, int turn, int day, double out_c,
                          double wind_m_s, struct th_climate_hour *out, struct th_balance *balance);

/** How far the room rises past the OFF point of the first stage, K, after all heaters were lit: new
 * pigs of the first turn, outdoors at `out_c`, still air. 0 without heaters or turns. */
double th_engine_overshoot_k(const struct th_engine *engine, double out_c);

#endif
