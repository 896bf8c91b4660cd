/* SPDX-License-Identifier: GPL-3.0-or-later */
/* th_heating_solve(), several stages, against a room integrated in time. */
#include "turnheat/control.h"

#include "run_suite.h"
#include "stepped_room.h"
#include "validation/validate.h"
#include <math.h>
#include <stdio.h>

#define SOURCE "room integrated by GSL, 4th-order Runge-Kutta, 1 s, derived"

#define SET_F 81.0
#define UNIT_W BTUH(250e3)
#define SHARE 0.92

/* Heaters of a room, as the barn file lists them. */
struct scheme {
    const char *id, *name;
    int n;
    struct th_heater heaters[2];
};

static struct th_heater heaters_of(enum th_control control, int units, double turndown,
                                   double stagger_f, double lower_f)
{
    struct th_heater heater;
    th_heater_defaults(&heater);
    heater.control = control;
    heater.units = units;
    heater.input_w = UNIT_W;
    heater.share = SHARE;
    heater.turndown = turndown;
    heater.stagger_k = F(stagger_f);
    heater.on_k += F(lower_f);
    heater.off_k += F(lower_f);
    return heater;
}

static void add_thermostat(struct stepped_room *room, const struct th_heater *heater, double share,
                           double burners, double lower_k)
{
    const double all_w = heater->units * heater->input_w * heater->share;
    const bool valve = heater->control == TH_MODULATING;
    room->stages[room->n++] =
        (struct thermostat){.on_c = th_c_from_f(SET_F) - heater->on_k - lower_k,
                            .off_c = th_c_from_f(SET_F) - heater->off_k - lower_k,
                            .heat_w = share * all_w,
                            .low = heater->turndown,
                            .band_k = valve ? heater->band_k : 0.0,
                            .burners = burners};
}

/* Thermostats as the words of the barn file say, not as th_heating_init() lists them. */
static void add_thermostats(struct stepped_room *room, const struct th_heater *heater)
{
    if (heater->control == TH_LEAD_LAG)
        for (int i = 0; i < heater->units; i++)
            add_thermostat(room, heater, 1.0 / heater->units, 1.0, i * heater->stagger_k);
    else if (heater->control == TH_TWO_STAGE) {
        add_thermostat(room, heater, heater->turndown, heater->units, 0.0);
        add_thermostat(room, heater, 1.0 - heater->turndown, 0.0, heater->stagger_k);
    } else
        add_thermostat(room, heater, 1.0, heater->units, 0.0);
}

static struct th_heating heating_of(const struct scheme *scheme, double delay)
{
    struct th_room room;
    struct th_heating heating;
    struct th_error err;
    th_room_defaults(&room);
    room.shell.volume_m3 = 64000.0 * TH_M3_PER_FT3;
    room.response.factor = delay;
    room.n_heaters = scheme->n;
    for (int i = 0; i < scheme->n; i++)
        room.heaters[i] = scheme->heaters[i];
    ck_assert_int_eq(th_heating_init(&heating, &room, &err), TH_OK);
    return heating;
}

struct gap {
    double waste_pp, heat_pp, starts_pct, mean_k, swing_k;
    int hours, meeting;
};

static double larger(double worst, double value)
{
    return fmax(worst, fabs(value));
}

