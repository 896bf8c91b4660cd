/* SPDX-License-Identifier: GPL-3.0-or-later */
/* th_cycle_solve(), one heater, against a room integrated in time. */
#include "turnheat/cycle.h"

#include "run_suite.h"
#include "stepped_room.h"
#include "validation/validate.h"
#include <math.h>

#define SOURCE "room integrated by GSL, 4th-order Runge-Kutta, 1 s, derived"

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
