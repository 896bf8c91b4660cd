/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for every sane room and winter, tried on random ones: physics and bookkeeping, no
   source. The seeds are fixed, so a failure comes back. */
#include "sample_room.h"
#include "turnheat/winters.h"

#include "run_suite.h"
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#define YEAR 2015
#define DAYS 125 /* of weather, from 1 November */
#define ROUNDING 1e-9

static gsl_rng *rng;

static void begin(void)
{
    rng = gsl_rng_alloc(gsl_rng_mt19937);
}

static void end(void)
{
    gsl_rng_free(rng);
}

static double between(double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(rng);
}

static bool chance(double share)
{
    return gsl_rng_uniform(rng) < share;
}

/* --- random rooms and weather --- */

static void random_surfaces(struct th_room *room)
{
    static const double floor_shares[] = {1.0, 0.2, 0.2, 0.05};
    static const enum th_surface_kind kinds[] = {TH_CEILING, TH_CURTAIN, TH_WALL, TH_DOOR};
    room->n_surfaces = 4;
    for (int i = 0; i < 4; i++) {
        struct th_surface *const surface = &room->surfaces[i];
        th_surface_defaults(surface);
        surface->kind = kinds[i];
        surface->area_m2 = room->shell.floor_m2 * floor_shares[i] * between(0.8, 1.3);
        surface->r_m2k_w = between(1.5, i == 1 ? 5.0 : 40.0) * TH_R_SI_PER_US;
    }
    if (chance(0.5))
        room->surfaces[0].faces = TH_FACES_ATTIC;
}

static void random_heaters(struct th_room *room, enum th_control control)
{
    static const enum th_pilot pilots[] = {TH_PILOT_NONE, TH_PILOT_HEATING, TH_PILOT_TURN};
    room->n_heaters = 2;
    for (int i = 0; i < 2; i++) {
        struct th_heater *const heater = &room->heaters[i];
        th_heater_defaults(heater);
        heater->control = control;
        heater->units = 1 + (int)gsl_rng_uniform_int(rng, 3);
        heater->input_w = between(150e3, 250e3) * TH_W_PER_BTUH;
        heater->turndown = th_heater_turndown(control);
        heater->on_k = (1.5 + 0.5 * (double)gsl_rng_uniform_int(rng, 4)) * TH_K_PER_F;
        heater->off_k = heater->on_k - between(0.5, 1.4) * TH_K_PER_F;
        heater->pilot = pilots[gsl_rng_uniform_int(rng, 3)];
        heater->blower_w = between(0.0, 500.0);
    }
}

/* Of one heater, or of two that ask for heat at different temperatures. */
static struct th_room random_room(enum th_control control)
{
    struct th_room room = sample_room(control);
    room.site.elevation_m = between(0.0, 800.0);
    room.shell.edge_f_w_mk = between(0.5, 1.3);
    room.shell.roof_m2 = 1.05 * room.shell.floor_m2;
    room.shell.mass_j_m2k *= between(0.0, 1.5);
    room.air.leak_cm2 *= between(0.1, 2.0);
    room.air.floor_m3_s = between(0.0, 0.25);
    room.pigs.k_s = between(0.75, 0.95);
    room.pigs.activity = between(0.0, 0.43);
    room.zone.on = chance(0.3);
    random_surfaces(&room);
    random_heaters(&room, control);
    if (room.surfaces[0].faces == TH_FACES_ATTIC && chance(0.5))
        room.air.inlet = TH_INLET_ATTIC;
    room.turns[0].head = between(300.0, 1200.0);
    room.turns[0].weight_kg = between(5.5, 20.0);
    room.turns[0].days = (int)between(15.0, 35.0);
    room.turns[0].month = 11 + (int)gsl_rng_uniform_int(rng, 2);
    return room;
}

/* A wave a day on a wandering mean, from 1 November. */
static struct th_climate random_climate(void)
{
    struct th_climate climate = {.first_hour = 24 * th_day_number(YEAR, 11, 1), .n = 24 * DAYS};
    climate.hours = calloc(climate.n, sizeof *climate.hours);
    ck_assert_ptr_nonnull(climate.hours);
    const double mean_c = between(-15.0, 3.0), swing_k = between(1.0, 8.0);
    double wander_k = 0.0;
    for (size_t i = 0; i < climate.n; i++) {
        struct th_climate_hour *const hour = &climate.hours[i];
        if (i % 24 == 0)
            wander_k = 0.7 * wander_k + gsl_ran_gaussian(rng, 4.0);
        hour->mean24_c = mean_c + wander_k;
        hour->out_c = hour->mean24_c + swing_k * sin(2.0 * M_PI * (double)(i % 24 - 9) / 24.0);
        hour->pressure_pa = th_psy_pressure(300.0);
        hour->w_kg_kg = 0.75 * th_psy_saturation_ratio(hour->out_c, hour->pressure_pa);
        hour->wind_m_s = between(0.0, 9.0);
        hour->state = TH_HOUR_OBSERVED;
    }
    return climate;
}

