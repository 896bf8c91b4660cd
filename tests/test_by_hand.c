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

/* Hallway air at 10 °C with -20 °C outside: 1.152753 kg/s × 1006 × 30 K = 34,790 W there, at its
 * heater's share 0.8 43,488 W of gas; the room itself heats the air by 10 K, 11,597 W, and the
 * wall still faces outdoors. At 15 °C outside nothing is heated in the hallway. */
START_TEST(hallway_air)
{
    struct th_room room = still_room();
    room.air.inlet = TH_INLET_HALLWAY;
    room.air.hallway_c = 10.0;
    room.air.hallway_share = 0.8;
    const struct th_hour_out *cold = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(cold->hallway_gas_w, 43488.0, 1e-4);
    by_hand(cold->terms[TH_TERM_AIR], 11596.7, 1e-4);
    by_hand(cold->gas_w, 43488.0 + (40000.0 + 11596.7) / STILL_SHARE, 1e-4);
    const struct th_hour_out *mild = still_at(still_run(&room, 15.0), 1, 1);
    ck_assert_double_eq(mild->hallway_gas_w, 0.0);
    by_hand(mild->terms[TH_TERM_INLET_C], 15.0, 1e-12);
    by_hand(mild->terms[TH_TERM_AIR], STILL_AIR_W_K * 5.0, 3e-4);
}
END_TEST

/* The same at 2 kW/K from lights: 60 kW against 10 kW of air at 10 °C and 40 kW of wall is 10 kW
 * too much. Fans throw it out at ramp start with air from the hallway, warmed by 30 K there, or
 * straight from outside, where the hallway burns for the minimum only. */
START_TEST(surplus_past_the_hallway)
{
    struct th_room room = still_room();
    room.air.inlet = TH_INLET_HALLWAY;
    room.air.hallway_c = 10.0;
    room.air.hallway_share = 0.8;
    room.air.max_m3_s = 20.0;
    room.shell.internal_w = 70000.0;
    const struct th_hour_out warmed = *still_at(still_run(&room, -20.0), 1, 1);
    ck_assert_double_gt(warmed.thrown_w, 10000.0);
    const double lift_k = warmed.room_c - 10.0;
    const double more_w = warmed.thrown_w / lift_k * 30.0 / 0.8;
    const double minimum_w = 43488.0 * 293.15 / (273.15 + warmed.room_c); /* air is lighter there */
    by_hand(warmed.hallway_gas_w, minimum_w + more_w, 1e-3);
    room.air.surplus = TH_SURPLUS_OUTSIDE;
    const struct th_hour_out straight = *still_at(still_run(&room, -20.0), 1, 1);
    by_hand(straight.hallway_gas_w, minimum_w, 1e-3);
    by_hand(straight.thrown_w, warmed.thrown_w, 1e-9);
    by_hand((straight.dry_air_kg_s - straight.terms[TH_TERM_DRY_AIR]) * (straight.room_c + 20.0),
            (warmed.dry_air_kg_s - warmed.terms[TH_TERM_DRY_AIR]) * lift_k, 1e-9);
}
END_TEST

/* A wall towards the hallway sees its 10 °C, not the weather: 1,000 W/K × 10 K. */
START_TEST(wall_to_the_hallway)
{
    struct th_room room = still_room();
    room.surfaces[0].faces = TH_FACES_HALLWAY;
    room.air.hallway_c = 10.0;
    by_hand(still_at(still_run(&room, -20.0), 1, 1)->terms[WALL], 10000.0, 1e-9);
}
END_TEST

/* Ontario clause 7.36.1: 300 cfm for 100,000 Btu/h fired, 0.1415842 m³/s for 29,307.1 W or
 * 4.83105e-6 m³/s a watt. Without other air the fired gas g heats the wall and its own air:
 * 0.920765 g = 40,000 + (4.83105e-6 g / 0.867488) 1006 × 40, so g = 57,416 W and 0.277381 m³/s. */
START_TEST(preheat_air_follows_the_fire)
{
    struct th_room room = still_room();
    room.turns[0].preheat_h = 48.0;
    room.air.floor_m3_s = 0.05;
    room.air.burner_air_m3_s_w = 4.83105e-6;
    const struct still *still = still_run(&room, -20.0);
    for (int hour = -48; hour < 0; hour++) {
        by_hand(still_at(still, 0, hour)->gas_w, 57416.0, 1e-4);
        by_hand(still_at(still, 0, hour)->fan_m3_s, 0.277381, 1e-4);
    }
    /* A higher floor is enough by itself: 1 m³/s, as in the plain room. */
    room.air.floor_m3_s = 1.0;
    by_hand(still_at(still_run(&room, -20.0), 0, -1)->fan_m3_s, 1.0, 1e-12);
    /* Vented burners take no air from the room. */
    room.air.floor_m3_s = 0.05;
    room.heaters[0].vented = true;
    by_hand(still_at(still_run(&room, -20.0), 0, -1)->fan_m3_s, 0.05, 1e-12);
}
END_TEST

