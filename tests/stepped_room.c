/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stepped_room.h"

#include "run_suite.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#define STEP_S 1.0

/* Integrals since the start of measuring. y[0] is the temperature, then ∫ waste, ∫ T and ∫ heat. */
enum { TEMP, WASTE, MEAN, HEAT, STATES };

double loss_w(const struct loss *loss, double temp_c)
{
    const double above_k = temp_c - loss->ref_c;
    return loss->at_w + loss->slope_w_k * above_k + 0.5 * loss->bend_w_k2 * above_k * above_k;
}

static double fire(const struct thermostat *stage, double temp_c)
{
    if (stage->band_k <= 0.0)
        return 1.0;
    const double asked = (stage->off_c - temp_c) / stage->band_k;
    return stage->low + (1.0 - stage->low) * fmin(fmax(asked, 0.0), 1.0);
}

static double heat_w(const struct stepped_room *room, double temp_c)
{
    double sum_w = 0.0;
    for (int i = 0; i < room->n; i++)
        if (room->stages[i].lit)
            sum_w += room->stages[i].heat_w * fire(&room->stages[i], temp_c);
    return sum_w;
}

static int derivatives(double time_s, const double y[], double dydt[], void *context)
{
    const struct stepped_room *room = context;
    (void)time_s;
    const double waste_w =
        room->ramp_w_k * fmin(fmax(y[TEMP] - room->ramp_c, 0.0), room->ramp_band_k);
    dydt[HEAT] = heat_w(room, y[TEMP]);
    dydt[TEMP] = (dydt[HEAT] - loss_w(&room->loss, y[TEMP]) - waste_w) / room->capacity_j_k;
    dydt[WASTE] = waste_w;
    dydt[MEAN] = y[TEMP];
    return GSL_SUCCESS;
}

/* A threshold crossed between two temperatures is felt a dead time after the moment of crossing. */
static void decide(struct stepped_room *room, double time_s, double step_s, double before_c,
                   double after_c)
{
    for (int i = 0; i < room->n; i++) {
        struct thermostat *stage = &room->stages[i];
        const double threshold_c = stage->wanted ? stage->off_c : stage->on_c;
        const bool crossed = stage->wanted ? after_c >= threshold_c : after_c <= threshold_c;
        if (!crossed)
            continue;
        const bool inside = (before_c - threshold_c) * (after_c - threshold_c) < 0.0;
        const double part = inside ? (threshold_c - before_c) / (after_c - before_c) : 1.0;
        stage->wanted = !stage->wanted;
        ck_assert_int_lt(stage->n_pending, PENDING_MAX);
        stage->pending_s[stage->n_pending++] = time_s + part * step_s + room->dead_time_s;
    }
}

/* Time of the next switch that will be felt, or `limit_s`. */
static double next_switch(const struct stepped_room *room, double limit_s)
{
    for (int i = 0; i < room->n; i++)
        if (room->stages[i].n_pending > 0)
            limit_s = fmin(limit_s, room->stages[i].pending_s[0]);
    return limit_s;
}

/* Carries out the switches due; counts burners that start. */
static double switch_due(struct stepped_room *room, double time_s, bool *started)
{
    double starts = 0.0;
    *started = false;
    for (int i = 0; i < room->n; i++) {
        struct thermostat *stage = &room->stages[i];
        if (stage->n_pending > 0 && stage->pending_s[0] <= time_s + 1e-9) {
            stage->lit = !stage->lit;
            *started |= stage->lit && stage->burners > 0.0;
            starts += stage->lit ? stage->burners : 0.0;
            stage->n_pending--;
            for (int k = 0; k < stage->n_pending; k++)
                stage->pending_s[k] = stage->pending_s[k + 1];
        }
    }
    return starts;
}

struct observed observe(struct stepped_room *room, double from_c, double settle_s, double span_s,
                        double limit_s)
{
    gsl_odeiv2_system system = {derivatives, NULL, STATES, room};
    gsl_odeiv2_step *step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk4, STATES);
    double y[STATES] = {from_c, 0.0, 0.0, 0.0}, error[STATES], time_s = 0.0;
    struct observed seen = {.low_c = INFINITY, .high_c = -INFINITY};
    bool measuring = false;
    for (;;) {
        bool started;
        const double starts = switch_due(room, time_s, &started);
        if (measuring && ((started && seen.time_s >= span_s) || seen.time_s >= limit_s))
            break;
        if (!measuring && ((started && time_s >= settle_s) || time_s >= limit_s)) {
            measuring = true;
            y[WASTE] = y[MEAN] = y[HEAT] = 0.0;
        }
        if (measuring) {
            seen.low_c = fmin(seen.low_c, y[TEMP]);
            seen.high_c = fmax(seen.high_c, y[TEMP]);
        }
        seen.starts_h += measuring ? starts : 0.0;
        const double step_s = next_switch(room, time_s + STEP_S) - time_s, before_c = y[TEMP];
        if (step_s > 0.0) {
            gsl_odeiv2_step_apply(step, time_s, step_s, y, error, NULL, NULL, &system);
            decide(room, time_s, step_s, before_c, y[TEMP]);
            time_s += step_s;
        }
        seen.time_s += measuring ? step_s : 0.0;
    }
    gsl_odeiv2_step_free(step);
    seen.heat_w = y[HEAT] / seen.time_s;
    seen.waste_w = y[WASTE] / seen.time_s;
    seen.mean_c = y[MEAN] / seen.time_s;
    seen.starts_h *= 3600.0 / seen.time_s;
    return seen;
}

struct stepped_room room_of(double load_w, double heat_w, double slope_w_k, double delay,
                            double ramp_above_off_k)
{
    const double on_c = th_c_from_f(79.0), off_c = th_c_from_f(80.0);
    struct stepped_room room = {
        .loss = {.ref_c = 0.5 * (on_c + off_c), .at_w = load_w, .slope_w_k = slope_w_k},
        .ramp_c = off_c + ramp_above_off_k,
        .ramp_band_k = F(2.0),
        .ramp_w_k = UA(1.08 * 600.0 * 80.0),
        .capacity_j_k = 2650.0 * TH_J_PER_BTU / TH_K_PER_F,
        .dead_time_s = 90.0 * delay,
        .n = 1};
    room.stages[0] =
        (struct thermostat){.on_c = on_c, .off_c = off_c, .heat_w = heat_w, .burners = 1.0};
    return room;
}

double to_thousandths(double value)
{
    return round(1e3 * value) / 1e3;
}
