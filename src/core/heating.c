/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/heating.h"

#include "bounds.h"
#include "turnheat/psychro.h"
#include <math.h>
#include <stddef.h>

/* Vented heaters: common practice for power-vented unit heaters, no source. */
#define VENTED_SHARE 0.80
/* A vented heater's standing pilot warms the room through its jacket only: our judgement. */
#define VENTED_PILOT_SHARE 0.30
#define REFERENCE_C 20.0

double th_heating_share(const struct th_heater *heater, const struct th_fuel *fuel)
{
    if (heater->share > 0.0)
        return heater->share;
    return heater->vented ? VENTED_SHARE : fuel->lhv_share;
}

static struct th_stage whole_group(const struct th_heater *heater, const struct th_fuel *fuel)
{
    const double units = heater->units;
    const double pilots = heater->pilot == TH_PILOT_NONE ? 0.0 : units * heater->pilot_w;
    return (struct th_stage){.on_k = heater->on_k,
                             .off_k = heater->off_k,
                             .units = units,
                             .input_w = units * heater->input_w,
                             .share = th_heating_share(heater, fuel),
                             .blower_w = units * heater->blower_w,
                             .pilot_w = pilots,
                             .pilot_share = heater->vented ? VENTED_PILOT_SHARE : fuel->lhv_share,
                             .low = heater->turndown,
                             .band_k = heater->band_k,
                             .vented = heater->vented};
}

/* A part of a group: `share` of its gas, with `units` burners starting; pilots go with burners. */
static struct th_stage part_of(const struct th_stage *whole, double share, double units,
                               double pilot_share, double lower_k)
{
    struct th_stage part = *whole;
    part.law = TH_LAW_CYCLE;
    part.input_w *= share;
    part.blower_w *= pilot_share;
    part.pilot_w *= pilot_share;
    part.units = units;
    part.on_k += lower_k;
    part.off_k += lower_k;
    return part;
}

/* Which of two stages leads, whatever their order in the file: the one that starts in a warmer room
   and, of those that start together, the one that stops in a warmer room, as it runs longer. The
   rest only makes the order the same every time. 0: they act as one. */
static int order(const struct th_stage *a, const struct th_stage *b)
{
    const double of_a[] = {a->on_k,   a->off_k,  a->law,   a->low,
                           a->band_k, a->vented, a->share, a->pilot_share};
    const double of_b[] = {b->on_k,   b->off_k,  b->law,   b->low,
                           b->band_k, b->vented, b->share, b->pilot_share};
    for (size_t i = 0; i < sizeof of_a / sizeof of_a[0]; i++)
        if (of_a[i] != of_b[i])
            return of_a[i] < of_b[i] ? -1 : 1;
    return 0;
}

/* Of two that act as one, so that shares and offsets are the same. */
static void merge_into(struct th_stage *a, const struct th_stage *b)
{
    a->units += b->units;
    a->input_w += b->input_w;
    a->blower_w += b->blower_w;
    a->pilot_w += b->pilot_w;
}

/* Keeps the list in the order in which stages start; equal stages become one. */
static enum th_code add_stage(struct th_heating *heating, struct th_stage stage,
                              struct th_error *err)
{
    for (int i = 0; i < heating->n; i++)
        if (order(&heating->stages[i], &stage) == 0) {
            merge_into(&heating->stages[i], &stage);
            return TH_OK;
        }
    if (heating->n == TH_STAGES_MAX)
        return th_fail(err, TH_ERR_MODEL, "more than %d heater stages in one room", TH_STAGES_MAX);
    int at = heating->n++;
    for (; at > 0 && order(&stage, &heating->stages[at - 1]) < 0; at--)
        heating->stages[at] = heating->stages[at - 1];
    heating->stages[at] = stage;
    return TH_OK;
}

static enum th_code add_group(struct th_heating *heating, const struct th_heater *heater,
                              const struct th_fuel *fuel, struct th_error *err)
{
    struct th_stage whole = whole_group(heater, fuel);
    enum th_code code = TH_OK;
    switch (heater->control) {
    case TH_IDEAL:
    case TH_MODULATING:
        whole.law = heater->control == TH_IDEAL ? TH_LAW_IDEAL : TH_LAW_MODULATE;
        return add_stage(heating, whole, err);
    case TH_LEAD_LAG:
        for (int i = 0; i < heater->units && code == TH_OK; i++) {
            const double one = 1.0 / heater->units;
            code = add_stage(heating, part_of(&whole, one, 1.0, one, i * heater->stagger_k), err);
        }
        return code;
    case TH_TWO_STAGE:
        code = add_stage(heating, part_of(&whole, heater->turndown, whole.units, 1.0, 0.0), err);
        if (code != TH_OK || heater->turndown >= 1.0)
            return code;
        return add_stage(heating,
                         part_of(&whole, 1.0 - heater->turndown, 0.0, 0.0, heater->stagger_k), err);
    case TH_ON_OFF:
        return add_stage(heating, part_of(&whole, 1.0, whole.units, 1.0, 0.0), err);
    }
    return code;
}

void th_heating_sum_up(struct th_heating *heating)
{
    heating->input_w = heating->added_w = 0.0;
    heating->last_off_k = INFINITY;
    heating->pilots = (struct th_pilots){0};
    for (int i = 0; i < heating->n; i++) {
        struct th_stage *stage = &heating->stages[i];
        stage->added_w =
            stage->input_w * stage->share + stage->blower_w - stage->pilot_w * stage->pilot_share;
        heating->input_w += stage->input_w;
        heating->added_w += stage->added_w;
        heating->last_off_k = th_lesser(heating->last_off_k, stage->off_k);
        heating->pilots.gas_w += stage->pilot_w;
        heating->pilots.heat_w += stage->pilot_w * stage->pilot_share;
        if (!stage->vented)
            heating->pilots.unvented_w += stage->pilot_w;
    }
}

enum th_code th_heating_init(struct th_heating *heating, const struct th_room *room,
                             struct th_error *err)
{
    const double pressure_pa = th_psy_pressure(room->site.elevation_m);
    const double air_j_k =
        room->shell.volume_m3 / th_psy_volume(REFERENCE_C, 0.0, pressure_pa) * TH_PSY_CP_AIR;
    *heating =
        (struct th_heating){.capacity_j_k = air_j_k * room->response.air_capacity,
                            .dead_time_s = room->response.dead_time_s * room->response.factor};
    for (int i = 0; i < room->n_heaters; i++) {
        if (room->heaters[i].units < 1)
            continue;
        const enum th_code code = add_group(heating, &room->heaters[i], &room->fuel, err);
        if (code != TH_OK)
            return code;
        heating->pilots_turn |= room->heaters[i].pilot == TH_PILOT_TURN;
    }
    th_heating_sum_up(heating);
    return TH_OK;
}

enum th_code th_heating_dead_time(double overshoot_k, double hot_c, double off_c, double ua_w_k,
                                  double capacity_j_k, double *dead_time_s, struct th_error *err)
{
    const double most_k = hot_c - off_c;
    if (!(overshoot_k > 0.0) || !(overshoot_k < most_k))
        return th_fail(err, TH_ERR_RANGE,
                       "an overshoot of %.1f degF is not possible: the heaters could lift the room "
                       "%.1f degF above the OFF point on that day",
                       overshoot_k * 1.8, most_k * 1.8);
    *dead_time_s = -capacity_j_k / ua_w_k * log1p(-overshoot_k / most_k);
    return TH_OK;
}
