/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/engine.h"

#include "bounds.h"
#include "turnheat/air.h"
#include "turnheat/herd.h"
#include "turnheat/psychro.h"
#include <math.h>

/* Humidity of cold outdoor air where none is measured: our judgement; it hardly matters. */
#define STILL_RH 0.75

void th_engine_still_hour(const struct th_engine *engine, int turn, int day, double out_c,
                          double wind_m_s, struct th_climate_hour *out, struct th_balance *balance)
{
    const struct th_room *room = engine->room;
    const struct th_schedule *schedule = &engine->schedules[turn];
    const struct th_day *today = &schedule->days[day];
    const double pressure_pa = th_psy_pressure(room->site.elevation_m);
    *out = (struct th_climate_hour){.out_c = out_c,
                                    .mean24_c = out_c,
                                    .w_kg_kg = th_psy_humidity_ratio(out_c, STILL_RH, pressure_pa),
                                    .pressure_pa = pressure_pa,
                                    .wind_m_s = wind_m_s,
                                    .state = TH_HOUR_OBSERVED};
    *balance = (struct th_balance){.room = room,
                                   .fabric = &engine->fabric,
                                   .out = out,
                                   .day = today,
                                   .activity = 1.0,
                                   .fan_m3_s = today->fan_m3_s,
                                   .mass_c = today->set_c,
                                   .zone_units = today->zone_on ? schedule->zone_units : 0.0,
                                   .internal_w = room->shell.internal_w,
                                   .zone_share = engine->zone_share};
}

/* Where the room would end if all heaters stayed lit, where they stop, and the loss per K between.
 */
struct stopping {
    double hot_c, off_c, ua_w_k;
};

static struct stopping stopping_of(const struct th_engine *engine, double out_c)
{
    const struct th_heating *heating = &engine->heating;
    struct th_climate_hour out;
    struct th_balance balance;
    th_engine_still_hour(engine, 0, 0, out_c, 0.0, &out, &balance);
    const double set_c = engine->schedules[0].days[0].set_c;
    const double on_c = set_c - heating->stages[0].on_k, off_c = set_c - heating->stages[0].off_k;
    const double at_off_w = th_balance_net_at(&balance, off_c);
    const double slope = (at_off_w - th_balance_net_at(&balance, on_c)) / (off_c - on_c);
    double heat_w = 0.0;
    for (int i = 0; i < heating->n; i++)
        heat_w += heating->stages[i].input_w * heating->stages[i].share;
    return (struct stopping){off_c + (heat_w - at_off_w) / slope, off_c, slope};
}

double th_engine_overshoot_k(const struct th_engine *engine, double out_c)
{
    const struct th_heating *heating = &engine->heating;
    if (engine->room->n_turns == 0 || heating->n == 0)
        return 0.0;
    const struct stopping at = stopping_of(engine, out_c);
    return th_greater(at.hot_c - at.off_c, 0.0) *
           -expm1(-heating->dead_time_s * at.ua_w_k / heating->capacity_j_k);
}

/* Dead time from the measured overshoot of the heaters that stop last. */
static enum th_code fit_dead_time(struct th_engine *engine, struct th_error *err)
{
    const struct th_room *room = engine->room;
    struct th_heating *heating = &engine->heating;
    if (!room->response.has_overshoot || room->n_turns == 0 || heating->n == 0)
        return TH_OK;
    if (room->response.kept_dead_time_s > 0.0) {
        heating->dead_time_s = room->response.kept_dead_time_s * room->response.factor;
        return TH_OK;
    }
    const struct stopping at = stopping_of(engine, room->response.overshoot_out_c);
    const enum th_code code =
        th_heating_dead_time(room->response.overshoot_k, at.hot_c, at.off_c, at.ua_w_k,
                             heating->capacity_j_k, &heating->dead_time_s, err);
    heating->dead_time_s *= room->response.factor;
    return code;
}

enum th_code th_engine_init(struct th_engine *engine, const struct th_room *room,
                            struct th_error *err)
{
    *engine = (struct th_engine){.room = room};
    th_fabric_init(&engine->fabric, room);
    engine->zone_share = room->zone.share > 0.0 ? room->zone.share : room->fuel.lhv_share;
    for (int hour = 0; hour < 24; hour++)
        engine->activity[hour] =
            th_herd_activity(room->pigs.activity, room->pigs.activity_hour, hour + 0.5);
    enum th_code code = th_heating_init(&engine->heating, room, err);
    for (int i = 0; i < room->n_turns && code == TH_OK; i++)
        code = th_schedule_init(&engine->schedules[i], room, &room->turns[i], err);
    if (code == TH_OK)
        code = th_solvers_init(&engine->solvers, err);
    if (code == TH_OK)
        code = fit_dead_time(engine, err);
    if (code != TH_OK)
        th_engine_finish(engine);
    return code;
}

void th_engine_finish(struct th_engine *engine)
{
    if (!engine)
        return;
    for (int i = 0; i < TH_TURNS_MAX; i++)
        th_schedule_finish(&engine->schedules[i]);
    th_solvers_finish(&engine->solvers);
}
