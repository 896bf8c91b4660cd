/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/compare.h"

#include "turnheat/units.h"

/* 15 mph, the usual winter design wind (ASHRAE, from memory). */
#define DESIGN_WIND_M_S (15.0 * TH_M_S_PER_MPH)

static double day_load_w(const struct th_engine *engine, int turn, int day, double out_c)
{
    struct th_climate_hour out;
    struct th_balance balance;
    th_engine_still_hour(engine, turn, day, out_c, DESIGN_WIND_M_S, &out, &balance);
    return th_balance_net_at(&balance, engine->schedules[turn].days[day].set_c);
}

enum th_code th_design_load_w(const struct th_room *room, double out_c, double *load_w,
                              int *worst_turn, int *worst_day, struct th_error *err)
{
    struct th_engine engine;
    const enum th_code code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    *load_w = 0.0;
    for (int turn = 0; turn < room->n_turns; turn++)
        for (int day = 0; day < engine.schedules[turn].n; day++) {
            const double now_w = day_load_w(&engine, turn, day, out_c);
            if (now_w <= *load_w)
                continue;
            *load_w = now_w;
            if (worst_turn)
                *worst_turn = turn;
            if (worst_day)
                *worst_day = day;
        }
    th_engine_finish(&engine);
    return TH_OK;
}
