/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A season runs its turns in time order whatever the order of the barn file, and says when the
 * room is too hot for the model. */
#include "sample_room.h"
#include "turnheat/borrow.h"
#include "turnheat/demand.h"
#include "turnheat/winters.h"

#include "run_suite.h"
#include <string.h>

#define FIRST_YEAR 2010

static struct th_room three_turns(const int months[3])
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.n_turns = 3;
    for (int i = 0; i < 3; i++) {
        room.turns[i] = room.turns[0];
        room.turns[i].month = months[i];
        room.turns[i].days = 60;
    }
    return room;
}

/* The hours of a season as a watch sees them. */
struct seen {
    int n, back; /* hours, and how many of them lie before the one before */
    int turns[3], n_turns;
    long last_hour;
};

static void see_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct seen *seen = context;
    (void)in;
    (void)out;
    seen->back += seen->n > 0 && hour_number <= seen->last_hour;
    if (seen->n == 0 || turn != seen->turns[seen->n_turns - 1])
        seen->turns[seen->n_turns++] = turn;
    seen->last_hour = hour_number;
    seen->n++;
}

static const int orders[][3] = {{8, 11, 2}, {2, 8, 11}, {11, 2, 8}, {2, 11, 8}};

START_TEST(turns_run_in_time_order)
{
    const struct th_room room = three_turns(orders[_i]);
    struct th_climate climate = sample_climate(FIRST_YEAR, 2);
    struct seen seen = {0};
    const struct th_watch watch = {.hour = see_hour, .context = &seen};
    struct th_winters winters;
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, &watch, &err) ==
                      TH_OK,
                  "%s", err.text);
    ck_assert_int_eq(winters.n_counted, 1);
    ck_assert_int_gt(seen.n, 3 * 60 * 24);
    ck_assert_int_eq(seen.back, 0);
    ck_assert_int_eq(seen.n_turns, 3);
    for (int i = 0; i < 3; i++) {
        const int month = (int[]){8, 11, 2}[i];
        ck_assert_int_eq(room.turns[seen.turns[i]].month, month);
        /* Results keep the places of the barn file. */
        const struct th_turn_result *turn = &winters.seasons[0].turns[i];
        ck_assert_int_eq(th_date_of(th_day_of_hour(turn->placement_hour)).month,
                         room.turns[i].month);
    }
    th_winters_finish(&winters);
    th_climate_finish(&climate);
}
END_TEST

static void set_outdoors(struct th_climate *climate, double out_c)
{
    for (size_t i = 0; i < climate->n; i++)
        climate->hours[i].out_c = climate->hours[i].mean24_c = out_c;
}

/* Above 40 °C the formula for pigs leaves no warmth at all (0.8 - 0.0096 × 20 - 0.00038 × 40² =
 * 0), and no fan cools the room below outdoors. */
START_TEST(a_room_too_hot_for_the_model_is_told)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    struct th_climate climate = sample_climate(FIRST_YEAR, 2);
    struct th_winters winters;
    struct th_error err = {0};
    set_outdoors(&climate, 45.0);
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, NULL, &err),
                     TH_ERR_MODEL);
    ck_assert_msg(strstr(err.text, "too hot for the model") && strstr(err.text, "113 degF") &&
                      strstr(err.text, "2010"),
                  "%s", err.text);
    set_outdoors(&climate, 38.0);
    ck_assert_int_eq(th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, NULL, &err),
                     TH_OK);
    ck_assert_double_lt(fabs(th_tally_heat_gap(&winters.seasons[0].total)), 1e-6);
    th_winters_finish(&winters);
    th_climate_finish(&climate);
}
END_TEST

/* A turn from 5 May that stays 165 days, besides the one of the winter. */
static struct th_room two_turns(void)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.turns[room.n_turns] = room.turns[0];
    room.turns[room.n_turns].month = 5;
    room.n_turns++;
    return room;
}

static void run_winters(struct th_winters *winters, const struct th_room *room,
                        const struct th_climate *climate, int years)
{
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(winters, room, climate, FIRST_YEAR, FIRST_YEAR + years - 1, NULL,
                                 &err) == TH_OK,
                  "%s", err.text);
}

/* What burns from 1 July to 30 June counts, whatever turn it belongs to: what the summer turn burns
 * before and after 1 July adds up to the turn, and months to the season. */
START_TEST(a_turn_is_cut_at_the_fuel_year)
{
    const struct th_room room = two_turns();
    struct th_climate climate = sample_climate(FIRST_YEAR, 2);
    struct th_winters winters;
    /* So cold that pigs of July are heated. */
    for (size_t i = 0; i < climate.n; i++) {
        climate.hours[i].out_c -= 20.0;
        climate.hours[i].mean24_c -= 20.0;
    }
    run_winters(&winters, &room, &climate, 2);
    ck_assert_int_eq(winters.n_counted, 2);
    const struct th_season *first = &winters.seasons[0], *second = &winters.seasons[1];
    ck_assert_int_eq(first->n_parts, 3);
    ck_assert(first->turns[1].counted && !second->turns[1].counted);
    /* What the pigs of a turn bear until the weather ends is seen, though the turn is not told. */
    ck_assert_double_gt(second->turns[1].total.sum[TH_HOURS], 50.0 * 24.0);
    double before_j = 0.0, after_j = 0.0, months_j = 0.0;
    for (int m = 0; m < 12; m++) {
        before_j += m == 4 || m == 5 ? th_tally_gas_j(&first->month[m]) : 0.0;
        after_j += m >= 6 && m <= 9 ? th_tally_gas_j(&second->month[m]) : 0.0;
        months_j += th_tally_gas_j(&first->month[m]);
    }
    ck_assert_double_gt(after_j, 0.0);
    const double turn_j = th_tally_gas_j(&first->turns[1].total);
    ck_assert_double_eq_tol((before_j + after_j) / turn_j, 1.0, 1e-6);
    ck_assert_double_eq_tol(months_j / th_tally_gas_j(&first->total), 1.0, 1e-9);
    th_winters_finish(&winters);
    th_climate_finish(&climate);
}
END_TEST

