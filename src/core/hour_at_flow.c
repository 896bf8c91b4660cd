/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hour at one fan flow. */
#include "hour_at_flow.h"
#include "bounds.h"
#include "turnheat/control.h"

#include "moisture.h"
#include "root.h"
#include "turnheat/psychro.h"
#include "turnheat/units.h"
#include <math.h>
#include <string.h>

#define ROOT_TOLERANCE_K 1e-10
/* Secants stop where the next step would be as short as this; that step is then taken along the
 * line, which over so little is straight to 1e-7 K, so that the balance closes. */
#define SECANT_TOLERANCE_K 1e-4
/* How far from the outdoor air a room without heat or control is looked for. */
#define SEARCH_K 60.0

/* The hour at one fan flow. */
struct attempt {
    const struct th_hour_in *in;
    struct th_balance balance;
    struct th_solvers *solvers;
    double offered_w; /* heat the heaters give whatever the temperature */
};

/* A temperature and the heat the room lacks at it; NAN where nobody has looked yet. */
struct looked {
    double temp_c, lacking_w;
};

static void hold_at(struct th_hour_out *out, const struct attempt *a, double temp_c)
{
    th_balance_terms(&a->balance, temp_c, out->terms);
    out->room_c = out->low_c = out->high_c = temp_c;
}

/* The same; returns the heat the room then lacks. */
static double hold_lacking_w(const struct attempt *a, double temp_c, struct th_hour_out *out)
{
    hold_at(out, a, temp_c);
    return th_balance_net(out->terms) - a->offered_w;
}

/* A search for a balance, from ends at which part is known. `out` stands where it looked last,
 * `before` where it looked before that. */
struct search {
    const struct attempt *attempt;
    struct looked low, high, last, before;
    double terms_before[TH_TERMS];
    int n_looked;
    struct th_hour_out *out;
};

static double lacking_at(double temp_c, void *context)
{
    struct search *search = context;
    const struct looked *ends[] = {&search->low, &search->high};
    for (int i = 0; i < 2; i++)
        if (temp_c == ends[i]->temp_c && !isnan(ends[i]->lacking_w))
            return ends[i]->lacking_w;
    search->before = search->last;
    memcpy(search->terms_before, search->out->terms, sizeof search->terms_before);
    search->last = (struct looked){temp_c, hold_lacking_w(search->attempt, temp_c, search->out)};
    search->n_looked++;
    return search->last.lacking_w;
}

/* The last step, along the line through the last two. */
static void step_to_balance(const struct search *search)
{
    struct th_hour_out *out = search->out;
    const double gained_w = search->before.lacking_w - search->last.lacking_w;
    const double share = gained_w != 0.0 ? -search->last.lacking_w / gained_w : 0.0;
    for (int i = 0; i < TH_TERMS; i++)
        out->terms[i] += share * (search->terms_before[i] - out->terms[i]);
    out->room_c += share * (search->before.temp_c - out->room_c);
    out->low_c = out->high_c = out->room_c;
}

/* Holds the room where it neither gains nor loses, searched between two temperatures. */
static enum th_code settle(struct attempt *a, struct looked low, struct looked high,
                           struct th_hour_out *out, struct th_error *err)
{
    double temp_c;
    struct search search = {.attempt = a, .low = low, .high = high, .out = out};
    gsl_function f = {.function = lacking_at, .params = &search};
    search.low.lacking_w = lacking_at(low.temp_c, &search);
    search.high.lacking_w = lacking_at(high.temp_c, &search);
    const struct th_point from = {low.temp_c, search.low.lacking_w};
    const struct th_point to = {high.temp_c, search.high.lacking_w};
    if (th_secants(&f, from, to, low.temp_c, high.temp_c, SECANT_TOLERANCE_K, &temp_c) &&
        search.n_looked > 1) {
        step_to_balance(&search);
        return TH_OK;
    }
    if (th_root(a->solvers->temperature, &f, low.temp_c, high.temp_c, ROOT_TOLERANCE_K, &temp_c) !=
        TH_OK)
        return th_fail(err, TH_ERR_NUMERIC,
                       "no room temperature between %.1f and %.1f degC balances the heat",
                       low.temp_c, high.temp_c);
    if (out->room_c != temp_c)
        hold_at(out, a, temp_c);
    return TH_OK;
}

