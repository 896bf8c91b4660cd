/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the quotation says of the barn as quoted. */
#include "quote_parts.h"

#include "turnheat/air.h"
#include "turnheat/engine.h"
#include "turnheat/size.h"

#include <string.h>

static enum th_code spread_of(const struct th_room *room, const struct th_trial *trial,
                              struct th_spread *spread, struct th_error *err)
{
    double units[TH_TRIAL_SEASONS_MAX];
    for (int i = 0; i < trial->n; i++)
        units[i] = room->copies * trial->gas_j[i] / room->fuel.hhv_j;
    return th_spread_of((size_t)trial->n, units, spread, err);
}

/* The gas, inlets and power that the barn as quoted needs. */
static enum th_code find_services(struct th_quote *quote, struct th_error *err)
{
    const struct th_room *const room = &quote->room;
    struct th_engine engine;
    const enum th_code code = th_engine_init(&engine, room, err);
    if (code != TH_OK)
        return code;
    const struct th_schedule *const turn = &engine.schedules[0];
    quote->inlet_first_m2 = th_air_inlet_m2(turn->days[0].fan_m3_s, TH_AIR_INLET_M_S);
    quote->inlet_last_m2 = th_air_inlet_m2(turn->days[turn->n - 1].fan_m3_s, TH_AIR_INLET_M_S);
    quote->peak_gas_w = room->copies * (quote->installed_w + th_size_zone_input_w(room));
    quote->standby_w = th_size_standby_w(room);
    th_engine_finish(&engine);
    return TH_OK;
}

enum th_code th_quote_describe(struct th_quote *quote, const struct th_quote_in *in,
                               const struct th_candidate *bare, const struct th_candidate *quoted,
                               struct th_error *err)
{
    const struct th_room *const room = &quoted->room;
    quote->before = bare->trial;
    quote->after = quoted->trial;
    quote->room = *room;
    memcpy(quote->drip_h, quoted->drip_h, sizeof quote->drip_h);
    for (int i = 0; i < in->n; i++)
        if (quote->taken & 1u << i)
            quote->options_usd += room->copies * in->options[i].cost_usd;
    quote->installed_w = th_sizing_installed_w(room, NULL);
    quote->one_out_w = th_sizing_one_out_w(room);
    enum th_code code = th_sizing_run(room, in->out_99_c, &quote->sizing, err);
    if (code == TH_OK)
        code = find_services(quote, err);
    if (code == TH_OK)
        code = spread_of(in->base->room, &quote->before, &quote->before_units, err);
    if (code == TH_OK)
        code = spread_of(room, &quote->after, &quote->after_units, err);
    return code;
}