/* 0.5 kg/m² on 500 m² is 250 kg; dried over 24 h at 2,448 kJ/kg it takes 7,083.3 W. */
START_TEST(wash_water_dries_in_the_first_day_of_preheat)
{
    struct th_room room = still_room();
    room.turns[0].preheat_h = 48.0;
    room.turns[0].wash_kg_m2 = 0.5;
    room.air.floor_m3_s = 0.0;
    const struct still *still = still_run(&room, -20.0);
    by_hand(still_at(still, 0, -48)->terms[TH_TERM_DRYING], 7083.33, 1e-6);
    by_hand(still_at(still, 0, -25)->gas_w, (40000.0 + 7083.33) / STILL_SHARE, 1e-6);
    by_hand(still_at(still, 0, -24)->gas_w, 40000.0 / STILL_SHARE, 1e-6);
    by_hand(still->season.total.sum[TH_WATER_DRYING], 250.0, 1e-9);
    by_hand(still->season.total.sum[TH_TO_DRYING], 250.0 * 2.448e6, 1e-9);
}
END_TEST

/* Kept from freezing at 5 °C: ON at 5, ideal heat holds half a degree above. The last turn ended
 * 100 days after 5 November 2009, on 13 February; preheat starts on 3 November: 263 days or 6,312
 * hours of 1,000 × 25.5 W at -20 °C, no fans, pilots off. */
START_TEST(freeze_protection)
{
    struct th_room room = still_room();
    room.turns[0].preheat_h = 48.0;
    room.fuel.freeze = true;
    room.fuel.freeze_c = 5.0;
    const struct th_tally *empty = &still_run(&room, -20.0)->season.turns[0].phase[TH_EMPTY];
    by_hand(empty->sum[TH_HOURS], 6312.0, 1e-12);
    by_hand(empty->sum[TH_GAS_HEATERS], 6312.0 * 3600.0 * 25500.0 / STILL_SHARE, 1e-6);
    by_hand(empty->sum[TH_TO_AIR] + 1.0, 1.0, 1e-12);
    empty = &still_run(&room, 10.0)->season.turns[0].phase[TH_EMPTY];
    by_hand(empty->sum[TH_HOURS], 6312.0, 1e-12);
    ck_assert_double_eq(th_tally_gas_j(empty), 0.0);
    room.fuel.freeze = false;
    empty = &still_run(&room, -20.0)->season.turns[0].phase[TH_EMPTY];
    ck_assert_double_eq(empty->sum[TH_HOURS], 0.0);
}
END_TEST

/* Slab edge 1.5 W/m K around 80 m and 40 K: 4,800 W. A floor of 200 kJ/m²K behind 6 W/m²K on
 * 500 m² starts at -20 °C and keeps e^(-6 × 3600 / 200,000) = 0.897628 of its distance each hour,
 * so it takes up 100 MJ/K × (1 - 0.897628) / 3600 s × 40 K = 113,747 W in the first. */
START_TEST(edge_and_floor)
{
    struct th_room room = still_room();
    room.shell.edge_f_w_mk = 1.5;
    room.shell.perimeter_m = 80.0;
    room.shell.mass_j_m2k = 200e3;
    room.shell.mass_h_w_m2k = 6.0;
    const struct still *still = still_run(&room, -20.0);
    by_hand(still_at(still, 0, 0)->terms[TH_TERM_EDGE], 4800.0, 1e-9);
    by_hand(still_at(still, 0, 0)->terms[TH_TERM_MASS], 113747.0, 1e-5);
    by_hand(still_at(still, 0, 1)->terms[TH_TERM_MASS], 113747.0 * 0.897628, 1e-5);
    by_hand(still_at(still, 0, 9)->terms[TH_TERM_MASS], 113747.0 * 0.378326, 1e-5);
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
    tcase_add_test(tc, hallway_air);
    tcase_add_test(tc, surplus_past_the_hallway);
    tcase_add_test(tc, wall_to_the_hallway);
    tcase_add_test(tc, preheat_air_follows_the_fire);
    tcase_add_test(tc, wash_water_dries_in_the_first_day_of_preheat);
    tcase_add_test(tc, freeze_protection);
    tcase_add_test(tc, edge_and_floor);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
