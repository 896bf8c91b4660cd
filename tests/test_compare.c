/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizing, and what compares rooms: the free choice, the same mean temperature, what costs gallons.
 */
#include "sample_room.h"
#include "turnheat/compare.h"
#include "turnheat/sizing.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "run_trial.h"
#include <math.h>
#include <string.h>

#define FIRST_YEAR 2010

static struct th_climate climate;
static struct th_runs runs;

static void make_climate(void)
{
    th_runs_init(&runs, 2, NULL);
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
    th_runs_finish(&runs);
}

START_TEST(sizing_agrees_with_the_balance)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.air.burner_air_m3_s_w = 0.0;
    struct th_sizing sizing;
    struct th_error err;
    ck_assert_int_eq(th_sizing_run(&room, -20.0, &sizing, &err), TH_OK);
    ck_assert_double_gt(sizing.load_w, 0.0);
    ck_assert_double_eq_tol(sizing.needed_w * room.fuel.lhv_share, sizing.load_w,
                            1e-9 * sizing.load_w);
    ck_assert_double_eq_tol(th_sizing_installed_w(&room, NULL), 3.0 * room.heaters[0].input_w,
                            1e-6);
    ck_assert_double_eq_tol(th_sizing_one_out_w(&room), 2.0 * room.heaters[0].input_w, 1e-6);
    ck_assert_double_eq(th_sizing_altitude_share(500.0), 1.0);
    ck_assert_double_eq_tol(th_sizing_altitude_share(914.4), 0.96, 1e-9);
}
END_TEST

