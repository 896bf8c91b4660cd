/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of a room found in a few winters, and by every fifth hour, held against all hours of all
 * winters. */
#include "barn.h"
#include "normals_read.h"
#include "turnheat/few.h"
#include "turnheat/runs.h"
#include "turnheat/variant.h"

#include "run_suite.h"
#include <math.h>

#define WINTERS 20
#define YEAR TH_NORMAL_FIRST_YEAR
#define LAST (YEAR + WINTERS - 1)

static struct th_room room;
static struct th_climate climate;
static struct th_weather weather;
static struct th_runs runs;

static void open_room(const char *path)
{
    struct th_normals normals;
    struct th_barn barn;
    struct th_issues issues = {0};
    struct th_error err = {0};
    ck_assert_int_eq(
        th_barn_read(NULL, path, "samples/thistle-hollow.farm", NULL, 0, &barn, &issues), TH_OK);
    room = barn.room;
    th_issues_finish(&issues);
    th_barn_finish(&barn);
    ck_assert_int_eq(th_normals_read(NULL, "weather/omaha.csv", &normals, &err), TH_OK);
    ck_assert_int_eq(th_normals_generate(&normals, WINTERS, 1, &weather, &err), TH_OK);
    ck_assert_int_eq(th_climate_init(&climate, &weather, room.site.elevation_m, -6.0, &err), TH_OK);
    th_runs_init(&runs, 2, NULL);
}

static void close_room(void)
{
    th_runs_finish(&runs);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}

static double gas_j(int request)
{
    struct th_error err;
    double found_j = 0.0;
    ck_assert_int_eq(th_runs_gas(&runs, request, &found_j, &err), TH_OK);
    return found_j;
}

static int ask(struct th_room asked, bool roughly)
{
    if (roughly)
        th_room_roughly(&asked);
    return th_runs_add(&runs, &asked, &climate, YEAR, LAST);
}

static struct th_room changed(enum th_cost_kind kind)
{
    struct th_room other = room;
    th_cost_apply(&other, kind);
    return other;
}

/* Every cost by a fifth of the hours of all winters: within this share of the gas, or of the cost.
 */
static void check_roughly(double of_gas, double of_cost)
{
    struct th_error err;
    int full[TH_COST_COUNT], rough[TH_COST_COUNT];
    const int now = ask(room, false), now_rough = ask(room, true);
    for (int kind = 0; kind < TH_COST_COUNT; kind++) {
        full[kind] = ask(changed((enum th_cost_kind)kind), false);
        rough[kind] = ask(changed((enum th_cost_kind)kind), true);
    }
    ck_assert_int_eq(th_runs_do(&runs, "", &err), TH_OK);
    for (int kind = 0; kind < TH_COST_COUNT; kind++) {
        const double cost = gas_j(full[kind]) / gas_j(now) - 1.0;
        const double roughly = gas_j(rough[kind]) / gas_j(now_rough) - 1.0;
        printf("# %s: %+.2f %% of the gas, by every fifth hour %+.3f %% more\n",
               th_cost_text((enum th_cost_kind)kind), 100.0 * cost, 100.0 * (roughly - cost));
        ck_assert_double_eq_tol(roughly, cost, of_gas + of_cost * fabs(cost));
    }
}

START_TEST(every_fifth_hour_in_a_curtain_room)
{
    open_room("samples/curtain.barn");
    check_roughly(0.001, 0.01);
    close_room();
}
END_TEST

START_TEST(every_fifth_hour_in_a_tight_room)
{
    open_room("samples/solid.barn");
    check_roughly(0.0025, 0.01);
    close_room();
}
END_TEST

/* What the fans cost, by five of the winters. */
static void check_few(const char *path)
{
    struct th_winters winters;
    struct th_few few;
    struct th_few_asked asked;
    struct th_error err;
    double by_few_j;
    open_room(path);
    const struct th_room other = changed(TH_COST_FAN_FLOOR);
    const int now = ask(room, false), then = ask(other, false);
    ck_assert_int_eq(th_runs_do(&runs, "", &err), TH_OK);
    ck_assert_int_eq(th_runs_winters(&runs, now, &winters, &err), TH_OK);
    ck_assert_int_eq(th_few_of_winters(&few, &winters, &err), TH_OK);
    th_few_ask(&few, &runs, &other, &climate, &asked);
    ck_assert_int_eq(th_few_mean_j(&few, &runs, &asked, &by_few_j, &err), TH_OK);
    ck_assert_double_eq_tol(by_few_j / gas_j(now), gas_j(then) / gas_j(now), 0.001);
    th_winters_finish(&winters);
    close_room();
}

START_TEST(five_winters_stand_for_all)
{
    check_few("samples/curtain.barn");
    check_few("samples/solid.barn");
}
END_TEST

START_TEST(five_winters_are_the_middles_of_five_parts)
{
    const int years[] = {2001, 2002, 2003, 2004, 2005, 2006, 2007, 2008, 2009, 2010, 2011};
    const double gas[] = {10.0, 2.0, 4.0, NAN, 1.0, 9.0, 7.0, 3.0, 5.0, 8.0, 6.0};
    const int wanted[] = {2002, 2003, 2011, 2010, 2001};
    struct th_few few;
    th_few_of(&few, 11, years, gas);
    ck_assert_int_eq(few.n, 5);
    ck_assert_double_eq_tol(few.mean_j, 5.5, 1e-12);
    for (int k = 0; k < 5; k++)
        ck_assert_int_eq(few.years[k], wanted[k]);
    th_few_of(&few, 3, years, gas);
    ck_assert_int_eq(few.n, 3);
    ck_assert_int_eq(few.years[2], 2001);
    ck_assert_double_eq(few.gas_j[2], 10.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("short_ways");
    TCase *tc = tcase_create("short_ways");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, every_fifth_hour_in_a_curtain_room);
    tcase_add_test(tc, every_fifth_hour_in_a_tight_room);
    tcase_add_test(tc, five_winters_stand_for_all);
    tcase_add_test(tc, five_winters_are_the_middles_of_five_parts);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
