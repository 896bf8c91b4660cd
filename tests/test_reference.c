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
    double time_s, heat_w, waste_w, mean_c, starts_h, low_c, high_c;
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
    struct observed seen = {.low_c = INFINITY, .high_c = -INFINITY};
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

/* Rounded, so that the committed page does not depend on a compiler's last digits. */
static double to_thousandths(double value)
{
    return round(1e3 * value) / 1e3;
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
             to_thousandths(worst->waste_pp), 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst heat, of the load", 0.0,
             to_thousandths(worst->heat_pp), 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst starts, cycles under an hour", 0.0,
             to_thousandths(worst->starts_pct), 0.0, "%");
    validate(id, VALIDATE_REPORT, SOURCE, "one heater: worst mean temperature", 0.0,
             to_thousandths(worst->mean_k / TH_K_PER_F), 0.0, "°F");
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

/* --- Several stages: th_heating_solve() ------------------------------------------------------- */

#define SET_F 81.0
#define UNITS 3
#define UNIT_W BTUH(250e3)
#define SHARE 0.92
#define LOW_FIRE 0.5
#define STAGGER_K F(1.0)

/* Thermostats as the barn file describes them, not as th_heating_init() lists them. */
static void add_thermostats(struct stepped_room *room, enum th_control control)
{
    const double all_w = UNITS * UNIT_W * SHARE;
    room->n = control == TH_LEAD_LAG ? UNITS : 2;
    for (int i = 0; i < room->n; i++) {
        const double low_w = i == 0 ? LOW_FIRE * all_w : (1.0 - LOW_FIRE) * all_w;
        room->stages[i] =
            (struct thermostat){.on_c = th_c_from_f(SET_F - 2.0) - i * STAGGER_K,
                                .off_c = th_c_from_f(SET_F - 1.0) - i * STAGGER_K,
                                .heat_w = control == TH_LEAD_LAG ? UNIT_W * SHARE : low_w,
                                .burners = control == TH_LEAD_LAG ? 1.0
                                           : i == 0               ? UNITS
                                                                  : 0.0};
    }
}

static struct th_heating heating_of(enum th_control control, double delay)
{
    struct th_room room;
    struct th_heating heating;
    struct th_error err;
    th_room_defaults(&room);
    room.shell.volume_m3 = 64000.0 * TH_M3_PER_FT3;
    room.response.factor = delay;
    room.n_heaters = 1;
    th_heater_defaults(&room.heaters[0]);
    room.heaters[0].control = control;
    room.heaters[0].units = UNITS;
    room.heaters[0].input_w = UNIT_W;
    room.heaters[0].share = SHARE;
    room.heaters[0].turndown = LOW_FIRE;
    ck_assert_int_eq(th_heating_init(&heating, &room, &err), TH_OK);
    return heating;
}

struct gap {
    double waste_pp, heat_pp, starts_pct, mean_k, swing_k;
    int hours;
};

static double larger(double worst, double value)
{
    return fmax(worst, fabs(value));
}

static void widen(struct gap *gap, const struct th_heating_out *ours, const struct observed *seen,
                  double load_w)
{
    gap->hours++;
    gap->waste_pp = larger(gap->waste_pp, 100.0 * (ours->waste_w - seen->waste_w) / load_w);
    gap->heat_pp = larger(gap->heat_pp, 100.0 * (ours->heat_w - seen->heat_w) / load_w);
    gap->mean_k = larger(gap->mean_k, ours->mean_c - seen->mean_c);
    gap->swing_k = larger(gap->swing_k, ours->low_c - seen->low_c);
    gap->swing_k = larger(gap->swing_k, ours->high_c - seen->high_c);
    if (seen->starts_h > 0.0)
        gap->starts_pct = larger(gap->starts_pct, 100.0 * (ours->starts / seen->starts_h - 1.0));
    else
        ck_assert_double_eq(ours->starts, 0.0);
}

