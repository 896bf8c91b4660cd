/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/sizing.h"

#include "accounts.h"
#include "turnheat/envelope.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"

#include <math.h>

#define DESIGN_WIND_M_S (15.0 * TH_M_S_PER_MPH)
/* More than any room takes, so that capacity never limits the answer. */
#define WITHOUT_LIMIT_W 1e8
#define HALF_BAND_K 1e-3
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

double th_sizing_dry_r_m2k_w(double room_c, double out_c, double dew_c, double film_m2k_w)
{
    return dew_c > out_c && dew_c < room_c ? film_m2k_w * (room_c - out_c) / (room_c - dew_c) : 0.0;
}

enum th_code th_sizing_faces(const struct th_room *room, const struct th_sizing *sizing,
                             double *dew_c, struct th_inside_face faces[TH_SURFACES_MAX],
                             struct th_error *err)
{
    const enum th_code code =
        th_psy_dew_point(sizing->room_w_kg_kg, th_psy_pressure(room->site.elevation_m), dew_c, err);
    for (int i = 0; i < room->n_surfaces && code == TH_OK; i++) {
        const struct th_surface *s = &room->surfaces[i];
        const double film = s->kind == TH_CEILING ? TH_FILM_CEILING_M2K_W : TH_FILM_WALL_M2K_W;
        faces[i].inside_c =
            th_envelope_inside_surface_c(sizing->room_c, sizing->out_c, s->r_m2k_w, film);
        faces[i].dry = faces[i].inside_c > *dew_c;
        faces[i].dry_r_m2k_w = th_sizing_dry_r_m2k_w(sizing->room_c, sizing->out_c, *dew_c, film);
    }
    return code;
}

/* One heater without limit, of the mean share of the room's own. */
static struct th_heating unlimited(const struct th_engine *engine)
{
    const struct th_room *room = engine->room;
    double useful_w;
    const double input_w = th_sizing_installed_w(room, &useful_w);
    struct th_heating heating = {.n = 1, .input_w = WITHOUT_LIMIT_W, .capacity_j_k = 1.0};
    heating.stages[0] =
        (struct th_stage){.law = TH_LAW_IDEAL,
                          .on_k = HALF_BAND_K,
                          .off_k = -HALF_BAND_K,
                          .units = 1.0,
                          .input_w = WITHOUT_LIMIT_W,
                          .share = input_w > 0.0 ? useful_w / input_w : room->fuel.lhv_share,
                          .vented = engine->heating.n > 0 && engine->heating.stages[0].vented};
    return heating;
}

/* As th_sizing_hour(), booked in `books` unless that is NULL. */
static enum th_code steady_hour(struct th_engine *engine, int turn, int day, double out_c,
                                struct th_hour_out *out, struct th_tally *books,
                                struct th_error *err)
{
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
        in.balance.fan_m3_s = engine->room->air.floor_m3_s * engine->room->calibration.air_factor;
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

static void keep_worst(struct th_sizing *sizing, const struct th_hour_out *hour, int turn, int day)
{
    if (day < 0) {
        sizing->preheat_w = fmax(sizing->preheat_w, hour->heating.gas_w);
        return;
    }
    if (hour->heating.gas_w <= sizing->needed_w && (turn > 0 || day > 0))
        return;
    sizing->turn = turn;
    sizing->day = day;
    sizing->load_w = hour->heating.heat_w;
    sizing->needed_w = hour->heating.gas_w;
    sizing->room_c = hour->room_c;
    sizing->rh = hour->rh;
    sizing->room_w_kg_kg = hour->room_w_kg_kg;
}

enum th_code th_sizing_run(const struct th_room *room, double out_c, struct th_sizing *sizing,
                           struct th_error *err)
{
    struct th_engine engine;
    enum th_code code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    *sizing = (struct th_sizing){.out_c = out_c};
    th_tally_clear(&sizing->books);
    for (int turn = 0; turn < room->n_turns && code == TH_OK; turn++)
        for (int day = TH_SIZING_PREHEAT; day < engine.schedules[turn].n && code == TH_OK; day++) {
            struct th_hour_out hour;
            code = steady_hour(&engine, turn, day, out_c, &hour, &sizing->books, err);
            if (code == TH_OK)
                keep_worst(sizing, &hour, turn, day);
        }
    th_engine_finish(&engine);
    return code;
}
