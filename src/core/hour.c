/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/hour.h"

#include "bounds.h"
#include "hour_at_flow.h"
#include "root.h"
#include "turnheat/air.h"
#include "turnheat/psychro.h"
#include <math.h>

#define FLOW_TOLERANCE_M3_S 1e-8
/* Of a flow that holds a ceiling; and by how much the ceiling then counts as held. */
#define CEILING_TOLERANCE 2e-7
#define CEILING_HELD 1e-6
/* A heater that burns into the room makes moisture and CO₂ for the air it is to warm, so that the
 * flow that holds a ceiling lies about this many times as far as what lacks now. Only a start;
 * from farther off one would more often be found beyond the least flow that does. */
#define BURNING_TIMES 1.4
/* Where no flow would do, this many times the flow is what lacks. */
#define TIMES_MAX 1000.0
/* Of the first stage; what lacks to a room without air is told as if it had this. */
#define LEAST_SHARE 0.01

/* What a higher fan flow must satisfy: enough burner air, or a ceiling held. */
struct demand {
    const struct th_hour_in *in;
    struct th_solvers *solvers;
    double (*lacking_m3_s)(const struct th_hour_in *in, const struct th_hour_out *out);
    /* Flows between which to look, and what lacks at them; NAN where nobody has looked yet. */
    double low_m3_s, high_m3_s, at_low, at_high;
    double times; /* first guess: as far as this many times what lacks */
    double tolerance_m3_s;
    enum th_code code;
    struct th_error *err;
    struct th_hour_out *out;
    double fan_m3_s; /* flow of `out` */
};

static double lacking_burner_air(const struct th_hour_in *in, const struct th_hour_out *out)
{
    const double fired_w = out->heating.unvented_w + out->terms[TH_TERM_ZONE_GAS];
    return in->balance.room->air.burner_air_m3_s_w * fired_w - out->fan_m3_s;
}

static double over_ceilings(const struct th_hour_in *in, const struct th_hour_out *out)
{
    const struct th_air *air = &in->balance.room->air;
    double over = -1.0;
    if (air->control_rh)
        over = th_greater(over, out->rh / air->rh_limit - 1.0);
    if (air->control_co2)
        over = th_greater(over, out->co2_ppm / air->co2_design_ppm - 1.0);
    return over;
}

/* How many times the flow would meet the ceilings if the room gave off what it gives off now: what
 * the air carries out goes with its amount. Exactly 1 where they are met. */
static double times_for_ceilings(const struct th_hour_in *in, const struct th_hour_out *out)
{
    const struct th_air *air = &in->balance.room->air;
    const double outdoors_kg_kg = in->balance.out->w_kg_kg, room_kg_kg = out->room_w_kg_kg;
    double times = 0.0;
    if (air->control_rh && out->rh > 0.0) {
        const double part = air->rh_limit / out->rh;
        const double limit_kg_kg =
            TH_PSY_RATIO * part * room_kg_kg / (TH_PSY_RATIO + room_kg_kg - part * room_kg_kg);
        const double spare_kg_kg = limit_kg_kg - outdoors_kg_kg;
        times = spare_kg_kg > 0.0 ? (room_kg_kg - outdoors_kg_kg) / spare_kg_kg : TIMES_MAX;
    }
    if (air->control_co2)
        times = th_greater(times, (out->co2_ppm - air->co2_out_ppm) /
                                      (air->co2_design_ppm - air->co2_out_ppm));
    return th_lesser(times, TIMES_MAX);
}

/* What leaks through the shell stays as it is. */
static double lacking_for_ceilings(const struct th_hour_in *in, const struct th_hour_out *out)
{
    const struct th_climate_hour *outdoors = in->balance.out;
    const double fan_m3_s = th_greater(out->fan_m3_s, LEAST_SHARE * in->stage_m3_s);
    const double leak_squared = th_air_leak_squared(
        &in->balance.fabric->leak, out->room_c - outdoors->out_c, outdoors->wind_m_s);
    const double times = times_for_ceilings(in, out), more = times * times - 1.0;
    const double wanted = times * times * fan_m3_s * fan_m3_s + more * leak_squared;
    return sqrt(th_greater(wanted, 0.0)) - fan_m3_s;
}

static double solve_flow(struct demand *d, double fan_m3_s)
{
    const enum th_code code = th_hour_at_flow(d->in, d->solvers, fan_m3_s, d->out, d->err);
    d->fan_m3_s = fan_m3_s;
    if (code != TH_OK)
        d->code = code;
    return code == TH_OK ? d->lacking_m3_s(d->in, d->out) : 0.0;
}

static double lacking_at_flow(double fan_m3_s, void *context)
{
    struct demand *d = context;
    if (fan_m3_s == d->low_m3_s)
        return d->at_low;
    return fan_m3_s == d->high_m3_s && !isnan(d->at_high) ? d->at_high : solve_flow(d, fan_m3_s);
}

