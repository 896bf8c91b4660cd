/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heaters' closed forms against a room integrated by GSL, with a thermostat for every stage.
 * The reference shares nothing with src/core but the description of the room. */
#include "turnheat/cycle.h"
#include "turnheat/heating.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#define F(difference) ((difference)*TH_K_PER_F)
#define BTUH(power) ((power)*TH_W_PER_BTUH)
#define UA(slope) ((slope)*TH_UA_SI_PER_US)
#define STEP_S 0.5
#define PENDING_MAX 8
#define SOURCE "room integrated by GSL, 4th-order Runge-Kutta, 0.5 s, derived"

/* Loss = at_w + slope·(T - ref) + ½·bend·(T - ref)². */
struct loss {
    double ref_c, at_w, slope_w_k, bend_w_k2;
};

struct thermostat {
    double on_c, off_c, heat_w;
    double burners; /* that start with this stage */
    bool wanted, lit;
    int n_pending; /* switches decided but not yet felt */
    double pending_s[PENDING_MAX];
};

struct stepped_room {
    struct loss loss;
    double ramp_c, ramp_band_k, ramp_w_k, capacity_j_k, dead_time_s;
    int n;
    struct thermostat stages[TH_STAGES_MAX];
    double heat_w; /* of the stages now lit */
};

/* Integrals since the start of measuring. y[0] is the temperature, then ∫ waste and ∫ T. */
enum { TEMP, WASTE, MEAN, STATES };

struct observed {
    double time_s, heat_w, waste_w, mean_c, starts_h;
};

static double loss_w(const struct loss *loss, double temp_c)
{
    const double above_k = temp_c - loss->ref_c;
    return loss->at_w + loss->slope_w_k * above_k + 0.5 * loss->bend_w_k2 * above_k * above_k;
}

static int derivatives(double time_s, const double y[], double dydt[], void *context)
{
    const struct stepped_room *room = context;
    (void)time_s;
    const double waste_w =
        room->ramp_w_k * fmin(fmax(y[TEMP] - room->ramp_c, 0.0), room->ramp_band_k);
    dydt[TEMP] = (room->heat_w - loss_w(&room->loss, y[TEMP]) - waste_w) / room->capacity_j_k;
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
    room->heat_w = 0.0;
    for (int i = 0; i < room->n; i++) {
        struct thermostat *stage = &room->stages[i];
        if (stage->n_pending > 0 && stage->pending_s[0] <= time_s + 1e-9) {
            stage->lit = !stage->lit;
            *started |= stage->lit;
            starts += stage->lit ? stage->burners : 0.0;
            stage->n_pending--;
            for (int k = 0; k < stage->n_pending; k++)
                stage->pending_s[k] = stage->pending_s[k + 1];
        }
        room->heat_w += stage->lit ? stage->heat_w : 0.0;
    }
    return starts;
}

/* Measures from the first start after `settle_s` to the first one at least `span_s` later, so that
 * whole cycles are seen; without starts, over `limit_s`. */
static struct observed observe(struct stepped_room *room, double from_c, double settle_s,
                               double span_s, double limit_s)
{
    gsl_odeiv2_system system = {derivatives, NULL, STATES, room};
    gsl_odeiv2_step *step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk4, STATES);
    double y[STATES] = {from_c, 0.0, 0.0}, error[STATES], time_s = 0.0;
    struct observed seen = {0};
    bool measuring = false;
    double heat_j = 0.0;
    for (;;) {
        bool started;
        const double starts = switch_due(room, time_s, &started);
        if (measuring && ((started && seen.time_s >= span_s) || seen.time_s >= limit_s))
            break;
        if (!measuring && ((started && time_s >= settle_s) || time_s >= limit_s)) {
            measuring = true;
            y[WASTE] = y[MEAN] = 0.0;
        }
        seen.starts_h += measuring ? starts : 0.0;
        const double step_s = next_switch(room, time_s + STEP_S) - time_s, before_c = y[TEMP];
        if (step_s > 0.0) {
            gsl_odeiv2_step_apply(step, time_s, step_s, y, error, NULL, NULL, &system);
            decide(room, time_s, step_s, before_c, y[TEMP]);
            time_s += step_s;
        }
        heat_j += measuring ? room->heat_w * step_s : 0.0;
        seen.time_s += measuring ? step_s : 0.0;
    }
    gsl_odeiv2_step_free(step);
    seen.heat_w = heat_j / seen.time_s;
    seen.waste_w = y[WASTE] / seen.time_s;
    seen.mean_c = y[MEAN] / seen.time_s;
    seen.starts_h *= 3600.0 / seen.time_s;
    return seen;
}

/* --- One heater: th_cycle_solve() ------------------------------------------------------------- */

struct worst {
    double waste_pp, heat_pp, starts_pct, mean_k;
    int cases, hour_long;
};

