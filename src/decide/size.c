/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/size.h"

#include "turnheat/air.h"
#include "turnheat/tank.h"
#include "turnheat/units.h"

#include <math.h>

#define VAPOUR_LEVEL 0.30
#define AUTUMN_F 45.0
#define CHOICE_UNITS_MAX 6
#define CHOICE_STEP_W (5000.0 * TH_W_PER_BTUH)
/* Smaller heaters are not hung in rooms: common practice, no source. */
#define CHOICE_LEAST_W (20000.0 * TH_W_PER_BTUH)

static enum th_code add_need(struct th_size *size, const struct th_room *room,
                             const struct th_design_day *day, bool at_996, struct th_error *err)
{
    struct th_size_need *need = &size->needs[size->n_needs];
    const double out_c = at_996 ? day->out_996_c : day->out_99_c;
    if (!(at_996 ? day->has_996 : day->has_99))
        return TH_OK;
    *need = (struct th_size_need){.from = day->from, .at_996 = at_996};
    const enum th_code code = th_sizing_run(room, out_c, &need->sizing, err);
    if (code != TH_OK)
        return code;
    th_tally_add(&size->books, &need->sizing.books, 1.0);
    size->n_needs++;
    return TH_OK;
}

static enum th_code find_needs(struct th_size *size, const struct th_room *room,
                               struct th_error *err)
{
    enum th_code code = th_sizing_run(room, size->design.days[0].out_99_c, &size->worst, err);
    for (int i = 0; i < size->design.n && code == TH_OK; i++) {
        code = add_need(size, room, &size->design.days[i], false, err);
        if (code == TH_OK)
            code = add_need(size, room, &size->design.days[i], true, err);
    }
    return code;
}

/* Today's schedule, at the weather around its dates. */
static enum th_code add_dates(struct th_size *size, const struct th_case *one, struct th_error *err)
{
    const double year_c = size->design.days[size->design.n - 1].out_99_c;
    struct th_size_need *need = &size->needs[size->n_needs];
    double dates_c[TH_DESIGN_DATES_N];
    *need = (struct th_size_need){.from = TH_DESIGN_DATES};
    enum th_code code = th_design_dates(one->climate, dates_c, err);
    if (code == TH_OK)
        code = th_sizing_dated(one->room, year_c, dates_c, &need->sizing, err);
    if (code != TH_OK)
        return code;
    th_tally_add(&size->books, &need->sizing.books, 1.0);
    size->n_needs++;
    return TH_OK;
}

static enum th_code with_curve(const struct th_size *size, const struct th_room *room,
                               const struct th_table *curve, struct th_sizing *sizing,
                               struct th_error *err)
{
    struct th_room other = *room;
    other.air.minimum_m3_s = *curve;
    return th_sizing_run(&other, size->design.days[0].out_99_c, sizing, err);
}

static enum th_code find_curves(struct th_size *size, const struct th_room *room,
                                struct th_error *err)
{
    const enum th_code code = with_curve(size, room, th_air_minimum_smooth(), &size->smooth, err);
    if (code != TH_OK)
        return code;
    return with_curve(size, room, th_air_minimum_steps(), &size->classes, err);
}

static enum th_code find_drip(struct th_size *size, const struct th_runs *runs,
                              const struct th_case *one, struct th_error *err)
{
    struct th_winters winters;
    struct th_tally all;
    const enum th_code code = th_drip_run(runs, one->room, one, &size->drip, &winters, err);
    th_winters_total(&winters, &all);
    if (code == TH_OK && all.sum[TH_HOURS] > 0.0)
        size->season_w = all.sum[TH_GAS_HEATERS] / (all.sum[TH_HOURS] * TH_S_PER_H);
    th_winters_finish(&winters);
    return code;
}

static enum th_code load_of(struct th_engine *engine, int day, double out_c, double *load_w,
                            struct th_error *err)
{
    struct th_hour_out hour;
    const enum th_code code = th_sizing_hour(engine, 0, day, out_c, &hour, err);
    if (code == TH_OK)
        *load_w = hour.heating.heat_w;
    return code;
}

static enum th_code find_days(struct th_size *size, struct th_engine *engine, struct th_error *err)
{
    const struct th_schedule *schedule = &engine->schedules[0];
    const struct th_design_day *design = &size->design.days[0];
    enum th_code code = TH_OK;
    size->n_days = schedule->n;
    for (int i = 0; i < schedule->n && code == TH_OK; i++) {
        const struct th_day *d = &schedule->days[i];
        struct th_size_day *day = &size->days[i];
        *day = (struct th_size_day){.mass_kg = d->mass_kg,
                                    .set_c = d->set_c,
                                    .fan_m3_s = d->fan_m3_s,
                                    .inlet_m2 = th_air_inlet_m2(d->fan_m3_s, TH_AIR_INLET_M_S)};
        code = load_of(engine, i, design->out_99_c, &day->load_99_w, err);
        if (code == TH_OK && design->has_996)
            code = load_of(engine, i, design->out_996_c, &day->load_996_w, err);
    }
    return code;
}

static enum th_code find_autumn(struct th_size *size, struct th_engine *engine,
                                struct th_error *err)
{
    struct th_hour_out hour;
    const enum th_code code = th_sizing_hour(engine, 0, 0, th_c_from_f(AUTUMN_F), &hour, err);
    if (code == TH_OK)
        size->autumn_w = hour.heating.gas_w;
    return code;
}

