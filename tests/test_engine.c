/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The engine on small rooms: conservation, and physics that must hold exactly. */
#include "sample_room.h"
#include "turnheat/winters.h"

#include "run_suite.h"
#include "validation/validate.h"

#define FIRST_YEAR 2010

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

static struct th_tally run(const struct th_room *room)
{
    struct th_winters winters;
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(&winters, room, &climate, FIRST_YEAR, FIRST_YEAR, NULL, &err) ==
                      TH_OK,
                  "%s", err.text);
    ck_assert_int_eq(winters.n_counted, 1);
    struct th_tally total;
    th_winters_total(&winters, &total);
    th_winters_finish(&winters);
    return total;
}

static double gallons(const struct th_room *room)
{
    const struct th_tally total = run(room);
    return th_tally_gas_j(&total) / room->fuel.hhv_j;
}

static const enum th_control controls[] = {TH_IDEAL, TH_ON_OFF, TH_LEAD_LAG, TH_TWO_STAGE,
                                           TH_MODULATING};

/* J1, conservation: every control, with pilots, blowers, zone heat and spills. */
START_TEST(balances_close)
{
    struct th_room room = sample_room(controls[_i]);
    room.heaters[0].pilot = TH_PILOT_TURN;
    room.heaters[0].blower_w = 500.0;
    room.pigs.spill_kg_day = 0.3;
    room.zone.on = _i % 2;
    const struct th_tally t = run(&room);
    ck_assert_double_lt(fabs(th_tally_heat_gap(&t)), 1e-6);
    ck_assert_double_lt(fabs(th_tally_water_gap(&t)), 1e-6);
    ck_assert_double_lt(fabs(th_tally_co2_gap(&t)), 1e-6);
    /* Gas times share, pilots and blowers make up all heat that heaters gave. */
    const double share = room.fuel.lhv_share;
    ck_assert_double_eq_tol(t.sum[TH_FROM_HEATERS], share * t.sum[TH_GAS_HEATERS],
                            1e-9 * t.sum[TH_FROM_HEATERS]);
    ck_assert_double_eq_tol(t.sum[TH_FROM_PILOTS], share * t.sum[TH_GAS_PILOTS],
                            1e-9 * t.sum[TH_FROM_PILOTS]);
    if (_i == 1)
        validate("J1", VALIDATE_CHECK, "conservation", "heat in less heat out over heat in, on/off",
                 0.0, th_tally_heat_gap(&t), 1e-8, "share");
}
END_TEST

START_TEST(months_and_phases_add_up)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_winters winters;
    struct th_error err;
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, NULL, &err),
                     TH_OK);
    const struct th_season *season = &winters.seasons[0];
    double months = 0.0, phases = 0.0;
    for (int i = 0; i < 12; i++)
        months += th_tally_gas_j(&season->month[i]);
    for (int i = 0; i < TH_PHASES; i++)
        phases += th_tally_gas_j(&season->turns[0].phase[i]);
    const double total = th_tally_gas_j(&season->total);
    ck_assert_double_gt(total, 0.0);
    ck_assert_double_eq_tol(months, total, 1e-9 * total);
    ck_assert_double_eq_tol(phases, total, 1e-9 * total);
    th_winters_finish(&winters);
}
END_TEST

/* No pigs, leakage, mass, edge or blower: what is left is UA and air. */
static struct th_room bare_room(void)
{
    struct th_room room = sample_room(TH_IDEAL);
    room.turns[0].head = 1e-9;
    room.turns[0].preheat_h = 0.0;
    room.air.leak_cm2 = 0.0;
    room.air.floor_m3_s = 2.0;
    room.shell.edge_f_w_mk = 0.0;
    room.shell.mass_j_m2k = 0.0;
    room.pigs.activity = 0.0;
    room.heaters[0].input_w = 1e6;
    room.setpoints.set_c = (struct th_table){.n = 1, .x = {0.0}, .y = {35.0}};
    room.air.burner_air_m3_s_w = 0.0;
    return room;
}

/* Dry air that 2 m³/s leaving at `temp_c` carry, as W/K. */
static double two_m3_s_w_k(double temp_c, const struct th_climate_hour *h)
{
    const double volume =
        287.042 * (temp_c + 273.15) * (1.0 + 1.607858 * h->w_kg_kg) / h->pressure_pa;
    return 2.0 / volume * (1006.0 + 1860.0 * h->w_kg_kg);
}

static double shell_w_k(const struct th_room *room)
{
    return room->surfaces[0].area_m2 / room->surfaces[0].r_m2k_w +
           room->surfaces[1].area_m2 / room->surfaces[1].r_m2k_w;
}

/* C8, physics: gas is degree-hours times loss, worked here without the engine. The engine takes
 * terms as linear between ON and OFF, 1 °F apart; the density of air is not quite, hence 1e-5. */
