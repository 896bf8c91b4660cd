/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bands of what is not known of a barn: their ends, their middle and what they must not move.
 */
#include "sample_room.h"
#include "turnheat/unknowns.h"

#include "run_suite.h"

#include <string.h>

static struct th_room moved(struct th_room room, enum th_unknown unknown, double z)
{
    th_unknown_move(&room, unknown, z);
    return room;
}

START_TEST(zero_moves_nothing)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    struct th_room same = room;
    const double none[TH_UNKNOWNS] = {0};
    th_unknowns_move(&same, none);
    ck_assert_mem_eq(&same, &room, sizeof room);
}
END_TEST

/* The ends of the documented bands, at the 5th and 95th percentile. */
START_TEST(the_ends_are_those_of_the_bands)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    const double edge = TH_UNKNOWN_EDGE_SD;
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_SENSIBLE, -edge).pigs.k_s, 0.75, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_SENSIBLE, edge).pigs.k_s, 0.95, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_PIG_HEAT, edge).pigs.heat_factor, 1.1, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_ACTIVITY, -edge).pigs.activity, 0.0, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_ACTIVITY, edge).pigs.activity, 0.43, 1e-12);
    ck_assert_double_eq(moved(room, TH_UNKNOWN_ACTIVITY, -2.0 * edge).pigs.activity, 0.0);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_AIR, -edge).air.minimum_share, 0.75, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_UA, -edge).calibration.ua_factor, 0.9, 1e-12);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_LEAKAGE, -edge).air.leak_cm2, 2000.0, 1e-9);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_LEAKAGE, edge).air.leak_cm2, 8000.0, 1e-9);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_RESPONSE, edge).response.factor, 2.0, 1e-12);
    /* Cut: no further than 2.5 standard deviations. */
    ck_assert_double_eq(moved(room, TH_UNKNOWN_LEAKAGE, 9.0).air.leak_cm2,
                        moved(room, TH_UNKNOWN_LEAKAGE, 2.5).air.leak_cm2);
}
END_TEST

START_TEST(what_was_given_has_the_narrower_band)
{
    struct th_room room = sample_room(TH_ON_OFF);
    const double edge = TH_UNKNOWN_EDGE_SD;
    room.air.floor_m3_s = 1.0;
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_AIR, edge).air.floor_m3_s, 1.25, 1e-12);
    room.known = (struct th_known){true, true, true, true};
    room.response.has_overshoot = true;
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_AIR, edge).air.minimum_share, 1.1, 1e-12);
    ck_assert_double_eq(moved(room, TH_UNKNOWN_AIR, edge).air.floor_m3_s, 1.0);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_LEAKAGE, -edge).air.leak_cm2, 3000.0, 1e-9);
    ck_assert_double_eq_tol(moved(room, TH_UNKNOWN_RESPONSE, edge).response.factor, 1.25, 1e-12);
    const struct th_room warmer = moved(room, TH_UNKNOWN_SET_POINT, edge);
    ck_assert_double_eq_tol(warmer.calibration.set_shift_k, TH_K_PER_F, 1e-12);
    ck_assert_mem_eq(&warmer.setpoints, &room.setpoints, sizeof room.setpoints);
    ck_assert_str_eq(th_unknown_band(&room, TH_UNKNOWN_LEAKAGE), "-25 % to +25 %");
}
END_TEST

/* Default set points: 2 °F either way for young pigs, 8 °F below and 5 °F above for grown ones;
   the comfort limits stay. */
START_TEST(default_set_points_move_more_as_pigs_grow)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    const struct th_room low = moved(room, TH_UNKNOWN_SET_POINT, -TH_UNKNOWN_EDGE_SD);
    const struct th_room high = moved(room, TH_UNKNOWN_SET_POINT, TH_UNKNOWN_EDGE_SD);
    const int last = room.setpoints.set_c.n - 1;
    const double *now = room.setpoints.set_c.y;
    ck_assert_double_eq_tol(low.setpoints.set_c.y[0] - now[0], -2.0 * TH_K_PER_F, 1e-9);
    ck_assert_double_eq_tol(high.setpoints.set_c.y[0] - now[0], 2.0 * TH_K_PER_F, 1e-9);
    ck_assert_double_eq_tol(low.setpoints.set_c.y[last] - now[last], -8.0 * TH_K_PER_F, 1e-9);
    ck_assert_double_eq_tol(high.setpoints.set_c.y[last] - now[last], 5.0 * TH_K_PER_F, 1e-9);
    ck_assert_mem_eq(&low.setpoints.comfort_c, &room.setpoints.comfort_c,
                     sizeof room.setpoints.comfort_c);
}
END_TEST

/* The band is the middle 90 % of what is drawn, the default its median. */
START_TEST(a_band_holds_nine_tenths_of_the_draws)
{
    enum { N = 20000 };
    const struct th_room room = sample_room(TH_ON_OFF);
    int below = 0, above = 0, under = 0;
    for (int i = 0; i < N; i++) {
        const double z = th_unknown_deviate((i + 0.5) / N);
        const double leak_cm2 = moved(room, TH_UNKNOWN_LEAKAGE, z).air.leak_cm2;
        below += leak_cm2 < 2000.0;
        above += leak_cm2 > 8000.0;
        under += leak_cm2 < 4000.0;
    }
    /* Cutting at 2.5 SD moves 0.6 % each way inside. */
    ck_assert_double_eq_tol((double)below / N, 0.05, 0.007);
    ck_assert_double_eq_tol((double)above / N, 0.05, 0.007);
    ck_assert_double_eq_tol((double)under / N, 0.5, 1e-4);
    ck_assert_double_eq_tol(th_unknown_deviate(0.0), -TH_UNKNOWN_CUT_SD, 1e-9);
    ck_assert_double_eq_tol(th_unknown_deviate(1.0), TH_UNKNOWN_CUT_SD, 1e-9);
}
END_TEST

START_TEST(every_number_has_its_words)
{
    const struct th_room room = sample_room(TH_ON_OFF);
    for (int i = 0; i < TH_UNKNOWNS; i++) {
        ck_assert_uint_gt(strlen(th_unknown_text((enum th_unknown)i)), 3);
        ck_assert_uint_gt(strlen(th_unknown_band(&room, (enum th_unknown)i)), 3);
    }
    ck_assert_int_eq(th_unknown_scope(TH_UNKNOWN_SENSIBLE), TH_SCOPE_ALL);
    ck_assert_int_eq(th_unknown_scope(TH_UNKNOWN_SET_POINT), TH_SCOPE_FARM);
    ck_assert_int_eq(th_unknown_scope(TH_UNKNOWN_LEAKAGE), TH_SCOPE_BARN);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("unknowns");
    TCase *tc = tcase_create("unknowns");
    tcase_add_test(tc, zero_moves_nothing);
    tcase_add_test(tc, the_ends_are_those_of_the_bands);
    tcase_add_test(tc, what_was_given_has_the_narrower_band);
    tcase_add_test(tc, default_set_points_move_more_as_pigs_grow);
    tcase_add_test(tc, a_band_holds_nine_tenths_of_the_draws);
    tcase_add_test(tc, every_number_has_its_words);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
