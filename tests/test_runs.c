/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of runs: each once, the same bits on any number of threads, errors where they belong. */
#include "sample_room.h"
#include "turnheat/runs.h"

#include "run_suite.h"
#include <string.h>

#define FIRST_YEAR 2010
#define YEARS 4
#define ROOMS 5

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, YEARS);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

/* A short turn: many of them are run here. */
static struct th_room short_room(double leak_cm2)
{
    struct th_room room = sample_room(TH_ON_OFF);
    room.turns[0].days = 20;
    room.air.leak_cm2 = leak_cm2;
    return room;
}

static int ask(struct th_runs *runs, const struct th_room *room)
{
    return th_runs_add(runs, room, &climate, FIRST_YEAR, FIRST_YEAR + YEARS - 1);
}

static void run_rooms(int jobs, struct th_trial trials[ROOMS])
{
    struct th_runs runs;
    struct th_error err;
    int requests[ROOMS];
    th_runs_init(&runs, jobs, NULL);
    for (int i = 0; i < ROOMS; i++) {
        const struct th_room room = short_room(1000.0 + 500.0 * i);
        requests[i] = ask(&runs, &room);
    }
    ck_assert_int_eq(th_runs_do(&runs, "rooms", &err), TH_OK);
    for (int i = 0; i < ROOMS; i++)
        ck_assert_int_eq(th_runs_trial(&runs, requests[i], &trials[i], &err), TH_OK);
    th_runs_finish(&runs);
    th_runs_finish(&runs);
}

START_TEST(any_number_of_threads_gives_the_same_bits)
{
    static const int jobs[] = {2, 3, 16, 100000};
    static struct th_trial alone[ROOMS], together[ROOMS];
    memset(alone, 0, sizeof alone);
    run_rooms(1, alone);
    ck_assert_int_eq(alone[0].n, YEARS);
    ck_assert_double_lt(th_trial_gas_j(&alone[0]), th_trial_gas_j(&alone[1]));
    memset(together, 0, sizeof together);
    run_rooms(jobs[_i], together);
    ck_assert_int_eq(memcmp(alone, together, sizeof alone), 0);
}
END_TEST

/* What an onlooker was told last, and when it has enough. */
struct told {
    size_t calls, done, all, enough;
    char what[32];
};

static bool tell(void *context, const char *what, size_t done, size_t all)
{
    struct told *told = context;
    told->calls++;
    told->done = done;
    told->all = all;
    snprintf(told->what, sizeof told->what, "%s", what);
    return told->calls != told->enough;
}

START_TEST(equal_runs_are_run_once)
{
    struct told told = {0};
    struct th_runs runs;
    struct th_error err;
    const struct th_room room = short_room(1000.0), same = room;
    th_runs_init(&runs, 1, &(struct th_onlooker){tell, &told});
    const int all = ask(&runs, &room), again = ask(&runs, &same);
    ck_assert_int_eq(th_runs_do(&runs, "the barn", &err), TH_OK);
    ck_assert_uint_eq(told.all, YEARS);
    ck_assert_uint_eq(told.done, YEARS);
    ck_assert_str_eq(told.what, "the barn");
    const int one = th_runs_add(&runs, &same, &climate, FIRST_YEAR + 1, FIRST_YEAR + 1);
    ck_assert_int_eq(th_runs_do(&runs, "nothing", &err), TH_OK);
    ck_assert_str_eq(told.what, "the barn");
    double gas_j, gas_again_j, gas_one_j;
    ck_assert_int_eq(th_runs_gas(&runs, all, &gas_j, &err), TH_OK);
    ck_assert_int_eq(th_runs_gas(&runs, again, &gas_again_j, &err), TH_OK);
    ck_assert_int_eq(th_runs_gas(&runs, one, &gas_one_j, &err), TH_OK);
    ck_assert_double_eq(gas_j, gas_again_j);
    ck_assert_double_ne(gas_j, gas_one_j);
    th_runs_finish(&runs);
}
END_TEST

START_TEST(an_onlooker_can_stop_it_and_go_on_later)
{
    struct told told = {.enough = 2};
    struct th_runs runs;
    struct th_error err;
    const struct th_room room = short_room(1000.0);
    th_runs_init(&runs, 1, &(struct th_onlooker){tell, &told});
    const int all = ask(&runs, &room);
    ck_assert_int_eq(th_runs_do(&runs, "the barn", &err), TH_ERR_CANCELLED);
    ck_assert_uint_eq(told.done, 2);
    ck_assert_int_eq(th_runs_do(&runs, "the rest", &err), TH_OK);
    ck_assert_uint_eq(told.all, YEARS - 2);
    double gas_j;
    ck_assert_int_eq(th_runs_gas(&runs, all, &gas_j, &err), TH_OK);
    th_runs_finish(&runs);
}
END_TEST

