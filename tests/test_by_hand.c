/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the engine against arithmetic done by hand on the plain room of still_room.h. The
 * numbers are worked in the comments; nothing here calls the product for an expected value. */
#include "still_room.h"
#include "turnheat/envelope.h"

#include "run_suite.h"
#include <math.h>

#define WALL (TH_TERM_SURFACE + TH_WALL)
#define CEILING (TH_TERM_SURFACE + TH_CEILING)

/* 20 °C in, -20 °C out: the wall loses 40,000 W and the air 1159.67 × 40 = 46,387 W. */
START_TEST(the_plain_room)
{
    const struct th_room room = still_room();
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 3, 7);
    by_hand(hour->room_c, 20.0, 1e-9);
    by_hand(hour->terms[WALL], 40000.0, 1e-6);
    by_hand(hour->terms[TH_TERM_AIR], 46386.8, 1e-4);
    by_hand(hour->gas_w, 86386.8 / STILL_SHARE, 1e-4);
}
END_TEST

/* A ceiling of 200 W/K instead of the wall, roof of 800 W/K above, no fans. */
static struct th_room attic_room(bool loose_fill)
{
    struct th_room room = still_room();
    room.surfaces[0].kind = TH_CEILING;
    room.surfaces[0].faces = TH_FACES_ATTIC;
    room.surfaces[0].area_m2 = 400.0;
    room.surfaces[0].r_m2k_w = 2.0;
    room.surfaces[0].loose_fill = loose_fill;
    room.shell.roof_m2 = 400.0;
    room.shell.roof_r_m2k_w = 0.5;
    room.air.floor_m3_s = 0.0;
    return room;
}

/* Air through the attic: (200 × 20 - (800 + 1159.67) × 20) / (200 + 800 + 1159.67) = -16.2957 °C,
 * so the ceiling loses 200 × 36.2957 = 7,259.1 W and the air 1159.67 × 36.2957 = 42,091.1 W. */
START_TEST(attic_inlet_temperature)
{
    struct th_room room = attic_room(false);
    room.air.floor_m3_s = 1.0;
    room.air.inlet = TH_INLET_ATTIC;
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 0, 0);
    by_hand(hour->terms[TH_TERM_INLET_C], -16.2957, 1e-5);
    by_hand(hour->terms[CEILING], 7259.1, 1e-4);
    by_hand(hour->terms[TH_TERM_AIR], 42091.1, 1e-4);
    by_hand(hour->gas_w, (7259.1 + 42091.1) / STILL_SHARE, 1e-4);
}
END_TEST

/* Half way down its curve, at 31.5 K between room and attic, loose fill keeps 0.7875 of its R: the
 * ceiling loses 200 × 31.5 / 0.7875 = 8,000 W. The roof of 800 W/K passes that on at 10 K, so
 * outdoors is 41.5 K below the room: -21.5 °C. Set point less outdoors is 42 K, which would give
 * 0.5935. (Loss is taken as straight between ON and OFF, 1 K apart: 2e-4.) */
START_TEST(loose_fill_by_room_less_attic)
{
    const struct th_room room = attic_room(true);
    const struct th_hour_out *hour = still_at(still_run(&room, -21.5), 0, 0);
    by_hand(hour->terms[CEILING], 8000.0, 3e-4);
    by_hand(hour->gas_w, 8000.0 / STILL_SHARE, 3e-4);
}
END_TEST

/* With plain insulation the same ceiling loses 41.5 / (1/200 + 1/800) = 6,640 W. */
START_TEST(plain_fill_keeps_its_r)
{
    const struct th_room room = attic_room(false);
    by_hand(still_at(still_run(&room, -21.5), 0, 0)->terms[CEILING], 6640.0, 1e-6);
}
END_TEST

/* Loose fill and air drawn through the attic together: what the ceiling loses, the roof and the
 * air take up. At 31.5 K 8,000 W come up; 800 + 1159.67 W/K take it at 4.08232 K. */