/* By secants from what lacks if the room gives off what it gives off now. False when they lead
 * elsewhere. */
static bool find_flow(struct demand *d, double *root_m3_s)
{
    gsl_function f = {.function = lacking_at_flow, .params = d};
    const double guess_m3_s = d->low_m3_s + d->times * d->at_low;
    if (!(guess_m3_s > d->low_m3_s && guess_m3_s < d->high_m3_s))
        return false;
    const struct th_point from = {d->low_m3_s, d->at_low};
    const struct th_point to = {guess_m3_s, solve_flow(d, guess_m3_s)};
    return th_secants(&f, from, to, d->low_m3_s, d->high_m3_s, d->tolerance_m3_s, root_m3_s);
}

/* The same between the ends; `high_m3_s` where something lacks even there. */
static enum th_code enclose_flow(struct demand *d, double *root_m3_s)
{
    gsl_function f = {.function = lacking_at_flow, .params = d};
    *root_m3_s = d->high_m3_s;
    d->at_high = solve_flow(d, d->high_m3_s);
    if (d->code != TH_OK || d->at_high > 0.0)
        return d->code;
    const enum th_code code =
        th_root(d->solvers->flow, &f, d->low_m3_s, d->high_m3_s, FLOW_TOLERANCE_M3_S, root_m3_s);
    return code == TH_OK ? code
                         : th_fail(d->err, code, "no fan flow between %g and %g m3/s suffices",
                                   d->low_m3_s, d->high_m3_s);
}

/* Raises the flow from that of `out`, where something lacks, until nothing does, at most to
 * `high_m3_s`. */
static enum th_code raise_flow(struct demand *d, double high_m3_s)
{
    double root_m3_s;
    d->low_m3_s = d->fan_m3_s;
    d->at_low = d->lacking_m3_s(d->in, d->out);
    if (d->at_low <= 0.0) /* but for rounding nothing lacks */
        return TH_OK;
    d->high_m3_s = high_m3_s;
    d->at_high = NAN;
    enum th_code code = find_flow(d, &root_m3_s) ? TH_OK : enclose_flow(d, &root_m3_s);
    if (code == TH_OK && d->code == TH_OK && d->fan_m3_s != root_m3_s)
        solve_flow(d, root_m3_s);
    return d->code != TH_OK ? d->code : code;
}

static enum th_code give_burner_air(struct demand *d)
{
    const struct th_hour_in *in = d->in;
    const double zone_w = in->balance.zone_units * in->balance.room->zone.input_w;
    const double most_w = in->heating->input_w + zone_w;
    d->lacking_m3_s = lacking_burner_air;
    d->times = 1.0;
    d->tolerance_m3_s = FLOW_TOLERANCE_M3_S;
    if (lacking_burner_air(in, d->out) <= 0.0)
        return TH_OK;
    return raise_flow(d, in->balance.room->air.burner_air_m3_s_w * most_w);
}

static enum th_code hold_ceilings(struct demand *d)
{
    d->lacking_m3_s = lacking_for_ceilings;
    d->times = d->out->heating.unvented_w > 0.0 ? BURNING_TIMES : 1.0;
    d->tolerance_m3_s = CEILING_TOLERANCE * d->in->stage_m3_s;
    if (over_ceilings(d->in, d->out) <= 0.0)
        return TH_OK;
    enum th_code code = TH_OK;
    if (d->in->stage_m3_s > d->fan_m3_s)
        code = raise_flow(d, d->in->stage_m3_s);
    d->out->unreached = over_ceilings(d->in, d->out) > CEILING_HELD;
    return code;
}

enum th_code th_hour_solve(const struct th_hour_in *in, struct th_solvers *solvers,
                           struct th_hour_out *out, struct th_error *err)
{
    struct demand d = {
        .in = in, .solvers = solvers, .err = err, .out = out, .fan_m3_s = in->balance.fan_m3_s};
    enum th_code code = th_hour_at_flow(in, solvers, d.fan_m3_s, out, err);
    if (code == TH_OK && in->phase != TH_EMPTY)
        code = give_burner_air(&d);
    if (code == TH_OK && in->phase == TH_GROWING)
        code = hold_ceilings(&d);
    return code;
}

enum th_code th_solvers_init(struct th_solvers *solvers, struct th_error *err)
{
    solvers->temperature = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    solvers->flow = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    solvers->surplus = false;
    if (solvers->temperature && solvers->flow)
        return TH_OK;
    th_solvers_finish(solvers);
    return th_fail(err, TH_ERR_MEMORY, "out of memory");
}

void th_solvers_finish(struct th_solvers *solvers)
{
    if (!solvers)
        return;
    if (solvers->temperature)
        gsl_root_fsolver_free(solvers->temperature);
    if (solvers->flow)
        gsl_root_fsolver_free(solvers->flow);
    *solvers = (struct th_solvers){0};
}