static void widen(struct gap *gap, const struct th_heating_out *ours, const struct observed *seen,
                  double load_w)
{
    gap->hours++;
    gap->meeting += ours->interact;
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

/* One hour's loss at a share of full fire. A modulating heater with fixed ones behind it may hold
 * the room or, once disturbed, swing with them for ever; the room starts held. */
static void compare_hour(const struct scheme *scheme, double delay, double share, struct gap *gap)
{
    const struct th_heating heating = heating_of(scheme, delay);
    const double load_w = share * heating.input_w * SHARE;
    struct stepped_room room = room_of(load_w, 0.0, UA(3000.0), delay, F(1.5));
    room.n = 0;
    for (int i = 0; i < scheme->n; i++)
        add_thermostats(&room, &scheme->heaters[i]);
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
    room.stages[0].wanted = room.stages[0].lit = true;
    const struct observed seen = observe(&room, ours.mean_c, 7200.0, 8.0 * 3600.0, 10.0 * 3600.0);
    widen(gap, &ours, &seen, load_w);
}

/* A tolerance of 0 makes the row a report. */
static void hold_row(const struct scheme *scheme, const char *quantity, double worst,
                     double tolerance, const char *unit)
{
    char what[96];
    snprintf(what, sizeof what, "%s: worst %s", scheme->name, quantity);
    validate(scheme->id, tolerance > 0.0 ? VALIDATE_CHECK : VALIDATE_REPORT, SOURCE, what, 0.0,
             to_thousandths(worst), tolerance, unit);
}

static struct gap gap_of(const struct scheme *scheme)
{
    static const double delays[] = {0.5, 1.0, 2.0};
    static const double shares[] = {0.05, 0.1, 0.2, 0.3, 0.4, 0.45, 0.55, 0.6, 0.7, 0.8, 0.9, 0.95};
    struct gap gap = {0};
    for (int d = 0; d < 3; d++)
        for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
            compare_hour(scheme, delays[d], shares[i], &gap);
    return gap;
}

/* Stages apart and stages that wake each other alike. What the room stores between the first and
 * the last start seen is left in the heat and the starts: about one start in a hundred. */
static void hold_fixed(const struct scheme *scheme)
{
    const struct gap gap = gap_of(scheme);
    ck_assert_int_ge(gap.meeting, 5);
    ck_assert_int_ge(gap.hours - gap.meeting, 5);
    hold_row(scheme, "waste, of the load", gap.waste_pp, 0.05, "pp");
    hold_row(scheme, "heat, of the load", gap.heat_pp, 0.2, "pp");
    hold_row(scheme, "starts", gap.starts_pct, 3.0, "%");
    hold_row(scheme, "mean temperature", gap.mean_k / TH_K_PER_F, 0.02, "°F");
    hold_row(scheme, "trough or peak", gap.swing_k / TH_K_PER_F, 0.05, "°F");
}

/* The valve of the stepped room follows the temperature all the time; ours is held at low fire
 * while the heater cycles. So the waste is held to, and the rest shows what that rule costs. */
static void hold_modulating(const struct scheme *scheme)
{
    const struct gap gap = gap_of(scheme);
    hold_row(scheme, "waste, of the load", gap.waste_pp, 0.5, "pp");
    hold_row(scheme, "heat, of the load", gap.heat_pp, 0.0, "pp");
    hold_row(scheme, "starts", gap.starts_pct, 0.0, "%");
    hold_row(scheme, "mean temperature", gap.mean_k / TH_K_PER_F, 0.0, "°F");
}

START_TEST(heaters_in_turn)
{
    const struct scheme scheme = {
        "E10", "lead-lag", 1, {heaters_of(TH_LEAD_LAG, 3, 0.5, 1.0, 0.0)}};
    hold_fixed(&scheme);
}
END_TEST

START_TEST(heaters_of_two_fires)
{
    const struct scheme scheme = {
        "E11", "two-stage", 1, {heaters_of(TH_TWO_STAGE, 3, 0.5, 1.0, 0.0)}};
    hold_fixed(&scheme);
}
END_TEST

START_TEST(modulating_heaters)
{
    const struct scheme scheme = {
        "E12", "modulating", 1, {heaters_of(TH_MODULATING, 3, 0.3, 1.0, 0.0)}};
    hold_modulating(&scheme);
}
END_TEST

START_TEST(modulating_with_fixed_heaters_behind)
{
    const struct scheme scheme = {
        "E13",
        "modulating, then fixed",
        2,
        {heaters_of(TH_MODULATING, 1, 0.3, 1.0, 0.0), heaters_of(TH_ON_OFF, 2, 0.5, 1.0, 1.0)}};
    hold_modulating(&scheme);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("reference_stages");
    TCase *tc = tcase_create("reference_stages");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, heaters_in_turn);
    tcase_add_test(tc, heaters_of_two_fires);
    tcase_add_test(tc, modulating_heaters);
    tcase_add_test(tc, modulating_with_fixed_heaters_behind);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