START_TEST(without_pigs_gas_is_degree_hours_times_loss)
{
    const struct th_room room = bare_room();
    const double hold_c = 35.0 - 1.5 * TH_K_PER_F;
    const double ua = shell_w_k(&room);
    const long first = 24 * th_day_number(FIRST_YEAR, 11, 5);
    double expected_j = 0.0;
    for (long hour = first; hour < first + 165 * 24; hour++) {
        const struct th_climate_hour *h = th_climate_at(&climate, hour);
        expected_j +=
            (ua + two_m3_s_w_k(hold_c, h)) * (hold_c - h->out_c) * 3600.0 / room.fuel.lhv_share;
    }
    validate("C8", VALIDATE_CHECK, "physics", "degree-hours × (UA + air), no pigs, a winter",
             expected_j / room.fuel.hhv_j, gallons(&room), 1e-5 * expected_j / room.fuel.hhv_j,
             "gal");
}
END_TEST

static double steady_net_w(const struct th_room *room, double temp_c, double out_c)
{
    struct th_engine engine;
    struct th_error err;
    struct th_climate_hour out;
    struct th_balance balance;
    ck_assert_int_eq(th_engine_init(&engine, room, &err), TH_OK);
    th_engine_still_hour(&engine, 0, 0, out_c, 0.0, &out, &balance);
    const double net = th_balance_net_at(&balance, temp_c);
    th_engine_finish(&engine);
    return net;
}

/* C4: extension model, Upper Midwest, about 0.1 gal/h; 3.1 ft² a head is our judgement. */
START_TEST(thicker_nursery_ceiling)
{
    struct th_room room = sample_room(TH_IDEAL);
    room.n_surfaces = 1;
    room.surfaces[0].area_m2 = 3740.0 * TH_M2_PER_FT2;
    room.surfaces[0].r_m2k_w = 20.0 * TH_R_SI_PER_US;
    const double before = steady_net_w(&room, th_c_from_f(84.0), th_c_from_f(-20.0));
    room.surfaces[0].r_m2k_w = 30.0 * TH_R_SI_PER_US;
    const double after = steady_net_w(&room, th_c_from_f(84.0), th_c_from_f(-20.0));
    validate("C4", VALIDATE_CHECK, "extension building model, Minnesota, second-hand",
             "ceiling R-20 to R-30, 1,200-head nursery at -20 °F", 0.1,
             (before - after) * 3600.0 / 0.92 / (91500.0 * TH_J_PER_BTU), 0.03, "gal/h");
}
END_TEST

START_TEST(doubling_r_halves_the_loss_of_that_surface)
{
    struct th_room room = sample_room(TH_IDEAL);
    const double both = steady_net_w(&room, 25.0, -10.0);
    room.surfaces[1].r_m2k_w *= 2.0;
    const double half = steady_net_w(&room, 25.0, -10.0);
    room.n_surfaces = 1;
    const double none = steady_net_w(&room, 25.0, -10.0);
    validate("J2", VALIDATE_CHECK, "physics", "loss of a surface after R doubled, of before", 0.5,
             (half - none) / (both - none), 1e-9, "");
}
END_TEST

START_TEST(no_difference_no_fuel)
{
    struct th_room room = sample_room(controls[_i]);
    for (size_t i = 0; i < climate.n; i++)
        climate.hours[i].out_c = climate.hours[i].mean24_c = 40.0;
    const struct th_tally t = run(&room);
    ck_assert_double_eq(th_tally_gas_j(&t), 0.0);
}
END_TEST

/* Adds what shell and air of bare_room() take at the hour's own temperature, J. */
static void see_load(void *context, int turn, long hour, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    double *load_j = context;
    const struct th_room *room = in->balance.room;
    const struct th_climate_hour *h = in->balance.out;
    const double ua = room->surfaces[0].area_m2 / room->surfaces[0].r_m2k_w +
                      room->surfaces[1].area_m2 / room->surfaces[1].r_m2k_w;
    const double volume =
        287.042 * (out->room_c + 273.15) * (1.0 + 1.607858 * h->w_kg_kg) / h->pressure_pa;
    (void)turn;
    (void)hour;
    *load_j +=
        3600.0 * (ua + 2.0 / volume * (1006.0 + 1860.0 * h->w_kg_kg)) * (out->room_c - h->out_c);
}

/* J2, physics: the gas of a modulating heater covers a load worked without the engine, and the part
 * of its pilots that goes up the vent. Vented: 0.8 of burner gas and 0.3 of pilot gas is heat. More
 * than that it burns only where it cycles below its lowest fire. */
