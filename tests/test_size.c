/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `size` finds, apart from its words. */
#include "report.h"
#include "sample_room.h"
#include "size_report.h"
#include "turnheat/size.h"

#include "run_suite.h"
#include <math.h>

#define FIRST_YEAR 2010

static struct th_climate climate;
static struct th_size size;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

static void size_room(const struct th_room *room)
{
    const struct th_case one = {
        .room = room, .climate = &climate, .first_year = FIRST_YEAR, .last_year = FIRST_YEAR + 1};
    struct th_error err;
    ck_assert_msg(th_size_run(&one, &size, &err) == TH_OK, "%s", err.text);
}

START_TEST(given_temperatures_come_first)
{
    struct th_room room = sample_room(TH_ON_OFF);
    size_room(&room);
    ck_assert_int_eq(size.n_needs, 2);
    ck_assert(size.needs[0].from == TH_DESIGN_WEATHER);
    room.site.has_design_99 = true;
    room.site.design_99_c = -25.0;
    size_room(&room);
    ck_assert_int_eq(size.n_needs, 3);
    ck_assert(size.needs[0].from == TH_DESIGN_GIVEN);
    ck_assert_double_eq(size.worst.out_c, -25.0);
    ck_assert_double_eq(size.worst.needed_w, size.needs[0].sizing.needed_w);
}
END_TEST

START_TEST(the_parts_agree)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    double most_w = 0.0;
    size_room(&room);
    ck_assert_int_eq(size.n_days, room.turns[0].days);
    for (int i = 0; i < size.n_days; i++)
        most_w = fmax(most_w, size.days[i].load_99_w);
    ck_assert_double_eq(most_w, size.worst.load_w);
    ck_assert_double_eq_tol(size.installed_w, 3.0 * room.heaters[0].input_w, 1e-6);
    ck_assert_int_eq(size.units,
                     (int)ceil(1.15 * size.worst.needed_w / room.heaters[0].input_w - 1e-9));
    for (int i = 0; i < TH_SIZE_TANKS; i++) {
        const struct th_size_tank *t = &size.tanks[i];
        ck_assert_double_ge(t->count * t->vapour_w, size.peak_gas_w);
        ck_assert_double_lt((t->count - 1) * t->vapour_w, size.peak_gas_w);
    }
}
END_TEST

START_TEST(open_books_are_refused)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    struct th_error err;
    struct th_report *report = th_report_new("size");
    size_room(&room);
    ck_assert_int_eq(th_size_report(report, &room, &size, &err), TH_OK);
    th_report_free(report);
    report = th_report_new("size");
    size.books.sum[TH_TO_AIR] *= 1.01;
    ck_assert_int_eq(th_size_report(report, &room, &size, &err), TH_ERR_BALANCE);
    th_report_free(report);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("size");
    TCase *tc = tcase_create("size");
    tcase_add_checked_fixture(tc, make_climate, free_climate);
    tcase_add_test(tc, given_temperatures_come_first);
    tcase_add_test(tc, the_parts_agree);
    tcase_add_test(tc, open_books_are_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