static double air_heat_j_kg_k(const struct th_balance *b)
{
    return TH_PSY_CP_AIR + TH_PSY_CP_VAPOUR * b->out->w_kg_kg;
}

/* Temperature at which air above the flow of `terms` comes in. */
static double surplus_inlet_c(const struct th_balance *b, const double terms[TH_TERMS])
{
    return th_balance_surplus_outside(b) ? b->out->out_c : terms[TH_TERM_INLET_C];
}

/* Even the installed maximum cannot hold the ramp start: the room warms; fuel is not affected. */
static enum th_code run_warm(struct attempt *a, struct looked ramp, struct th_hour_out *out,
                             struct th_error *err)
{
    const struct looked high = {ramp.temp_c + SEARCH_K, NAN};
    const enum th_code code = settle(a, ramp, high, out, err);
    if (code != TH_OK)
        return code;
    out->dry_air_kg_s = out->terms[TH_TERM_DRY_AIR];
    out->fan_m3_s = a->balance.fan_m3_s;
    out->warm = true;
    return TH_OK;
}

/* Whether all fans together could cool the room to the ramp start; leaves them running if not. */
static bool fans_suffice(struct attempt *a, struct looked *ramp)
{
    const double minimum_m3_s = a->balance.fan_m3_s;
    a->balance.fan_m3_s = th_greater(a->balance.room->air.max_m3_s, minimum_m3_s);
    ramp->lacking_w = th_balance_net_at(&a->balance, ramp->temp_c) - a->offered_w;
    if (ramp->lacking_w < 0.0)
        return false;
    a->balance.fan_m3_s = minimum_m3_s;
    return true;
}

/* The fans hold the ramp start, where `out` stands, and throw the surplus out. */
static enum th_code run_surplus(struct attempt *a, double surplus_w, struct th_hour_out *out,
                                struct th_error *err)
{
    const double ramp_c = out->room_c;
    struct looked ramp = {.temp_c = ramp_c};
    const double lift_k = ramp_c - surplus_inlet_c(&a->balance, out->terms);
    const double extra_kg_s =
        lift_k > 0.0 ? surplus_w / (lift_k * air_heat_j_kg_k(&a->balance)) : INFINITY;
    const double most_kg_s =
        th_greater(a->balance.room->air.max_m3_s, a->balance.fan_m3_s) /
        th_psy_volume(ramp_c, a->balance.out->w_kg_kg, a->balance.out->pressure_pa);
    const double spare_kg_s = most_kg_s - out->terms[TH_TERM_DRY_FAN];
    if (extra_kg_s > spare_kg_s && !fans_suffice(a, &ramp))
        return run_warm(a, ramp, out, err);
    out->thrown_w = surplus_w;
    out->dry_air_kg_s = out->terms[TH_TERM_DRY_AIR] + th_lesser(extra_kg_s, spare_kg_s);
    return TH_OK;
}

/* No heat: the room floats between `low` and the ramp start `high`, or the fans hold it there.
 * Where the ramp start has been looked at `out` stands there. */
static enum th_code run_unheated(struct attempt *a, struct looked low, struct looked high,
                                 struct th_hour_out *out, struct th_error *err)
{
    a->offered_w = 0.0;
    if (a->in->phase == TH_EMPTY) {
        const struct th_climate_hour *outdoors = a->balance.out;
        low.temp_c =
            th_lesser(th_lesser(outdoors->out_c, outdoors->mean24_c), a->balance.mass_c) - 1.0;
        low.lacking_w = NAN;
        high.temp_c = low.temp_c + 2.0 * SEARCH_K;
    } else {
        if (isnan(high.lacking_w))
            high.lacking_w = hold_lacking_w(a, high.temp_c, out);
        if (high.lacking_w <= 0.0)
            return run_surplus(a, -high.lacking_w, out, err);
    }
    const enum th_code code = settle(a, low, high, out, err);
    if (code != TH_OK)
        return code;
    out->dry_air_kg_s = out->terms[TH_TERM_DRY_AIR];
    return TH_OK;
}

