/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/winters.h"

#include "../run_suite.h"
#include "../sample_room.h"
#include "allocations.h"

static const enum th_control controls[] = {TH_IDEAL, TH_ON_OFF, TH_LEAD_LAG, TH_TWO_STAGE,
                                           TH_MODULATING};

/* A season of 4,000 hours asks for no memory, whatever the heaters (the tree's own rule). */
START_TEST(the_hours_allocate_nothing)
{
    const struct th_room room = sample_room(controls[_i]);
    struct th_climate climate = sample_climate(2015, 1);
    struct th_engine engine;
    struct th_error err;
    const unsigned long before = allocations_made();
    ck_assert_msg(th_engine_init(&engine, &room, &err) == TH_OK, "%s", err.text);
    ck_assert_msg(allocations_made() > before, "the counter does not count");
    struct th_season *season = calloc(1, sizeof *season);
    const unsigned long ready = allocations_made();
    const enum th_code code = th_season_run(&engine, &climate, 2015, NULL, season, &err);
    const unsigned long done = allocations_made();
    ck_assert_msg(code == TH_OK, "%s", err.text);
    ck_assert_uint_eq(done, ready);
    ck_assert(season->counted);
    ck_assert_double_gt(th_tally_gas_j(&season->total), 0.0);
    free(season);
    th_engine_finish(&engine);
    th_climate_finish(&climate);
}
END_TEST

/* Each allocation of a run of winters fails once: an error of its own kind, nothing else. */
START_TEST(winters_survive_every_failed_allocation)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    struct th_climate climate = sample_climate(2015, 1);
    struct th_winters winters;
    struct th_error err;
    enum th_code code = TH_ERR_MEMORY;
    int n = 0;
    while (code != TH_OK) {
        ck_assert_int_lt(++n, 100);
        allocations_fail_once((unsigned long)n);
        code = th_winters_run(&winters, &room, &climate, 2015, 2015, NULL, &err);
        allocations_fail_once(0);
        ck_assert_msg(code == TH_OK || code == TH_ERR_MEMORY, "%s", err.text);
        th_winters_finish(&winters);
    }
    ck_assert_int_gt(n, 2);
    th_climate_finish(&climate);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("allocations");
    TCase *tc = tcase_create("allocations");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, the_hours_allocate_nothing, 0, sizeof controls / sizeof *controls);
    tcase_add_test(tc, winters_survive_every_failed_allocation);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
