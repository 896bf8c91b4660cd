/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The budget's figures of a room whose turns stand in any order: time never runs back, the coldest
 * week is one week of one stay, Btu/h are Btu/h, and fuel is in the unit it is bought in. */
#include "budget_report.h"
#include "report_doc.h"
#include "run_suite.h"
#include "sample_room.h"

#include <string.h>

#define FIRST_YEAR 2010
#define WEEK_HOURS 168
#define WEEK_AFTER_A_BREAK 26

static struct th_climate climate;
static struct th_weather weather;
static struct th_room room;

static const struct th_case one = {.room = &room,
                                   .weather = &weather,
                                   .climate = &climate,
                                   .first_year = FIRST_YEAR,
                                   .last_year = FIRST_YEAR};

/* February stands before November, and is followed by 5 March after five empty days. The coldest
 * days fall around that break. */
static void make(void)
{
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
    room = sample_room(TH_ON_OFF);
    room.n_turns = 3;
    for (int i = 0; i < 3; i++) {
        room.turns[i] = room.turns[0];
        room.turns[i].month = (int[]){2, 11, 3}[i];
        room.turns[i].day = (int[]){1, 5, 5}[i];
        room.turns[i].days = WEEK_AFTER_A_BREAK;
        room.turns[i].preheat_h = 0.0;
    }
    const long first = 24 * th_day_number(FIRST_YEAR + 1, 2, 24);
    for (long hour = first; hour < first + 24 * 14; hour++)
        climate.hours[hour - climate.first_hour].out_c = -30.0;
}

static void drop(void)
{
    th_climate_finish(&climate);
}

static struct th_report *figures(void)
{
    struct th_budget budget;
    struct th_runs runs;
    struct th_error err = {0};
    struct th_report *report = th_report_new("budget");
    th_runs_init(&runs, 2, NULL);
    ck_assert_msg(th_budget_run(&budget, &runs, &one, NULL, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(th_budget_month_figure(report, &one, &budget.winters, &err), TH_OK);
    th_budget_hour_figures(report, &budget);
    th_budget_finish(&budget);
    th_runs_finish(&runs);
    return report;
}

START_TEST(time_never_runs_back)
{
    struct th_report *report = figures();
    int lines = 0, weeks = 0;
    for (const struct block *b = report->first; b; b = b->next) {
        for (const struct mark *m = b->drawing.marks; m; m = m->next) {
            double last = -INFINITY;
            int n = 0;
            const bool hours = b->drawing.figure.along.kind == TH_AXIS_HOUR;
            for (const struct mark_point *p = m->points; p; p = p->next, n++) {
                ck_assert_double_gt(p->at, last);
                ck_assert(!hours || n == 0 || p->at == last + 1.0);
                last = p->at;
            }
            ck_assert(!hours || n == WEEK_HOURS);
            lines += n > 0;
            weeks += hours;
        }
    }
    ck_assert_int_gt(lines, 5);
    ck_assert_int_gt(weeks, 3);
    th_report_free(report);
}
END_TEST

/* Three heaters of 225,000 Btu/h at -30 °C outdoors: no thousand times less. */
START_TEST(btu_an_hour_are_btu_an_hour)
{
    struct th_report *report = figures();
    int n = 0;
    for (const struct block *b = report->first; b; b = b->next) {
        double most = 0.0;
        if (b->kind != BLOCK_FIGURE || strcmp(b->drawing.figure.value.unit, "Btu/h") != 0)
            continue;
        for (const struct mark *m = b->drawing.marks; m; m = m->next)
            for (const struct mark_point *p = m->points; p; p = p->next)
                most = isfinite(p->high) ? fmax(most, p->high) : most;
        ck_assert_double_gt(most, 100e3);
        ck_assert_double_le(most, 1e6);
        n++;
    }
    ck_assert_int_eq(n, 2);
    th_report_free(report);
}
END_TEST

START_TEST(months_are_in_the_unit_of_the_fuel)
{
    room.fuel.gas = TH_NATURAL_GAS;
    struct th_report *report = figures();
    ck_assert_int_eq(report->first->kind, BLOCK_FIGURE);
    ck_assert_str_eq(report->first->drawing.figure.value.unit, "therm");
    th_report_free(report);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("budget_figures");
    TCase *tc = tcase_create("budget_figures");
    tcase_add_checked_fixture(tc, make, drop);
    tcase_add_test(tc, time_never_runs_back);
    tcase_add_test(tc, btu_an_hour_are_btu_an_hour);
    tcase_add_test(tc, months_are_in_the_unit_of_the_fuel);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