/* All burners lit and still below ON: the room falls to where the heat balances. */
static enum th_code run_short(struct attempt *a, double on_c, struct th_hour_out *out,
                              struct th_error *err)
{
    const double low_c =
        th_lesser(th_lesser(a->balance.out->out_c, a->balance.mass_c), on_c) - SEARCH_K;
    a->offered_w = out->heating.added_w;
    const enum th_code code =
        settle(a, (struct looked){low_c, NAN}, (struct looked){on_c, NAN}, out, err);
    if (code != TH_OK)
        return code;
    out->heating.mean_c = out->heating.low_c = out->heating.high_c = out->room_c;
    out->dry_air_kg_s = out->terms[TH_TERM_DRY_AIR];
    out->short_of_heat = true;
    return TH_OK;
}

/* Whether the heaters could lift the room into the fan ramp: from where the last of them stops, all
 * of them a dead time longer. Otherwise nobody asks what the ramp would throw out. */
static bool may_reach_ramp(const struct attempt *a, const struct th_heating_in *in)
{
    const struct th_heating *heating = a->in->heating;
    const double stop_c = in->set_c - heating->last_off_k;
    const double hot_c = in->free_c + heating->added_w / in->ua_w_k;
    const double way = in->ua_w_k * heating->dead_time_s / heating->capacity_j_k;
    return stop_c + (hot_c - stop_c) * th_lesser(way, 1.0) > in->ramp_c;
}

static double along(double at_on, double at_off, double share)
{
    return at_on + share * (at_off - at_on);
}

/* Heat that the ramp throws out per K above its start. The air for it comes in as warm as on the
 * line through ON and OFF, `share` of the way. */
static double ramp_w_k(const struct attempt *a, double ramp_c, const double at_on[TH_TERMS],
                       const double at_off[TH_TERMS], double share)
{
    const double inlet_c = th_balance_surplus_outside(&a->balance)
                               ? a->balance.out->out_c
                               : along(at_on[TH_TERM_INLET_C], at_off[TH_TERM_INLET_C], share);
    const double full_m3_s = th_greater(a->in->stage_m3_s, a->balance.fan_m3_s);
    const double more_kg_s = th_balance_more_air(&a->balance, ramp_c, full_m3_s);
    const double more_w_k = more_kg_s * air_heat_j_kg_k(&a->balance);
    return th_greater(more_w_k * (ramp_c - inlet_c) / a->balance.room->air.ramp_band_k, 0.0);
}

/* Heaters at work: linear between ON and OFF of the first stage, so that every balance closes. */
static enum th_code run_heated(struct attempt *a, double on_c, double ramp_c,
                               const double at_on[TH_TERMS], struct th_hour_out *out,
                               struct th_error *err)
{
    double at_off[TH_TERMS];
    const double off_c = a->in->set_c - a->in->heating->stages[0].off_k;
    th_balance_terms(&a->balance, off_c, at_off);
    const double net_on_w = th_balance_net(at_on);
    const double slope = (th_balance_net(at_off) - net_on_w) / (off_c - on_c);
    if (!(slope > 0.0))
        return th_fail(err, TH_ERR_MODEL, "the room loses no more heat when warmer: %g W/K", slope);
    struct th_heating_in heating_in = {.set_c = a->in->set_c,
                                       .free_c = on_c - net_on_w / slope,
                                       .ua_w_k = slope,
                                       .ramp_c = ramp_c,
                                       .ramp_band_k = a->balance.room->air.ramp_band_k};
    if (may_reach_ramp(a, &heating_in))
        heating_in.ramp_w_k = ramp_w_k(a, ramp_c, at_on, at_off, (ramp_c - on_c) / (off_c - on_c));
    const enum th_code code = th_heating_solve(a->in->heating, &heating_in, &out->heating, err);
    if (code != TH_OK)
        return code;
    if (out->heating.all_on && out->heating.mean_c < on_c)
        return run_short(a, on_c, out, err);
    const double share = (out->heating.mean_c - on_c) / (off_c - on_c);
    for (int i = 0; i < TH_TERMS; i++)
        out->terms[i] = along(at_on[i], at_off[i], share);
    out->room_c = out->heating.mean_c;
    out->low_c = out->heating.low_c;
    out->high_c = out->heating.high_c;
    const double lift_k = ramp_c - surplus_inlet_c(&a->balance, out->terms);
    out->dry_air_kg_s = out->terms[TH_TERM_DRY_AIR];
    if (out->heating.waste_w > 0.0 && lift_k > 0.0)
        out->dry_air_kg_s += out->heating.waste_w / (lift_k * air_heat_j_kg_k(&a->balance));
    return TH_OK;
}