static void cool(struct th_climate *climate, double by_k)
{
    for (size_t i = 0; i < climate->n; i++) {
        struct th_climate_hour *const hour = &climate->hours[i];
        hour->out_c -= by_k;
        hour->mean24_c -= by_k;
        hour->w_kg_kg = 0.75 * th_psy_saturation_ratio(hour->out_c, hour->pressure_pa);
    }
}

static struct th_tally run(const struct th_room *room, const struct th_climate *climate)
{
    struct th_winters winters;
    struct th_tally total;
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(&winters, room, climate, YEAR, YEAR, NULL, &err) == TH_OK, "%s",
                  err.text);
    ck_assert_int_eq(winters.n_counted, 1);
    th_winters_total(&winters, &total);
    th_winters_finish(&winters);
    return total;
}

static double gas_j(const struct th_room *room, const struct th_climate *climate)
{
    const struct th_tally total = run(room, climate);
    return th_tally_gas_j(&total);
}

/* --- the engine --- */

/* With an ideal heater every one of these costs gas; each is far above rounding. */
START_TEST(gas_is_monotone)
{
    gsl_rng_set(rng, 1000 + (unsigned long)_i);
    const struct th_room room = random_room(TH_IDEAL);
    struct th_climate climate = random_climate();
    const double now = gas_j(&room, &climate), more = now * (1.0 + 1e-6);
    ck_assert_double_gt(now, 0.0);
    struct th_room other = room;
    other.surfaces[_i % 4].r_m2k_w *= between(1.05, 2.0);
    ck_assert_msg(gas_j(&other, &climate) * (1.0 + 1e-6) < now, "insulation");
    other = room;
    other.air.minimum_share = between(1.02, 1.5);
    ck_assert_msg(gas_j(&other, &climate) > more, "minimum air");
    other = room;
    other.zone.on = false; /* a warmer room takes over from zone heat, which may save gas */
    const double without_zone = gas_j(&other, &climate);
    other.calibration.set_shift_k = between(0.1, 3.0);
    ck_assert_msg(gas_j(&other, &climate) > without_zone * (1.0 + 1e-6), "set point");
    other = room;
    other.air.leak_cm2 *= between(1.1, 3.0);
    ck_assert_msg(gas_j(&other, &climate) > more, "leakage");
    cool(&climate, between(0.1, 4.0));
    ck_assert_msg(gas_j(&room, &climate) > more, "cold");
    th_climate_finish(&climate);
}
END_TEST

/* Off a hallway a better insulated room throws more heat out; what comes in for that must not be
 * warmed at the hallway's expense, or insulation would burn gas. */
START_TEST(insulation_saves_off_a_hallway)
{
    gsl_rng_set(rng, 5000 + (unsigned long)_i);
    struct th_room room = random_room(TH_IDEAL);
    struct th_climate climate = random_climate();
    room.air.inlet = TH_INLET_HALLWAY;
    room.air.surplus = TH_SURPLUS_OUTSIDE;
    room.air.hallway_c = between(2.0, 18.0);
    const double now = gas_j(&room, &climate);
    for (int i = 0; i < room.n_surfaces; i++) {
        struct th_room other = room;
        other.surfaces[i].r_m2k_w *= between(1.05, 3.0);
        ck_assert_msg(gas_j(&other, &climate) <= now * (1.0 + 1e-9), "surface %d", i);
    }
    th_climate_finish(&climate);
}
END_TEST

static const enum th_control controls[] = {TH_IDEAL, TH_ON_OFF, TH_LEAD_LAG, TH_TWO_STAGE,
                                           TH_MODULATING};

START_TEST(balances_close)
{
    gsl_rng_set(rng, 2000 + (unsigned long)_i);
    struct th_room room = random_room(controls[_i % 5]);
    room.pigs.spill_kg_day = between(0.0, 0.5);
    room.air.control_rh = chance(0.3);
    room.air.control_co2 = chance(0.3);
    struct th_climate climate = random_climate();
    const struct th_tally total = run(&room, &climate);
    ck_assert_double_lt(fabs(th_tally_heat_gap(&total)), 1e-6);
    ck_assert_double_lt(fabs(th_tally_water_gap(&total)), 1e-6);
    ck_assert_double_lt(fabs(th_tally_co2_gap(&total)), 1e-6);
    th_climate_finish(&climate);
}
END_TEST

