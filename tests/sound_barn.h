/* SPDX-License-Identifier: GPL-3.0-or-later */
/** An invented barn file that has nothing wrong with it, and reading it changed. */
#ifndef TURNHEAT_TESTS_SOUND_BARN_H
#define TURNHEAT_TESTS_SOUND_BARN_H

#include "barn.h"
#include "scratch.h"
#include <check.h>
#include <string.h>

#define ROOM                                                                                       \
    "[room]\nlength = 200 ft\nwidth = 40 ft\nheight = 8 ft\nslab_edge = r-10 vertical 2 ft\n"
#define SITE "[site]\nelevation = 950 ft\nweather = a.epw, sub/b.epw\n"
#define CEILING "[surface ceiling]\nkind = ceiling\nfaces = attic\narea = 8,000 ft2\nR = 30\n"
#define AIR "[air]\nfan_floor = 1,500 cfm\nleakage = 50 in2\n"
#define HEATER "[heater main]\nunits = 3\ninput = 250,000 Btu/h\n"
#define TURN "[turn winter]\nplace = 11-05\nhead = 1,000\nweight = 13 lb\ndays = 165\n"
#define WALLS "[surface sides]\narea = 3,840 ft2\nR = 17\n"
#define SOUND ROOM SITE CEILING AIR HEATER TURN

static struct th_barn barn;
static struct th_issues issues;

static inline void stop(void)
{
    th_barn_finish(&barn);
    th_issues_finish(&issues);
}

static inline enum th_code read_both(const char *text, const char *farm, const char *const *sets,
                                     int n_sets)
{
    struct scratch barn_file = scratch_text("test.barn", text);
    struct scratch farm_file = scratch_text("test.farm", farm ? farm : "");
    const enum th_code code = th_barn_read(NULL, barn_file.path, farm ? farm_file.path : NULL, sets,
                                           n_sets, &barn, &issues);
    scratch_remove(&barn_file);
    scratch_remove(&farm_file);
    return code;
}

static inline enum th_code read_barn(const char *text)
{
    return read_both(text, NULL, NULL, 0);
}

static inline void must_read(const char *text)
{
    const enum th_code code = read_barn(text);
    ck_assert_msg(code == TH_OK, "%s", issues.n_errors ? issues.errors[0].text : "no error");
}

static inline void must_fail(enum th_code code, const char *says)
{
    ck_assert_int_eq(code, TH_ERR_INPUT);
    ck_assert_int_ge(issues.n_errors, 1);
    const char *const said = issues.errors[0].text ? issues.errors[0].text : "out of memory";
    ck_assert_msg(strstr(said, says) != NULL, "%s", said);
}

#endif
