/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/sizing.h"

#include "accounts.h"
#include "turnheat/design.h"
#include "turnheat/unknowns.h"
#include "turnheat/units.h"

#include <math.h>

#define DESIGN_WIND_M_S (15.0 * TH_M_S_PER_MPH)
/* More than any room takes, so that capacity never limits the answer. */
#define WITHOUT_LIMIT_W 1e8
#define HALF_BAND_K 1e-3
/* As season.c dries it. */
#define DRYING_HOURS 24.0
#define DERATE_PER_M (0.04 / (1000.0 * TH_M_PER_FT))
#define DERATE_FROM_M (2000.0 * TH_M_PER_FT)

double th_sizing_installed_w(const struct th_room *room, double *useful_w)
{
    double input_w = 0.0, heat_w = 0.0;
    for (int i = 0; i < room->n_heaters; i++) {
        const double group_w = room->heaters[i].units * room->heaters[i].input_w;
        input_w += group_w;
        heat_w += group_w * th_heating_share(&room->heaters[i], &room->fuel);
    }
    if (useful_w)
        *useful_w = heat_w;
    return input_w;
}

double th_sizing_one_out_w(const struct th_room *room)
{
    double largest_w = 0.0;
    for (int i = 0; i < room->n_heaters; i++)
        if (room->heaters[i].units > 0)
            largest_w = fmax(largest_w, room->heaters[i].input_w);
    return th_sizing_installed_w(room, NULL) - largest_w;
}

double th_sizing_altitude_share(double elevation_m)
{
    return 1.0 - DERATE_PER_M * fmax(elevation_m - DERATE_FROM_M, 0.0);
}

/* One heater without limit, of the mean share of the room's own. */
static struct th_heating unlimited(const struct th_engine *engine)
{
    const struct th_room *room = engine->room;
    double useful_w;
    const double input_w = th_sizing_installed_w(room, &useful_w);
    struct th_heating heating = {.n = 1, .capacity_j_k = 1.0};
    heating.stages[0] =
        (struct th_stage){.law = TH_LAW_IDEAL,
                          .on_k = HALF_BAND_K,
                          .off_k = -HALF_BAND_K,
                          .units = 1.0,
                          .input_w = WITHOUT_LIMIT_W,
                          .share = input_w > 0.0 ? useful_w / input_w : room->fuel.lhv_share,
                          .vented = engine->heating.n > 0 && engine->heating.stages[0].vented};
    th_heating_sum_up(&heating);
    return heating;
}

/* As th_sizing_hour(), booked in `books` unless that is NULL. */
static enum th_code steady_hour(struct th_engine *engine, int turn, int day, double out_c,
                                struct th_hour_out *out, struct th_tally *books,
                                struct th_error *err)
{
    const struct th_room *room = engine->room;
    const struct th_heating heating = unlimited(engine);
    const struct th_day *today = &engine->schedules[turn].days[day < 0 ? 0 : day];
    struct th_climate_hour outdoors;
    struct th_hour_in in = {.heating = &heating,
                            .phase = day < 0 ? TH_PREHEAT : TH_GROWING,
                            .set_c = today->set_c,
                            .stage_m3_s = today->stage_m3_s,
                            .heat = true};
    th_engine_still_hour(engine, turn, day < 0 ? 0 : day, out_c, DESIGN_WIND_M_S, &outdoors,
                         &in.balance);
    if (day < 0) {
        in.balance.day = NULL;
        in.balance.zone_units = 0.0;
        in.balance.fan_m3_s = room->air.floor_m3_s * room->calibration.air_factor;
        in.balance.drying_kg_s =
            room->turns[turn].wash_kg_m2 * room->shell.floor_m2 / (DRYING_HOURS * TH_S_PER_H);
    }
    const enum th_code code = th_hour_solve(&in, &engine->solvers, out, err);
    if (code == TH_OK && books)
        th_accounts_book(books, 0, &in, out);
    return code;
}

enum th_code th_sizing_hour(struct th_engine *engine, int turn, int day, double out_c,
                            struct th_hour_out *out, struct th_error *err)
{
    return steady_hour(engine, turn, day, out_c, out, NULL, err);
}

static void keep_worst(struct th_sizing *sizing, const struct th_engine *engine,
                       const struct th_hour_out *hour, int turn, int day, double out_c)
{
    if (day < 0) {
        sizing->preheat_w = fmax(sizing->preheat_w, hour->heating.gas_w);
        return;
    }
    if (hour->heating.gas_w <= sizing->needed_w && (turn > 0 || day > 0))
        return;
    const struct th_day *today = &engine->schedules[turn].days[day];
    sizing->out_c = out_c;
    sizing->turn = turn;
    sizing->day = day;
    sizing->load_w = hour->heating.heat_w;
    sizing->needed_w = hour->heating.gas_w;
    sizing->room_c = hour->room_c;
    sizing->mass_kg = today->mass_kg;
    sizing->head = today->head;
    sizing->fan_m3_s = today->fan_m3_s;
    sizing->air_w = hour->terms[TH_TERM_AIR];
    sizing->pigs_w = hour->terms[TH_TERM_PIGS];
}

/* Air and set point as its fills show them, but never below what the file says. */
static struct th_room never_lowered(const struct th_room *room)
{
    struct th_room safe = *room;
    th_unknown_move(&safe, TH_UNKNOWN_AIR, fmax(room->fitted.z[TH_UNKNOWN_AIR], 0.0));
    th_unknown_move(&safe, TH_UNKNOWN_SET_POINT, fmax(room->fitted.z[TH_UNKNOWN_SET_POINT], 0.0));
    return safe;
}

/* Outdoors on a day of a turn; `dates_c` NULL: always `out_c`. */
static double outdoors(const struct th_turn_plan *turn, int day, double out_c,
                       const double *dates_c)
{
    const int date = th_design_date(turn->month, turn->day) + (day < 0 ? 0 : day);
    return dates_c ? fmax(out_c, dates_c[date % TH_DESIGN_DATES_N]) : out_c;
}

enum th_code th_sizing_dated(const struct th_room *room, double out_c, const double *dates_c,
                             struct th_sizing *sizing, struct th_error *err)
{
    const struct th_room safe = never_lowered(room);
    struct th_engine engine;
    enum th_code code = th_engine_init(&engine, &safe, err);
    if (code != TH_OK)
        return code;
    *sizing = (struct th_sizing){.out_c = out_c};
    th_tally_clear(&sizing->books);
    for (int turn = 0; turn < safe.n_turns && code == TH_OK; turn++)
        for (int day = TH_SIZING_PREHEAT; day < engine.schedules[turn].n && code == TH_OK; day++) {
            struct th_hour_out hour;
            const double c = outdoors(&safe.turns[turn], day, out_c, dates_c);
            code = steady_hour(&engine, turn, day, c, &hour, &sizing->books, err);
            if (code == TH_OK)
                keep_worst(sizing, &engine, &hour, turn, day, c);
        }
    sizing->most_w = fmax(sizing->needed_w, sizing->preheat_w);
    th_engine_finish(&engine);
    return code;
}

enum th_code th_sizing_run(const struct th_room *room, double out_c, struct th_sizing *sizing,
                           struct th_error *err)
{
    return th_sizing_dated(room, out_c, NULL, sizing, err);
}