static void find_heaters(struct th_size *size, const struct th_room *room)
{
    size->installed_w = th_sizing_installed_w(room, &size->heat_w);
    size->one_out_w = th_sizing_one_out_w(room);
    size->altitude_share = th_sizing_altitude_share(room->site.elevation_m);
    if (room->n_heaters > 0)
        size->units = (int)ceil(TH_SIZE_RATIO_LOW * size->worst.most_w /
                                    (room->heaters[0].input_w * size->altitude_share) -
                                1e-9);
}

static void add_choice(struct th_size *size, int units, double unit_w)
{
    struct th_size_choice *choice = &size->choices[size->n_choices++];
    const double all_w = units * unit_w, gives_w = all_w * size->altitude_share;
    *choice = (struct th_size_choice){.units = units, .unit_w = unit_w};
    if (!(all_w > 0.0))
        return;
    if (size->worst.most_w > 0.0) {
        choice->ratio = gives_w / size->worst.most_w;
        choice->one_out = choice->ratio * (units - 1) / units;
    }
    choice->load_share = size->season_w / gives_w;
    choice->autumn_all = size->autumn_w / gives_w;
    choice->autumn_one = choice->autumn_all * units;
}

/* The heaters of the room as drawn, alike or as the mean of unlike ones, and others in their place.
 */
static void find_choices(struct th_size *size, const struct th_room *room)
{
    int drawn = 0;
    for (int i = 0; i < room->n_heaters; i++)
        drawn += room->heaters[i].units;
    if (drawn > 0)
        add_choice(size, drawn, size->installed_w / drawn);
    for (int units = 1; units <= CHOICE_UNITS_MAX && size->worst.most_w > 0.0; units++) {
        const double least_w = TH_SIZE_RATIO_LOW * size->worst.most_w / size->altitude_share;
        const double unit_w = ceil(least_w / units / CHOICE_STEP_W - 1e-9) * CHOICE_STEP_W;
        if (unit_w >= CHOICE_LEAST_W)
            add_choice(size, units, unit_w);
    }
}

double th_size_zone_input_w(const struct th_room *room)
{
    if (!room->zone.on)
        return 0.0;
    const double units = room->zone.units > 0.0
                             ? room->zone.units
                             : ceil(room->turns[0].head / room->zone.pigs_per_unit);
    return units * room->zone.input_w;
}

static void find_tanks(struct th_size *size)
{
    static const double sizes[TH_SIZE_TANKS] = {500.0, 1000.0, 1990.0};
    for (int i = 0; i < TH_SIZE_TANKS; i++) {
        struct th_tank tank;
        struct th_size_tank *out = &size->tanks[i];
        th_tank_defaults(&tank);
        th_tank_size(sizes[i], &tank.diameter_m, &tank.length_m, NULL);
        out->capacity_gal = sizes[i];
        out->vapour_w = th_tank_vapour_w(&tank, VAPOUR_LEVEL, size->design.days[0].out_99_c);
        if (out->vapour_w > 0.0)
            out->count = (int)ceil(size->peak_gas_w / out->vapour_w);
    }
}

double th_size_standby_w(const struct th_room *room)
{
    double blowers_w = 0.0;
    for (int i = 0; i < room->n_heaters; i++)
        blowers_w += room->heaters[i].units * room->heaters[i].blower_w;
    const double fans_w = room->air.max_m3_s / TH_M3S_PER_CFM / TH_SIZE_FAN_CFM_W;
    return room->copies * (fans_w + blowers_w);
}

static void find_air(struct th_size *size, const struct th_room *room)
{
    size->unvented_w = th_size_zone_input_w(room);
    for (int i = 0; i < room->n_heaters; i++)
        if (!room->heaters[i].vented)
            size->unvented_w += room->heaters[i].units * room->heaters[i].input_w;
    size->unvented_w_m3 = size->unvented_w / room->shell.volume_m3;
    size->too_much_unvented =
        size->unvented_w_m3 > TH_SIZE_UNVENTED_BTUH_FT3 * TH_W_PER_BTUH / TH_M3_PER_FT3;
    size->burner_air_m3_s = room->air.burner_air_m3_s_w * size->unvented_w;
    size->standby_w = th_size_standby_w(room);
}

enum th_code th_size_run(const struct th_runs *runs, const struct th_case *one,
                         struct th_size *size, struct th_error *err)
{
    const struct th_room *room = one->room;
    struct th_engine engine;
    *size = (struct th_size){0};
    th_tally_clear(&size->books);
    enum th_code code = th_design_of(one, &size->design, err);
    if (code == TH_OK)
        code = find_needs(size, room, err);
    if (code == TH_OK)
        code = add_dates(size, one, err);
    if (code == TH_OK)
        code = find_curves(size, room, err);
    if (code == TH_OK)
        code = find_drip(size, runs, one, err);
    if (code == TH_OK)
        code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    code = find_days(size, &engine, err);
    if (code == TH_OK)
        code = find_autumn(size, &engine, err);
    th_engine_finish(&engine);
    find_heaters(size, room);
    find_choices(size, room);
    size->line_gas_w = size->installed_w + th_size_zone_input_w(room);
    size->peak_gas_w = room->copies * size->line_gas_w;
    /* What is not there does not burn, however cold it is. */
    size->steady_gas_w =
        room->copies * (fmin(size->worst.most_w, size->installed_w) + th_size_zone_input_w(room));
    size->enough_gas_w = room->copies * (size->worst.most_w + th_size_zone_input_w(room));
    find_tanks(size);
    find_air(size, room);
    return code;
}
