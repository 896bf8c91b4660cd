/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The main() every Check test program shares: runs one suite and prints TAP. */
#ifndef TURNHEAT_RUN_SUITE_H
#define TURNHEAT_RUN_SUITE_H

#include "turnheat/error.h"
#include <check.h>
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

#endif