/* The plan's fuel year is the budget's season. */
START_TEST(plan_and_budget_count_the_same_year)
{
    const struct th_room room = two_turns();
    struct th_climate climate = sample_climate(FIRST_YEAR, 3);
    const struct th_case one = {
        .room = &room, .climate = &climate, .first_year = FIRST_YEAR, .last_year = FIRST_YEAR + 2};
    struct th_winters winters;
    struct th_demand demand;
    struct th_runs runs;
    struct th_error err = {0};
    th_runs_init(&runs, 1, NULL);
    run_winters(&winters, &room, &climate, 3);
    ck_assert_msg(th_demand_run(&runs, &one, 1, NULL, 0, &demand, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(demand.n_usable, 3);
    for (int y = 0; y < 3; y++) {
        const double budget_gal = th_tally_gas_j(&winters.seasons[y].total) / room.fuel.hhv_j;
        ck_assert_double_eq_tol(demand.years[y].barns_gal / budget_gal, 1.0, 1e-9);
    }
    th_demand_finish(&demand);
    th_runs_finish(&runs);
    th_winters_finish(&winters);
    th_climate_finish(&climate);
}
END_TEST

/* Hours missing in the second of three years, and whether that season still counts: June burns next
 * to nothing, four days of January much, half a day of it little. */
static const struct {
    int month, day, hours;
    bool counts;
} holes[] = {{6, 2, 28 * 24, true}, {1, 10, 4 * 24, false}, {1, 10, 12, true}};

START_TEST(a_winter_that_misses_little_counts)
{
    const struct th_room room = two_turns();
    const struct th_room *rooms[] = {&room, &room}; /* an hour both miss is one hour */
    struct th_climate climate = sample_climate(FIRST_YEAR, 3);
    struct th_borrowed list[TH_BORROWED_MAX];
    struct th_winters winters;
    struct th_error err = {0};
    int n = 0;
    const int year = FIRST_YEAR + 1;
    const long hole = 24 * th_day_number(year + 1, holes[_i].month, holes[_i].day);
    for (long h = hole; h < hole + holes[_i].hours; h++)
        climate.hours[h - climate.first_hour].state = TH_HOUR_MISSING;
    ck_assert(!th_season_counted(&room, &climate, year));
    ck_assert_msg(th_borrow_run(&climate, rooms, 2, list, &n, &err) == TH_OK, "%s", err.text);
    run_winters(&winters, &room, &climate, 3);
    const struct th_season *season = &winters.seasons[1];
    ck_assert_int_eq(n, holes[_i].counts);
    ck_assert_int_eq(season->counted, holes[_i].counts);
    ck_assert_int_eq(winters.n_counted, 2 + holes[_i].counts);
    if (holes[_i].counts) {
        ck_assert_int_eq(list[0].year, year);
        ck_assert_int_eq(list[0].hours, holes[_i].hours);
        ck_assert_double_le(list[0].share, TH_BORROW_SHARE_MAX);
        /* Peaks and the coldest hour come from whole winters. */
        ck_assert(!season->whole && isinf(season->total.coldest_out_c));
        ck_assert_double_eq(season->total.peak_gas_w, 0.0);
        struct th_tally all;
        th_winters_total(&winters, &all);
        ck_assert(isfinite(all.coldest_out_c));
    }
    th_winters_finish(&winters);
    th_climate_finish(&climate);
}
END_TEST

/* The last June is beyond the end of the files. */
START_TEST(files_may_end_before_june_does)
{
    const struct th_room room = two_turns();
    const struct th_room *rooms[] = {&room};
    struct th_climate climate = sample_climate(FIRST_YEAR, 2);
    struct th_borrowed list[TH_BORROWED_MAX];
    struct th_error err = {0};
    int n = 0;
    climate.n -= 20 * 24;
    ck_assert(!th_season_counted(&room, &climate, FIRST_YEAR + 1));
    ck_assert_int_eq(th_borrow_run(&climate, rooms, 1, list, &n, &err), TH_OK);
    ck_assert_int_eq(n, 1);
    ck_assert_int_eq(list[0].from_year, FIRST_YEAR);
    ck_assert(th_season_counted(&room, &climate, FIRST_YEAR + 1));
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("season");
    TCase *tc = tcase_create("season");
    tcase_add_loop_test(tc, turns_run_in_time_order, 0, sizeof orders / sizeof *orders);
    tcase_add_test(tc, a_room_too_hot_for_the_model_is_told);
    tcase_add_test(tc, a_turn_is_cut_at_the_fuel_year);
    tcase_add_test(tc, plan_and_budget_count_the_same_year);
    tcase_add_loop_test(tc, a_winter_that_misses_little_counts, 0, sizeof holes / sizeof *holes);
    tcase_add_test(tc, files_may_end_before_june_does);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