START_TEST(modulating_never_burns_less_than_load_and_pilot)
{
    struct th_room room = bare_room();
    double load_j = 0.0;
    const struct th_watch watch = {.hour = see_load, .context = &load_j};
    struct th_winters winters;
    struct th_error err;
    room.heaters[0].control = TH_MODULATING;
    room.heaters[0].input_w = 80e3;
    room.heaters[0].turndown = 0.3;
    room.heaters[0].blower_w = 0.0;
    room.heaters[0].vented = true;
    room.heaters[0].pilot = TH_PILOT_TURN;
    room.heaters[0].pilot_w = 235.0;
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, &watch, &err), TH_OK);
    const struct th_tally *t = &winters.seasons[0].total;
    const double heat_j = 0.8 * t->sum[TH_GAS_HEATERS] + 0.3 * t->sum[TH_GAS_PILOTS];
    ck_assert_double_eq_tol(heat_j, load_j + t->sum[TH_TO_RAMP], 1e-5 * load_j);
    ck_assert_double_ge(heat_j, load_j * (1.0 - 1e-5));
    ck_assert_double_le(heat_j, load_j * 1.01);
    ck_assert_double_gt(t->sum[TH_GAS_PILOTS], 0.0);
    /* Three pilots, and only while their burners are off. */
    ck_assert_double_lt(t->sum[TH_GAS_PILOTS], 3.0 * 235.0 * 3600.0 * 165.0 * 24.0);
    th_winters_finish(&winters);
}
END_TEST

/* Hours as th_hour_solve() left them, with what must hold in each. */
static void see_minimum_air(void *context, int turn, long hour, const struct th_hour_in *in,
                            const struct th_hour_out *out)
{
    int *held = context;
    (void)turn;
    (void)hour;
    ck_assert_double_ge(out->fan_m3_s, in->balance.fan_m3_s * (1.0 - 1e-12));
    *held += !out->unreached && out->rh > in->balance.room->air.rh_limit - 1e-4;
}

START_TEST(ceilings_are_held_or_counted_and_air_never_falls_below_the_minimum)
{
    struct th_room room = sample_room(TH_ON_OFF);
    const struct th_tally free = run(&room);
    int held = 0;
    const struct th_watch watch = {.hour = see_minimum_air, .context = &held};
    struct th_winters winters;
    struct th_error err;
    room.air.rh_limit = 0.55;
    room.air.control_rh = true;
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, &watch, &err), TH_OK);
    const struct th_tally *t = &winters.seasons[0].total;
    ck_assert_int_gt(held, 0);
    ck_assert_double_eq(t->sum[TH_OVER_RH], t->sum[TH_UNREACHED]);
    ck_assert_double_gt(th_tally_gas_j(t), th_tally_gas_j(&free));
    th_winters_finish(&winters);
}
END_TEST

/* Preheat with unvented burners moves 300 cfm per 100,000 Btu/h fired (Ontario clause 7.36.1). */
static void see_burner_air(void *context, int turn, long hour, const struct th_hour_in *in,
                           const struct th_hour_out *out)
{
    int *seen = context;
    (void)turn;
    (void)hour;
    const double needed = 300.0 * TH_M3S_PER_CFM *
                          (out->heating.unvented_w + out->terms[TH_TERM_ZONE_GAS]) /
                          (100000.0 * TH_W_PER_BTUH);
    ck_assert_double_ge(out->fan_m3_s, needed * (1.0 - 1e-6));
    *seen += in->phase == TH_PREHEAT && out->heating.gas_w > 0.0;
}

START_TEST(burners_get_their_air)
{
    struct th_room room = sample_room(TH_ON_OFF);
    int seen = 0;
    const struct th_watch watch = {.hour = see_burner_air, .context = &seen};
    struct th_winters winters;
    struct th_error err;
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, &watch, &err), TH_OK);
    ck_assert_int_eq(seen, 48);
    th_winters_finish(&winters);
}
END_TEST

START_TEST(an_empty_barn_burns_only_against_frost)
{
    struct th_room room = sample_room(TH_ON_OFF);
    const struct th_tally cold = run(&room);
    room.fuel.freeze = true;
    struct th_winters winters;
    struct th_error err;
    /* The empty time before the turn reaches back into the spring: the second season has it. */
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR + 1, FIRST_YEAR + 1, NULL, &err),
        TH_OK);
    ck_assert(winters.seasons[0].counted);
    const struct th_tally *empty = &winters.seasons[0].turns[0].phase[TH_EMPTY];
    ck_assert_double_gt(empty->sum[TH_HOURS], 190.0 * 24.0);
    ck_assert_double_ge(empty->lowest_c, 0.0);
    ck_assert_double_eq(cold.sum[TH_GAS_HALLWAY], 0.0);
    th_winters_finish(&winters);
}
END_TEST