START_TEST(the_free_choice_keeps_comfort_and_saves)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_free_choice choice;
    struct th_trial now, then;
    struct th_error err;
    ck_assert_int_eq(th_free_choice_find(&runs, &room, &climate, FIRST_YEAR, -20.0, &choice, &err),
                     TH_OK);
    ck_assert(choice.found);
    ck_assert_int_eq(run_trial(&now, &room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_int_eq(run_trial(&then, &choice.room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_double_lt(th_trial_gas_j(&then), th_trial_gas_j(&now));
    ck_assert_double_le(then.mean.sum[TH_BELOW_COMFORT], now.mean.sum[TH_BELOW_COMFORT] + 0.5);
}
END_TEST

/* How warm a room is in the hours in which another one fires. */
struct both_hours {
    unsigned char fires[3 * 8784], kept_up[3 * 8784];
    bool first_run;
    double sum_c, n, low_sum_c, low_n;
};

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct both_hours *both = context;
    const long i = hour_number - climate.first_hour;
    (void)turn;
    (void)in;
    ck_assert(i >= 0 && i < (long)sizeof both->fires);
    if (both->first_run) {
        both->fires[i] = out->heat_wanted;
        both->kept_up[i] = out->heat_wanted && !out->short_of_heat;
    }
    both->sum_c += both->fires[i] ? out->room_c : 0.0;
    both->n += both->fires[i];
    both->low_sum_c += both->kept_up[i] ? out->low_c : 0.0;
    both->low_n += both->kept_up[i];
}

struct warm {
    double mean_c, low_c;
};

static struct warm in_those_hours(struct both_hours *both, const struct th_room *room)
{
    const struct th_watch watch = {.hour = see_hour, .context = both};
    struct th_winters winters;
    struct th_error err;
    both->sum_c = both->n = both->low_sum_c = both->low_n = 0.0;
    ck_assert_int_eq(
        th_winters_run(&winters, room, &climate, FIRST_YEAR, FIRST_YEAR + 1, &watch, &err), TH_OK);
    ck_assert_double_eq(th_winters_middle(&winters)->total.sum[TH_UNMET], 0.0);
    th_winters_finish(&winters);
    ck_assert_double_gt(both->n, 500.0);
    both->first_run = false;
    return (struct warm){both->sum_c / both->n, both->low_sum_c / both->low_n};
}

static void compare_two(const struct th_room rooms[2], struct th_choice_result results[2])
{
    struct th_error err;
    memset(results, 0, 2 * sizeof *results);
    ck_assert_int_eq(
        run_trial(&results[0].trial, &rooms[0], &climate, FIRST_YEAR, FIRST_YEAR + 1, &err), TH_OK);
    ck_assert_int_eq(
        th_compare_run(&runs, rooms, 2, &climate, FIRST_YEAR, FIRST_YEAR + 1, results, &err),
        TH_OK);
    ck_assert_str_eq(results[1].refused, "");
}

/* Over the hours in which the base fires, one shift brings the other's mean, and another the low of
 * its swings, within 0.004 °F, which is 0.06 % of the gas; the one that saves less is judged by. */
START_TEST(the_same_warmth_is_met)
{
    static const enum th_control controls[] = {TH_MODULATING, TH_LEAD_LAG, TH_TWO_STAGE};
    const struct th_room rooms[2] = {sample_room(TH_ON_OFF), sample_room(controls[_i])};
    struct th_choice_result results[2], *r = &results[1];
    struct both_hours both = {.first_run = true};
    compare_two(rooms, results);
    const struct warm base = in_those_hours(&both, &rooms[0]);
    for (int by = 0; by < TH_WARMTHS; by++) {
        struct th_room shifted = rooms[1];
        ck_assert_ptr_null(r->as_warm[by].why_not);
        th_room_shift_offsets(&shifted, r->as_warm[by].shift_k);
        const struct warm warm = in_those_hours(&both, &shifted);
        ck_assert_double_eq_tol(by == TH_BY_MEAN ? warm.mean_c : warm.low_c,
                                by == TH_BY_MEAN ? base.mean_c : base.low_c, 0.004 * TH_K_PER_F);
        ck_assert_double_ge(th_trial_gas_j(th_judged(r)), th_trial_gas_j(&r->as_warm[by].trial));
    }
    ck_assert_double_gt(fabs(r->as_warm[TH_BY_MEAN].shift_k - r->as_warm[TH_BY_TROUGH].shift_k),
                        0.02 * TH_K_PER_F);
    ck_assert_double_eq_tol(r->saved_j[TH_AS_GIVEN],
                            th_trial_gas_j(&results[0].trial) - th_trial_gas_j(th_judged(r)), 1.0);
    ck_assert_ptr_eq(th_felt(r), &r->as_warm[TH_BY_MEAN].trial);
    ck_assert_double_gt(r->saved_j[TH_OVERSHOOT_TWICE], r->saved_j[TH_AS_GIVEN]);
    ck_assert_double_lt(r->saved_j[TH_OVERSHOOT_HALF], r->saved_j[TH_AS_GIVEN]);
}
END_TEST

/* A choice that cannot be run is refused with its reason, and the other stands. */
START_TEST(one_that_fails_is_refused)
{
    struct th_room rooms[3] = {sample_room(TH_ON_OFF), sample_room(TH_ON_OFF),
                               sample_room(TH_LEAD_LAG)};
    struct th_choice_result results[3] = {0};
    struct th_error err;
    rooms[1].heaters[0].off_k = -1.5 * TH_K_PER_F; /* above the start of the fan ramp */
    ck_assert_int_eq(
        run_trial(&results[0].trial, &rooms[0], &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_int_eq(
        th_compare_run(&runs, rooms, 3, &climate, FIRST_YEAR, FIRST_YEAR, results, &err), TH_OK);
    ck_assert_ptr_nonnull(strstr(results[1].refused, "cannot be run"));
    ck_assert_str_eq(results[2].refused, "");
    ck_assert_double_gt(th_trial_gas_j(&results[2].trial), 0.0);
}
END_TEST

/* The free choice may be one of the choices: it is not looked for twice, and says the same. */
START_TEST(a_twin_says_the_same)
{
    const struct th_room rooms[3] = {sample_room(TH_ON_OFF), sample_room(TH_LEAD_LAG),
                                     sample_room(TH_LEAD_LAG)};
    struct th_choice_result results[3] = {0};
    struct th_error err;
    ck_assert_int_eq(
        run_trial(&results[0].trial, &rooms[0], &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_int_eq(
        th_compare_run(&runs, rooms, 3, &climate, FIRST_YEAR, FIRST_YEAR, results, &err), TH_OK);
    ck_assert_int_eq(results[2].judged_by, results[1].judged_by);
    for (int r = 0; r < TH_RESPONSE_CASES; r++)
        ck_assert_double_eq(results[2].saved_j[r], results[1].saved_j[r]);
    for (int by = 0; by < TH_WARMTHS; by++) {
        ck_assert_double_eq(results[2].as_warm[by].shift_k, results[1].as_warm[by].shift_k);
        ck_assert_double_eq(th_trial_gas_j(&results[2].as_warm[by].trial),
                            th_trial_gas_j(&results[1].as_warm[by].trial));
    }
}
END_TEST

/* A measured overshoot is that of today's heaters: others answer with the dead time found from it,
 * so that giving the overshoot which the dead time implies moves nothing. */
START_TEST(a_measured_overshoot_stays_with_the_room)
{
    struct th_room guessed[2] = {sample_room(TH_ON_OFF), sample_room(TH_ON_OFF)};
    guessed[1].heaters[0].input_w *= 0.6;
    struct th_room measured[2] = {guessed[0], guessed[1]};
    struct th_engine engine;
    struct th_error err;
    ck_assert_int_eq(th_engine_init(&engine, &guessed[0], &err), TH_OK);
    const struct th_response response = {.air_capacity = guessed[0].response.air_capacity,
                                         .dead_time_s = 1.0,
                                         .has_overshoot = true,
                                         .overshoot_k = th_engine_overshoot_k(&engine, -5.0),
                                         .overshoot_out_c = -5.0,
                                         .factor = 1.0};
    th_engine_finish(&engine);
    measured[0].response = measured[1].response = response;
    ck_assert_int_eq(th_response_keep(&measured[1], &measured[0], &err), TH_OK);
    ck_assert_double_eq_tol(measured[1].response.kept_dead_time_s, guessed[0].response.dead_time_s,
                            1e-6);
    struct th_trial a, b;
    ck_assert_int_eq(run_trial(&a, &guessed[1], &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_int_eq(run_trial(&b, &measured[1], &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_double_eq_tol(th_trial_gas_j(&b), th_trial_gas_j(&a), 1e-6 * th_trial_gas_j(&a));
}
END_TEST

/* The range says what the same comparison says in a room with that response, within 0.1 % of the
 * gas: the short way against the long one. */
START_TEST(the_range_is_that_of_other_rooms)
{
    static const enum th_response_case cases[] = {TH_OVERSHOOT_HALF, TH_OVERSHOOT_TWICE,
                                                  TH_STAGE_LOW, TH_STAGE_HIGH};
    static const enum th_control controls[] = {TH_MODULATING, TH_LEAD_LAG};
    struct th_room rooms[2] = {sample_room(TH_ON_OFF), sample_room(controls[_i])};
    struct th_choice_result results[2], others[2];
    compare_two(rooms, results);
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        struct th_room changed[2] = {rooms[0], rooms[1]};
        th_response_apply(&changed[0], cases[k]);
        th_response_apply(&changed[1], cases[k]);
        compare_two(changed, others);
        ck_assert_int_ne(others[1].judged_by, TH_AS_SET);
        ck_assert_double_eq_tol(results[1].saved_j[cases[k]], others[1].saved_j[TH_AS_GIVEN],
                                0.001 * th_trial_gas_j(&others[0].trial));
    }
}
END_TEST

static double between(double low, double high)
{
    return low + (high - low) * rand() / RAND_MAX;
}

/* Heaters as odd as a barn file allows. */
static void draw_heater(struct th_room *room)
{
    static const enum th_control controls[] = {TH_ON_OFF, TH_LEAD_LAG, TH_TWO_STAGE, TH_MODULATING};
    struct th_heater *h = &room->heaters[0];
    h->control = controls[rand() % 4];
    h->units = 1 + rand() % 6;
    h->input_w = between(40000.0, 300000.0) * TH_W_PER_BTUH;
    h->on_k = between(0.4, 6.0) * TH_K_PER_F;
    h->off_k = h->on_k - between(0.05, 1.8 * h->on_k + 0.4) * TH_K_PER_F;
    h->stagger_k = between(0.2, 3.0) * TH_K_PER_F;
    h->turndown = between(0.08, 1.0);
    h->band_k = between(0.3, 6.0) * TH_K_PER_F;
    h->vented = rand() % 3 == 0;
    room->air.ramp_start_k = fmax(between(-0.4, 2.0) * TH_K_PER_F, 0.01 - h->off_k);
}

/* Whatever the heaters, each choice has a verdict with numbers, or its reason; none stops the rest.
 */
START_TEST(any_heater_can_be_compared)
{
    struct th_room base = sample_room(TH_ON_OFF);
    struct th_comparison *c = malloc(sizeof *c);
    struct th_choice *choices = calloc(TH_CHOICES_MAX, sizeof *choices);
    struct th_error err;
    ck_assert(c && choices);
    base.fuel.has_price = true;
    base.fuel.price = 1.85;
    srand((unsigned)_i + 1);
    for (int i = 0; i < TH_CHOICES_MAX; i++) {
        choices[i] = (struct th_choice){.buy = {.name = "any", .cost_usd = between(-500.0, 9000.0)},
                                        .room = base};
        draw_heater(&choices[i].room);
        if (th_room_check(&choices[i].room, &err) != TH_OK)
            choices[i].room = base;
    }
    const struct th_case one = {
        .room = &base, .climate = &climate, .first_year = FIRST_YEAR, .last_year = FIRST_YEAR};
    ck_assert_msg(th_comparison_run(c, &runs, &one, choices, TH_CHOICES_MAX, -20.0, NULL, &err) ==
                      TH_OK,
                  "%s", err.text);
    int judged = 0;
    for (int i = 0; i < TH_CHOICES_MAX; i++) {
        const struct th_choice_result *r = &c->results[i + 1];
        const struct th_net *net = &c->money[i].today.net;
        if (r->refused[0])
            continue;
        judged++;
        ck_assert_double_gt(th_trial_gas_j(th_judged(r)), 0.0);
        ck_assert(isfinite(net->low_usd) && net->low_usd <= net->usd && net->usd <= net->high_usd);
        ck_assert(r->harm == TH_HARM_NONE || !th_verdict_harmless(c->money[i].verdict));
    }
    ck_assert_int_gt(judged, TH_CHOICES_MAX / 2);
    free(choices);
    free(c);
}
END_TEST

START_TEST(costs_are_differences_of_runs)
{
    struct th_room room = sample_room(TH_ON_OFF), tighter = room;
    struct th_trial now, other;
    struct th_error err;
    double costs[TH_COST_COUNT];
    struct th_held_air held;
    ck_assert_int_eq(run_trial(&now, &room, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    const struct th_case one = {
        .room = &room, .climate = &climate, .first_year = FIRST_YEAR, .last_year = FIRST_YEAR};
    ck_assert_int_eq(th_costs_run(&runs, &one, &room, th_trial_gas_j(&now), costs, &held, &err),
                     TH_OK);
    ck_assert_double_eq(held.more_j, costs[TH_COST_CEILINGS]);
    tighter.air.leak_cm2 *= 2.0;
    ck_assert_int_eq(run_trial(&other, &tighter, &climate, FIRST_YEAR, FIRST_YEAR, &err), TH_OK);
    ck_assert_double_eq_tol(costs[TH_COST_LEAKAGE], th_trial_gas_j(&other) - th_trial_gas_j(&now),
                            1e-9 * th_trial_gas_j(&now));
    ck_assert_double_gt(costs[TH_COST_AIR], 0.0);
    ck_assert_double_gt(costs[TH_COST_SET_POINT], 0.0);
    ck_assert_double_gt(costs[TH_COST_OFF], 0.0);
    ck_assert_double_ge(costs[TH_COST_FAN_FLOOR], 0.0);
    ck_assert_double_ge(costs[TH_COST_PILOTS], 0.0);
}
END_TEST

static void hold_air(const struct th_room *room, struct th_held_air *held)
{
    const struct th_case one = {
        .room = room, .climate = &climate, .first_year = FIRST_YEAR, .last_year = FIRST_YEAR};
    double costs[TH_COST_COUNT];
    struct th_error err;
    ck_assert_msg(th_costs_run(&runs, &one, room, 1.0, costs, held, &err) == TH_OK, "%s", err.text);
}

/* Holding the air is told by what it asks of the heaters: for the room so set, as th_sizing_run()
   has it; unvented burners ask more than vented ones, and heaters too small for it are told. */
START_TEST(held_air_asks_heat)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_held_air held;
    struct th_sizing sizing;
    room.site.has_design_99 = true;
    room.site.design_99_c = -20.0;
    hold_air(&room, &held);
    ck_assert(held.sized);
    ck_assert_double_eq(held.out_c, -20.0);
    ck_assert_double_ge(held.needed_w, held.now_w);
    ck_assert_double_lt(held.vented_w, held.needed_w);
    struct th_room other = room;
    other.air.control_rh = other.air.control_co2 = true;
    ck_assert_int_eq(th_sizing_run(&other, -20.0, &sizing, NULL), TH_OK);
    ck_assert_double_eq(held.needed_w, sizing.needed_w);
    ck_assert_int_eq(th_held_air_heated(&held), held.needed_w <= held.installed_w);
    room.heaters[0].input_w = 0.9 * held.now_w / room.heaters[0].units;
    hold_air(&room, &held);
    ck_assert(!th_held_air_heated(&held));
    ck_assert_double_gt(held.unmet_h, held.unmet_now_h);
    room.heaters[0].vented = true;
    hold_air(&room, &held);
    ck_assert_double_eq(held.vented_w, 0.0);
    ck_assert(!th_held_air_burners(&held));
}
END_TEST

/* Twelve invented seasons of 100 to 111, the last 12 more: mean 106.5, 2006 is nearest. */
START_TEST(the_block_lies_around_the_middle_season)
{
    struct th_winters winters = {.n = 12, .n_counted = 12};
    struct th_trial trial;
    struct th_error err;
    winters.seasons = calloc(12, sizeof *winters.seasons);
    ck_assert_ptr_nonnull(winters.seasons);
    for (int i = 0; i < winters.n; i++) {
        struct th_season *season = &winters.seasons[i];
        *season = (struct th_season){.year = 2000 + i, .counted = true};
        season->total.sum[TH_GAS_HEATERS] = 100.0 + i + (i == 11 ? 12.0 : 0.0);
    }
    ck_assert_int_eq(th_trial_of(&winters, "invented", &trial, &err), TH_OK);
    th_winters_finish(&winters);
    const struct th_block block = th_trial_block(&trial);
    ck_assert_int_eq(th_trial_middle_year(&trial), 2006);
    ck_assert_int_eq(block.first_year, 2004);
    ck_assert_int_eq(block.last_year, 2008);
    ck_assert_double_eq_tol(block.gas_j, 106.0, 1e-9);
    ck_assert_double_eq_tol(block.scale, 106.5 / 106.0, 1e-9);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("compare");
    TCase *tc = tcase_create("compare");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make_climate, free_climate);
    tcase_add_test(tc, sizing_agrees_with_the_balance);
    tcase_add_test(tc, the_free_choice_keeps_comfort_and_saves);
    tcase_add_loop_test(tc, the_same_warmth_is_met, 0, 3);
    tcase_add_test(tc, one_that_fails_is_refused);
    tcase_add_test(tc, a_twin_says_the_same);
    tcase_add_test(tc, a_measured_overshoot_stays_with_the_room);
    tcase_add_loop_test(tc, the_range_is_that_of_other_rooms, 0, 2);
    tcase_add_loop_test(tc, any_heater_can_be_compared, 0, 3);
    tcase_add_test(tc, costs_are_differences_of_runs);
    tcase_add_test(tc, held_air_asks_heat);
    tcase_add_test(tc, the_block_lies_around_the_middle_season);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
