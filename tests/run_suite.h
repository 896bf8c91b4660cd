/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The main() every Check test program shares: runs one suite and prints TAP. */
#ifndef TURNHEAT_RUN_SUITE_H
#define TURNHEAT_RUN_SUITE_H

#include "turnheat/error.h"
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

static inline int run_suite(Suite *suite)
{
    th_init();
    SRunner *runner = srunner_create(suite);
    srunner_set_tap(runner, "-");
    srunner_run_all(runner, CK_SILENT);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

/**
 * Runs tests that read real weather files from the folder named by TURNHEAT_WEATHER; without the
 * variable each is reported as skipped, by name.
 */
static inline int run_weather_suite(const char *name, const TTest *const *tests, int n)
{
    if (!getenv("TURNHEAT_WEATHER")) {
        for (int i = 0; i < n; i++)
            printf("ok %d - %s:%s # SKIP TURNHEAT_WEATHER names no folder of weather files\n",
                   i + 1, name, tests[i]->name);
        printf("1..%d\n", n);
        return EXIT_SUCCESS;
    }
    Suite *suite = suite_create(name);
    TCase *tc = tcase_create(name);
    tcase_set_timeout(tc, 60);
    for (int i = 0; i < n; i++)
        tcase_add_test(tc, tests[i]);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}

#endif
