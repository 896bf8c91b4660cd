/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What settings alone can do, and what costs gallons. */
#include "turnheat/compare.h"

#include "turnheat/sizing.h"
#include "turnheat/units.h"
#include <math.h>

#define OFF_STEP_K (0.5 * TH_K_PER_F)
#define OFF_STEPS 8 /* up to 4 °F */
/* Hours below comfort may differ by this share of a season's before they count as more. */
#define COMFORT_SLACK_H 0.5

/* Enough left on the design day when one unit of the first group is out. */
static bool carries_design_day(const struct th_room *room, double load_w)
{
    const struct th_heater *first = &room->heaters[0];
    const double one_w = first->input_w * th_heating_share(first, &room->fuel);
    double useful_w;
    th_sizing_installed_w(room, &useful_w);
    return useful_w - one_w >= load_w;
}

static bool adjustable(const struct th_heater *heater)
{
    return heater->control == TH_ON_OFF || heater->control == TH_LEAD_LAG;
}

static void set_free(struct th_room *room, double off_k, bool lead_lag, int units)
{
    struct th_heater *h = &room->heaters[0];
    h->on_k += off_k - h->off_k;
    h->off_k = off_k;
    h->units = units;
    if (lead_lag && units > 1)
        h->control = TH_LEAD_LAG;
}

/* The search over settings, on one season. */
struct free_search {
    const struct th_room *room;
    const struct th_climate *climate;
    int year;
    double load_w;    /**< of the design day */
    double comfort_h; /**< hours below comfort today */
    double best_gas_j;
    struct th_free_choice *choice;
};

static enum th_code try_setting(struct free_search *s, double off_k, bool lead_lag, int units,
                                struct th_error *err)
{
    struct th_room room = *s->room;
    struct th_trial trial;
    set_free(&room, off_k, lead_lag, units);
    if (units < s->room->heaters[0].units && !carries_design_day(&room, s->load_w))
        return TH_OK;
    const enum th_code code = th_trial_run(&trial, &room, s->climate, s->year, s->year, err);
    if (code != TH_OK)
        return code;
    const double gas_j = th_trial_gas_j(&trial);
    if (trial.mean.sum[TH_BELOW_COMFORT] > s->comfort_h + COMFORT_SLACK_H || gas_j >= s->best_gas_j)
        return TH_OK;
    s->best_gas_j = gas_j;
    s->choice->found = true;
    s->choice->off_k = off_k;
    s->choice->on_k = room.heaters[0].on_k;
    s->choice->lead_lag = room.heaters[0].control == TH_LEAD_LAG;
    s->choice->units = units;
    s->choice->room = room;
    return TH_OK;
}

static enum th_code search(struct free_search *s, struct th_error *err)
{
    const struct th_heater *h = &s->room->heaters[0];
    enum th_code code = TH_OK;
    for (int units = h->units; units >= 1; units--)
        for (int orders = units > 1 ? 2 : 1; orders >= 1; orders--)
            for (int step = 0; step <= OFF_STEPS && code == TH_OK; step++)
                code = try_setting(s, step * OFF_STEP_K, orders == 2, units, err);
    return code;
}

enum th_code th_free_choice_find(const struct th_room *room, const struct th_climate *climate,
                                 int year, double design_out_c, struct th_free_choice *choice,
                                 struct th_error *err)
{
    struct th_trial now;
    struct th_sizing sizing = {0};
    struct free_search s = {.room = room, .climate = climate, .year = year, .choice = choice};
    *choice = (struct th_free_choice){.room = *room};
    if (room->n_heaters == 0 || !adjustable(&room->heaters[0]))
        return TH_OK;
    enum th_code code = th_trial_run(&now, room, climate, year, year, err);
    if (code == TH_OK)
        code = th_sizing_run(room, design_out_c, &sizing, err);
    if (code != TH_OK)
        return code;
    s.load_w = sizing.load_w;
    s.comfort_h = now.mean.sum[TH_BELOW_COMFORT];
    s.best_gas_j = th_trial_gas_j(&now);
    return search(&s, err);
}

const char *th_cost_text(enum th_cost_kind kind)
{
    static const char *const texts[TH_COST_COUNT] = {"Fans that cannot turn down to the minimum",
                                                     "10 % more minimum air",
                                                     "1 °F of set point",
                                                     "1 °F of OFF offset, ON with it",
                                                     "Leakage doubled",
                                                     "Standing pilots"};
    return texts[kind];
}

/* The barn with one cost added, or taken away: then -1 is returned. */
static double apply_cost(struct th_room *room, enum th_cost_kind kind)
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
        room->air.leak_cm2 *= 2.0;
        return 1.0;
    case TH_COST_PILOTS:
    case TH_COST_COUNT:
    default:
        for (int i = 0; i < room->n_heaters; i++)
            room->heaters[i].pilot = TH_PILOT_NONE;
        room->zone.pilot_w = 0.0;
        return -1.0;
    }
}

enum th_code th_costs_run(const struct th_room *room, const struct th_climate *climate,
                          const struct th_block *block, double cost_j[TH_COST_COUNT],
                          struct th_error *err)
{
    for (int kind = 0; kind < TH_COST_COUNT; kind++) {
        struct th_room changed = *room;
        struct th_trial other;
        const double sign = apply_cost(&changed, (enum th_cost_kind)kind);
        const enum th_code code =
            th_trial_run(&other, &changed, climate, block->first_year, block->last_year, err);
        if (code != TH_OK)
            return code;
        cost_j[kind] = sign * block->scale * (th_trial_gas_j(&other) - block->gas_j);
    }
    return TH_OK;
}