/* One hour's loss at a share of full fire; adds to `apart` or, where stages meet, to `meeting`. */
static void compare_hour(enum th_control control, double delay, double share, struct gap *apart,
                         struct gap *meeting)
{
    const struct th_heating heating = heating_of(control, delay);
    const double load_w = share * UNITS * UNIT_W * SHARE;
    struct stepped_room room = room_of(load_w, 0.0, UA(3000.0), delay, F(1.5));
    add_thermostats(&room, control);
    room.capacity_j_k = heating.capacity_j_k;
    const struct th_heating_in in = {.set_c = th_c_from_f(SET_F),
                                     .free_c = room.loss.ref_c - load_w / room.loss.slope_w_k,
                                     .ua_w_k = room.loss.slope_w_k,
                                     .ramp_c = room.ramp_c,
                                     .ramp_band_k = room.ramp_band_k,
                                     .ramp_w_k = room.ramp_w_k};
    struct th_heating_out ours;
    struct th_error err;
    ck_assert_int_eq(th_heating_solve(&heating, &in, &ours, &err), TH_OK);
    const struct observed seen =
        observe(&room, room.loss.ref_c, 7200.0, 4.0 * 3600.0, 6.0 * 3600.0);
    widen(ours.interact ? meeting : apart, &ours, &seen, load_w);
}

static void report_meeting(const char *id, const struct gap *gap)
{
    validate(id, VALIDATE_REPORT, SOURCE, "stages that meet: worst waste, of the load", 0.0,
             to_thousandths(gap->waste_pp), 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "stages that meet: worst heat, of the load", 0.0,
             to_thousandths(gap->heat_pp), 0.0, "pp");
    validate(id, VALIDATE_REPORT, SOURCE, "stages that meet: worst starts", 0.0,
             to_thousandths(gap->starts_pct), 0.0, "%");
    validate(id, VALIDATE_REPORT, SOURCE, "stages that meet: worst mean temperature", 0.0,
             to_thousandths(gap->mean_k / TH_K_PER_F), 0.0, "°F");
    validate(id, VALIDATE_REPORT, SOURCE, "stages that meet: worst trough or peak", 0.0,
             to_thousandths(gap->swing_k / TH_K_PER_F), 0.0, "°F");
}

/* Where no swing reaches a neighbour the hour is exact, so it is held to what a step of 0.5 s
 * resolves. Neighbours treated as one are an approximation and only reported. */
static void hold_stages(enum th_control control, const char *id)
{
    static const double delays[] = {0.5, 1.0, 2.0};
    static const double shares[] = {0.05, 0.1, 0.2, 0.3, 0.4, 0.45, 0.55, 0.6, 0.7, 0.8, 0.9, 0.95};
    struct gap apart = {0}, meeting = {0};
    for (int d = 0; d < 3; d++)
        for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
            compare_hour(control, delays[d], shares[i], &apart, &meeting);
    ck_assert_int_gt(apart.hours, 10);
    ck_assert_int_gt(meeting.hours, 5);
    validate(id, VALIDATE_CHECK, SOURCE, "stages apart: worst waste, of the load", 0.0,
             to_thousandths(apart.waste_pp), 0.05, "pp");
    validate(id, VALIDATE_CHECK, SOURCE, "stages apart: worst heat, of the load", 0.0,
             to_thousandths(apart.heat_pp), 0.05, "pp");
    validate(id, VALIDATE_CHECK, SOURCE, "stages apart: worst starts", 0.0,
             to_thousandths(apart.starts_pct), 0.5, "%");
    validate(id, VALIDATE_CHECK, SOURCE, "stages apart: worst mean temperature", 0.0,
             to_thousandths(apart.mean_k / TH_K_PER_F), 0.01, "°F");
    validate(id, VALIDATE_CHECK, SOURCE, "stages apart: worst trough or peak", 0.0,
             to_thousandths(apart.swing_k / TH_K_PER_F), 0.05, "°F");
    report_meeting(id, &meeting);
}

START_TEST(three_heaters_in_turn)
{
    hold_stages(TH_LEAD_LAG, "E10");
}
END_TEST

START_TEST(three_heaters_of_two_fires)
{
    hold_stages(TH_TWO_STAGE, "E11");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("reference");
    TCase *tc = tcase_create("reference");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, one_heater_where_the_loss_is_linear);
    tcase_add_test(tc, one_heater_where_the_loss_bends);
    tcase_add_test(tc, three_heaters_in_turn);
    tcase_add_test(tc, three_heaters_of_two_fires);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