START_TEST(loose_fill_under_attic_air)
{
    struct th_room room = attic_room(true);
    room.air.floor_m3_s = 1.0;
    room.air.inlet = TH_INLET_ATTIC;
    const struct th_hour_out *hour = still_at(still_run(&room, 20.0 - 31.5 - 4.08232), 0, 0);
    by_hand(hour->terms[TH_TERM_INLET_C], -11.5, 1e-4);
    by_hand(hour->terms[CEILING], 8000.0, 3e-4);
    by_hand(hour->terms[TH_TERM_AIR], STILL_AIR_W_K * 31.5, 1e-4);
}
END_TEST

/* Only an attic derates: behind a wall that faces outdoors the key does nothing. */
START_TEST(loose_fill_elsewhere_is_plain)
{
    struct th_room room = still_room();
    room.surfaces[0].loose_fill = true;
    by_hand(still_at(still_run(&room, -30.0), 0, 0)->terms[WALL], 50000.0, 1e-9);
}
END_TEST

/* Air at the ceiling 2 K warmer: 22 °C below, the ceiling loses 43.5 / (1/200 + 1/800) = 6,960 W
 * to an attic that takes no more than that. */
START_TEST(stratification_warms_the_attic_too)
{
    struct th_room room = attic_room(false);
    room.shell.stratification_k = 2.0;
    by_hand(still_at(still_run(&room, -21.5), 0, 0)->terms[CEILING], 6960.0, 1e-6);
}
END_TEST

/* The attic's place in the chain for itself. Loose fill of 100 W/K under 400 W/K: at 20 K 2,000 W
 * and lift 25 K; at 31.5 K 4,000 W and 41.5 K; at 43 K 4,300 / 0.575 = 7,478.26 W and 61.6957 K. */
START_TEST(attic_difference)
{
    const double lift_k[] = {0.0, 5.0, 25.0, 41.5, 61.695652};
    const double delta_k[] = {0.0, 4.0, 20.0, 31.5, 43.0};
    for (int i = 0; i < 5; i++)
        ck_assert_double_eq_tol(th_envelope_attic_delta_k(0.0, 100.0, 400.0, lift_k[i]), delta_k[i],
                                1e-6);
    /* Beyond: 400 / (400 + 100 / 0.575) of 80 K. In summer: 0.8 of -10 K. */
    ck_assert_double_eq_tol(th_envelope_attic_delta_k(0.0, 100.0, 400.0, 80.0), 55.7576, 1e-4);
    ck_assert_double_eq_tol(th_envelope_attic_delta_k(0.0, 100.0, 400.0, -10.0), -8.0, 1e-9);
    /* Half of it plain: at 31.5 K 50 × 31.5 + 2,000 = 3,575 W, lift 31.5 + 8.9375 K. */
    ck_assert_double_eq_tol(th_envelope_attic_delta_k(50.0, 50.0, 400.0, 40.4375), 31.5, 1e-9);
    /* Nothing below or above: no loss either way. */
    ck_assert_double_eq(th_envelope_attic_delta_k(0.0, 0.0, 0.0, 30.0), 30.0);
    ck_assert_double_eq(th_envelope_attic_delta_k(0.0, 100.0, 0.0, 30.0), 0.0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("by_hand");
    TCase *tc = tcase_create("by_hand");
    tcase_add_test(tc, the_plain_room);
    tcase_add_test(tc, attic_inlet_temperature);
    tcase_add_test(tc, loose_fill_by_room_less_attic);
    tcase_add_test(tc, plain_fill_keeps_its_r);
    tcase_add_test(tc, loose_fill_under_attic_air);
    tcase_add_test(tc, loose_fill_elsewhere_is_plain);
    tcase_add_test(tc, stratification_warms_the_attic_too);
    tcase_add_test(tc, attic_difference);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