/* Chooses between heat, float and surplus at the attempt's fan flow. After an hour of surplus that
 * is looked for first; a room lacks more the warmer it is, so that the order changes nothing. */
static enum th_code run_at_flow(struct attempt *a, struct th_hour_out *out, struct th_error *err)
{
    const struct th_heating *heating = a->in->heating;
    const bool heats = a->in->heat && heating->n > 0;
    struct looked on = {a->balance.out->out_c - SEARCH_K, NAN};
    struct looked ramp = {a->in->set_c + a->balance.room->air.ramp_start_k, NAN};
    double at_on[TH_TERMS];
    bool wanted = false;
    const bool pilots = heats && heating->pilots_turn;
    a->balance.pilots_w = pilots ? heating->pilots.heat_w : 0.0;
    if (a->solvers->surplus && a->in->phase != TH_EMPTY)
        ramp.lacking_w = hold_lacking_w(a, ramp.temp_c, out);
    if (heats && !(ramp.lacking_w <= 0.0)) {
        on.temp_c = a->in->set_c - heating->stages[0].on_k;
        th_balance_terms(&a->balance, on.temp_c, at_on);
        on.lacking_w = th_balance_net(at_on);
        wanted = on.lacking_w > 0.0;
    }
    out->heat_wanted = wanted;
    if (wanted) {
        a->balance.pilots_w = at_on[TH_TERM_PILOTS] = heating->pilots.heat_w;
        return run_heated(a, on.temp_c, ramp.temp_c, at_on, out, err);
    }
    out->heating = (struct th_heating_out){0};
    if (pilots) {
        out->heating.pilot_gas_w = heating->pilots.gas_w;
        out->heating.pilot_heat_w = heating->pilots.heat_w;
        out->heating.unvented_w = heating->pilots.unvented_w;
    }
    return run_unheated(a, on, ramp, out, err);
}

/* Completes a solved attempt: gas, moisture and CO₂. */
static void finish(const struct attempt *a, struct th_hour_out *out)
{
    const struct th_balance *b = &a->balance;
    const double *t = out->terms;
    const struct th_air *air = &b->room->air;
    /* A heater's own pilots are inside its rating while lit. */
    if (out->heat_wanted)
        out->terms[TH_TERM_PILOTS] = out->heating.pilot_heat_w;
    if (air->inlet == TH_INLET_HALLWAY && a->in->phase != TH_EMPTY) {
        const double more_kg_s = out->dry_air_kg_s - t[TH_TERM_DRY_AIR];
        const double through_kg_s =
            t[TH_TERM_DRY_HALLWAY] + (th_balance_surplus_outside(b) ? 0.0 : more_kg_s);
        const double warmed_k = th_greater(air->hallway_c - b->out->out_c, 0.0);
        out->hallway_gas_w = through_kg_s * air_heat_j_kg_k(b) * warmed_k / air->hallway_share;
    }
    const double zone_gas_w = t[TH_TERM_ZONE_GAS] + t[TH_TERM_ZONE_PILOT_GAS];
    out->gas_w = out->heating.gas_w + out->heating.pilot_gas_w + zone_gas_w + out->hallway_gas_w;
    const double duty =
        b->zone_units > 0.0 ? t[TH_TERM_ZONE_GAS] / (b->zone_units * b->room->zone.input_w) : 0.0;
    out->feel_c = out->room_c + duty * b->room->zone.rise_k;
    out->feel_low_c = out->low_c + duty * b->room->zone.rise_k;
    th_moisture_fill(b, out->heating.unvented_w + zone_gas_w, out);
}

enum th_code th_hour_at_flow(const struct th_hour_in *in, struct th_solvers *solvers,
                             double fan_m3_s, struct th_hour_out *out, struct th_error *err)
{
    struct attempt a = {.in = in, .balance = in->balance, .solvers = solvers};
    a.balance.fan_m3_s = fan_m3_s;
    a.balance.minimum_m3_s = in->balance.fan_m3_s;
    out->fan_m3_s = fan_m3_s;
    out->thrown_w = out->hallway_gas_w = 0.0;
    out->short_of_heat = out->warm = out->unreached = false;
    const enum th_code code = run_at_flow(&a, out, err);
    if (code == TH_OK)
        finish(&a, out);
    solvers->surplus = out->thrown_w > 0.0;
    return code;
}