START_TEST(attic_air_is_warmed_by_what_the_ceiling_loses)
{
    struct th_room room = sample_room(TH_IDEAL);
    const double outside = gallons(&room);
    room.surfaces[0].faces = TH_FACES_ATTIC;
    room.shell.roof_m2 = 1.054 * room.shell.floor_m2;
    const double through_ceiling = gallons(&room);
    room.air.inlet = TH_INLET_ATTIC;
    const double through_attic = gallons(&room);
    ck_assert_double_lt(through_ceiling, outside);
    ck_assert_double_lt(through_attic, through_ceiling);
}
END_TEST

START_TEST(night_setback_and_higher_set_point_move_gas_the_right_way)
{
    struct th_room room = sample_room(TH_IDEAL);
    const double now = gallons(&room);
    room.setpoints.setback_k = 2.0;
    ck_assert_double_lt(gallons(&room), now);
    room.setpoints.setback_k = 0.0;
    room.calibration.set_shift_k = 1.0;
    ck_assert_double_gt(gallons(&room), now);
}
END_TEST

START_TEST(short_heaters_let_the_room_fall)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.heaters[0].input_w *= 0.3;
    const struct th_tally t = run(&room);
    ck_assert_double_gt(t.sum[TH_UNMET], 0.0);
    ck_assert_double_gt(t.sum[TH_UNMET_KH], 0.0);
    ck_assert_double_lt(fabs(th_tally_heat_gap(&t)), 1e-6);
}
END_TEST

START_TEST(overshoot_sets_the_dead_time)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_engine engine;
    struct th_error err;
    room.response.has_overshoot = true;
    room.response.overshoot_k = 2.0;
    room.response.overshoot_out_c = -10.0;
    ck_assert_int_eq(th_engine_init(&engine, &room, &err), TH_OK);
    ck_assert_double_gt(engine.heating.dead_time_s, 30.0);
    ck_assert_double_lt(engine.heating.dead_time_s, 600.0);
    th_engine_finish(&engine);
    room.response.overshoot_k = 200.0;
    ck_assert_int_eq(th_engine_init(&engine, &room, &err), TH_ERR_RANGE);
}
END_TEST

START_TEST(uncovered_turns_are_not_counted)
{
    struct th_room room = sample_room(TH_IDEAL);
    struct th_winters winters;
    struct th_error err;
    const long hole = 24 * th_day_number(FIRST_YEAR, 12, 24) - climate.first_hour;
    climate.hours[hole].state = TH_HOUR_MISSING;
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR + 1, NULL, &err), TH_OK);
    ck_assert_int_eq(winters.n_counted, 1);
    ck_assert(!winters.seasons[0].counted);
    ck_assert_int_eq(winters.seasons[0].turns[0].cover.missing, 1);
    th_winters_finish(&winters);
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, 1990, 1991, NULL, &err),
                     TH_ERR_COVERAGE);
}
END_TEST

/* Elevation changes the mass of air, by 3.6 % between 0 and 1,000 ft. */
START_TEST(thinner_air_carries_less)
{
    struct th_room room = bare_room();
    room.n_surfaces = 0;
    room.site.elevation_m = 0.0;
    const double low = steady_net_w(&room, 30.0, -10.0);
    room.site.elevation_m = 304.8;
    const double high = steady_net_w(&room, 30.0, -10.0);
    validate("J2", VALIDATE_CHECK, "physics", "heat carried by air, 1,000 ft against 0 ft", -3.6,
             100.0 * (high / low - 1.0), 0.1, "%");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("engine");
    TCase *tc = tcase_create("engine");
    const int n_controls = (int)(sizeof controls / sizeof *controls);
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make_climate, free_climate);
    tcase_add_loop_test(tc, balances_close, 0, n_controls);
    tcase_add_test(tc, months_and_phases_add_up);
    tcase_add_test(tc, without_pigs_gas_is_degree_hours_times_loss);
    tcase_add_test(tc, thicker_nursery_ceiling);
    tcase_add_test(tc, doubling_r_halves_the_loss_of_that_surface);
    tcase_add_loop_test(tc, no_difference_no_fuel, 0, n_controls);
    tcase_add_test(tc, modulating_never_burns_less_than_load_and_pilot);
    tcase_add_test(tc, ceilings_are_held_or_counted_and_air_never_falls_below_the_minimum);
    tcase_add_test(tc, burners_get_their_air);
    tcase_add_test(tc, an_empty_barn_burns_only_against_frost);
    tcase_add_test(tc, attic_air_is_warmed_by_what_the_ceiling_loses);
    tcase_add_test(tc, night_setback_and_higher_set_point_move_gas_the_right_way);
    tcase_add_test(tc, short_heaters_let_the_room_fall);
    tcase_add_test(tc, overshoot_sets_the_dead_time);
    tcase_add_test(tc, uncovered_turns_are_not_counted);
    tcase_add_test(tc, thinner_air_carries_less);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