/* Hours solved anew, the ramp start looked at first and last. */
struct again {
    struct th_solvers solvers;
    int hours, of_surplus;
};

static void solve_again(void *context, int turn, long hour_number, const struct th_hour_in *in,
                        const struct th_hour_out *out)
{
    struct again *const again = context;
    (void)turn;
    (void)hour_number;
    for (int first = 0; first < 2; first++) {
        struct th_hour_out other;
        struct th_error err;
        again->solvers.surplus = first == 1;
        ck_assert_int_eq(th_hour_solve(in, &again->solvers, &other, &err), TH_OK);
        ck_assert_double_eq(other.gas_w, out->gas_w);
        ck_assert_double_eq(other.room_c, out->room_c);
        ck_assert_double_eq(other.thrown_w, out->thrown_w);
        ck_assert_double_eq(other.dry_air_kg_s, out->dry_air_kg_s);
    }
    again->hours++;
    again->of_surplus += out->thrown_w > 0.0;
}

START_TEST(where_is_looked_first_does_not_matter)
{
    gsl_rng_set(rng, 2500 + (unsigned long)_i);
    struct th_room room = random_room(controls[_i % 5]);
    room.air.control_rh = room.air.control_co2 = chance(0.5);
    struct th_climate climate = random_climate();
    cool(&climate, -16.0); /* so mild that heat and surplus take turns */
    struct again again = {.hours = 0};
    struct th_winters winters;
    struct th_error err;
    const struct th_watch watch = {solve_again, &again};
    ck_assert_int_eq(th_solvers_init(&again.solvers, &err), TH_OK);
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, YEAR, YEAR, &watch, &err), TH_OK);
    ck_assert_int_gt(again.hours, 300);
    ck_assert_int_gt(again.of_surplus, 0);
    ck_assert_int_lt(again.of_surplus, again.hours);
    th_winters_finish(&winters);
    th_solvers_finish(&again.solvers);
    th_climate_finish(&climate);
}
END_TEST

static void assert_same_sums(const struct th_tally *a, const struct th_tally *b)
{
    for (int i = 0; i < TH_TALLY_COUNT; i++)
        ck_assert_msg(fabs(a->sum[i] - b->sum[i]) <= ROUNDING * (1.0 + fabs(a->sum[i])),
                      "%s: %.12g and %.12g", th_tally_text((enum th_tally_item)i), a->sum[i],
                      b->sum[i]);
}

START_TEST(order_of_surfaces_and_heaters_does_not_matter)
{
    gsl_rng_set(rng, 3000 + (unsigned long)_i);
    struct th_room room = random_room(controls[_i % 5]);
    room.heaters[1].control = controls[gsl_rng_uniform_int(rng, 5)];
    room.heaters[1].turndown = th_heater_turndown(room.heaters[1].control);
    struct th_climate climate = random_climate();
    const struct th_tally now = run(&room, &climate);
    gsl_ran_shuffle(rng, room.surfaces, (size_t)room.n_surfaces, sizeof room.surfaces[0]);
    const struct th_heater first = room.heaters[0];
    room.heaters[0] = room.heaters[1];
    room.heaters[1] = first;
    const struct th_tally then = run(&room, &climate);
    assert_same_sums(&now, &then);
    th_climate_finish(&climate);
}
END_TEST

/* A group of like heaters under one thermostat, written as so many groups of one. */
START_TEST(a_group_may_be_written_one_by_one)
{
    static const enum th_control together[] = {TH_IDEAL, TH_ON_OFF, TH_TWO_STAGE, TH_MODULATING};
    gsl_rng_set(rng, 4000 + (unsigned long)_i);
    struct th_room room = random_room(together[_i % 4]);
    struct th_climate climate = random_climate();
    room.n_heaters = 1;
    room.heaters[0].units = 5;
    room.heaters[0].share = between(0.7, 0.95);
    const struct th_tally now = run(&room, &climate);
    room.n_heaters = 5;
    room.heaters[0].units = 1;
    for (int i = 1; i < 5; i++)
        room.heaters[i] = room.heaters[0];
    const struct th_tally then = run(&room, &climate);
    assert_same_sums(&now, &then);
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("properties");
    TCase *tc = tcase_create("properties");
    tcase_set_timeout(tc, 120);
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_loop_test(tc, gas_is_monotone, 0, 60);
    tcase_add_loop_test(tc, insulation_saves_off_a_hallway, 0, 60);
    tcase_add_loop_test(tc, balances_close, 0, 100);
    tcase_add_loop_test(tc, where_is_looked_first_does_not_matter, 0, 10);
    tcase_add_loop_test(tc, order_of_surfaces_and_heaters_does_not_matter, 0, 60);
    tcase_add_loop_test(tc, a_group_may_be_written_one_by_one, 0, 40);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