START_TEST(an_error_stays_with_its_request)
{
    struct th_runs runs;
    struct th_error err;
    struct th_room bad = short_room(1000.0);
    bad.response.has_overshoot = true;
    bad.response.overshoot_k = 90.0;
    const struct th_room good = short_room(1000.0);
    double gas_j;
    th_runs_init(&runs, 2, NULL);
    const int no = ask(&runs, &bad), yes = ask(&runs, &good);
    const int before = th_runs_add(&runs, &good, &climate, 1990, 1991);
    ck_assert_int_eq(th_runs_do(&runs, "both", &err), TH_OK);
    ck_assert_int_eq(th_runs_gas(&runs, no, &gas_j, &err), TH_ERR_RANGE);
    ck_assert_int_eq(err.code, TH_ERR_RANGE);
    ck_assert_int_eq(th_runs_gas(&runs, before, &gas_j, &err), TH_ERR_COVERAGE);
    ck_assert_ptr_nonnull(strstr(err.text, "from 1990 to 1991"));
    ck_assert_int_eq(th_runs_gas(&runs, yes, &gas_j, &err), TH_OK);
    ck_assert_double_gt(gas_j, 0.0);
    th_runs_finish(&runs);
}
END_TEST

static void count_hour(void *context, int turn, long hour_number, const struct th_hour_in *in,
                       const struct th_hour_out *out)
{
    (void)turn;
    (void)hour_number;
    (void)in;
    (void)out;
    (*(long *)context)++;
}

START_TEST(a_watched_run_serves_who_asks_later)
{
    long hours[YEARS] = {0};
    const struct th_watch_seasons watch = {.watch = {count_hour, hours}, .stride = sizeof hours[0]};
    struct told told = {0};
    struct th_runs runs;
    struct th_error err;
    const struct th_room room = short_room(1000.0);
    th_runs_init(&runs, 3, &(struct th_onlooker){tell, &told});
    th_runs_add_watched(&runs, &room, &climate, FIRST_YEAR - 9, FIRST_YEAR + 99, &watch);
    ck_assert_int_eq(th_runs_do(&runs, "watched", &err), TH_OK);
    ask(&runs, &room);
    ck_assert_int_eq(th_runs_do(&runs, "not again", &err), TH_OK);
    ck_assert_str_eq(told.what, "watched");
    for (int i = 0; i < YEARS; i++)
        ck_assert_int_eq(hours[i], 20 * 24 + lround(room.turns[0].preheat_h));
    th_runs_finish(&runs);
}
END_TEST

START_TEST(what_is_forgotten_is_run_anew_and_the_rest_stays)
{
    struct told told = {0};
    struct th_runs runs;
    struct th_error err;
    struct th_trial before, after;
    th_runs_init(&runs, 1, &(struct th_onlooker){tell, &told});
    const struct th_room kept = short_room(1000.0), forgotten = short_room(1500.0);
    const int first = ask(&runs, &kept);
    ck_assert_int_eq(th_runs_do(&runs, "kept", &err), TH_OK);
    const struct th_runs_mark mark = th_runs_mark(&runs);
    for (int again = 0; again < 2; again++) {
        const int other = ask(&runs, &forgotten);
        ck_assert_int_eq(ask(&runs, &kept), other + 1);
        told = (struct told){0};
        ck_assert_int_eq(th_runs_do(&runs, "forgotten", &err), TH_OK);
        ck_assert_uint_eq(told.all, YEARS);
        ck_assert_int_eq(th_runs_trial(&runs, other, again ? &after : &before, &err), TH_OK);
        th_runs_forget(&runs, mark);
        ck_assert_uint_eq(runs.n_rooms, mark.n_rooms);
    }
    ck_assert_double_eq(th_trial_gas_j(&before), th_trial_gas_j(&after));
    ck_assert_int_eq(th_runs_trial(&runs, first, &after, &err), TH_OK);
    ck_assert_double_lt(th_trial_gas_j(&after), th_trial_gas_j(&before));
    th_runs_finish(&runs);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("runs");
    TCase *tc = tcase_create("runs");
    tcase_set_timeout(tc, 60);
    tcase_add_checked_fixture(tc, make_climate, free_climate);
    tcase_add_loop_test(tc, any_number_of_threads_gives_the_same_bits, 0, 4);
    tcase_add_test(tc, equal_runs_are_run_once);
    tcase_add_test(tc, an_onlooker_can_stop_it_and_go_on_later);
    tcase_add_test(tc, an_error_stays_with_its_request);
    tcase_add_test(tc, a_watched_run_serves_who_asks_later);
    tcase_add_test(tc, what_is_forgotten_is_run_anew_and_the_rest_stays);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
