/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A season runs its turns in time order whatever the order of the barn file, and says when the
 * room is too hot for the model. */
#include "sample_room.h"
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

int main(void)
{
    Suite *suite = suite_create("season");
    TCase *tc = tcase_create("season");
    tcase_add_loop_test(tc, turns_run_in_time_order, 0, sizeof orders / sizeof *orders);
    tcase_add_test(tc, a_room_too_hot_for_the_model_is_told);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