/* The linear room that the engine hands to the cycle: the chord of the loss from ON to OFF. */
static struct th_cycle_in closed_form_of(const struct stepped_room *room)
{
    const struct thermostat *stage = &room->stages[0];
    const double at_on_w = loss_w(&room->loss, stage->on_c);
    const double slope =
        (loss_w(&room->loss, stage->off_c) - at_on_w) / (stage->off_c - stage->on_c);
    return (struct th_cycle_in){.on_c = stage->on_c,
                                .off_c = stage->off_c,
                                .free_c = stage->on_c - at_on_w / slope,
                                .ua_w_k = slope,
                                .heat_w = stage->heat_w,
                                .capacity_j_k = room->capacity_j_k,
                                .dead_time_s = room->dead_time_s,
                                .ramp_c = room->ramp_c,
                                .ramp_band_k = room->ramp_band_k,
                                .ramp_w_k = room->ramp_w_k};
}

/* The room of E2: 2,650 Btu/°F, first stage 600 cfm more per °F with air 80 °F colder. */
static struct stepped_room room_of(double load_w, double heat_w, double slope_w_k, double delay,
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

/* Waste within 0.5 percentage points of the load or 5 % of itself, heat within the same, and where
 * a cycle is shorter than an hour starts within 3 %: what the engine's hourly step can use. */
static void hold_against(struct stepped_room room, struct worst *worst)
{
    const double load_w = room.loss.at_w, heater_w = room.stages[0].heat_w;
    const struct th_cycle_in in = closed_form_of(&room);
    struct th_cycle ours;
    struct th_error err;
    ck_assert_int_eq(th_cycle_solve(&in, &ours, &err), TH_OK);
    ck_assert_msg(ours.lit > 0.0 && ours.lit < 1.0, "the case has no cycle");
    const double period_s = ours.burn_s + ours.fall_s;
    const struct observed seen = observe(&room, in.on_c, 0.0, 1.5 * period_s, 4.0 * period_s);
    const double allowed_w = fmax(0.005 * load_w, 0.05 * seen.waste_w);
    const double waste_w = fabs(ours.waste_w - seen.waste_w);
    const double heat_w = fabs(ours.lit * heater_w - seen.heat_w);
    ck_assert_msg(waste_w <= allowed_w, "load %g heater %g: waste %g W, stepped %g W", load_w,
                  heater_w, ours.waste_w, seen.waste_w);
    ck_assert_msg(heat_w <= allowed_w, "load %g heater %g: heat %g W, stepped %g W", load_w,
                  heater_w, ours.lit * heater_w, seen.heat_w);
    worst->cases++;
    worst->waste_pp = fmax(worst->waste_pp, 100.0 * waste_w / load_w);
    worst->heat_pp = fmax(worst->heat_pp, 100.0 * heat_w / load_w);
    worst->mean_k = fmax(worst->mean_k, fabs(ours.mean_c - seen.mean_c));
    if (period_s > 3600.0) {
        worst->hour_long++;
        return;
    }
    const double starts_pct = 100.0 * fabs(ours.starts_h / seen.starts_h - 1.0);
    ck_assert_msg(starts_pct <= 3.0, "load %g heater %g: %g starts/h, stepped %g", load_w, heater_w,
                  ours.starts_h, seen.starts_h);
    worst->starts_pct = fmax(worst->starts_pct, starts_pct);
}

/* `bend` is the change of the slope per K, as a share of the slope. */
static void over_delays_and_ramps(double load_w, double heat_w, double slope_w_k, double bend,
                                  struct worst *worst)
{
    static const double delays[] = {0.5, 1.0, 2.0}, ramps_f[] = {0.0, 1.5, 4.0};
    for (int d = 0; d < 3; d++)
        for (int r = 0; r < 3; r++) {
            struct stepped_room room = room_of(load_w, heat_w, slope_w_k, delays[d], F(ramps_f[r]));
            room.loss.bend_w_k2 = bend * slope_w_k;
            hold_against(room, worst);
        }
}

static void over_the_grid(double bend, struct worst *worst)
{
    static const double shares[] = {0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 0.85, 0.95, 0.98};
    static const double sizes[] = {1.1, 1.25, 1.5, 2.0, 3.0, 4.5, 7.0};
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
        over_delays_and_ramps(shares[i] * BTUH(675e3), BTUH(675e3), UA(3000.0), bend, worst);
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        over_delays_and_ramps(BTUH(200e3), sizes[i] * BTUH(200e3), UA(2500.0), bend, worst);
}

static void report_cycle(const char *id, const struct worst *worst)
{
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst waste, of the load", 0.0,
             worst->waste_pp, 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst heat, of the load", 0.0,
             worst->heat_pp, 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst starts, cycles under an hour", 0.0,
             worst->starts_pct, 0.0, "%");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst mean temperature", 0.0,
             worst->mean_k / TH_K_PER_F, 0.0, "°F");
}

START_TEST(one_heater_where_the_loss_is_linear)
{
    struct worst worst = {0};
    over_the_grid(0.0, &worst);
    ck_assert_int_gt(worst.cases - worst.hour_long, 100);
    report_cycle("E8", &worst);
}
END_TEST

/* The slope grows by 3 % per K: leakage with the power 1.5 of the difference and falling pig heat
 * bend a room's balance by less. */
START_TEST(one_heater_where_the_loss_bends)
{
    struct worst worst = {0};
    over_the_grid(0.03, &worst);
    ck_assert_int_gt(worst.cases - worst.hour_long, 100);
    report_cycle("E9", &worst);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("reference");
    TCase *tc = tcase_create("reference");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, one_heater_where_the_loss_is_linear);
    tcase_add_test(tc, one_heater_where_the_loss_bends);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
