/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pigs, ceilings, zone heat, pilots and set points against arithmetic done by hand on the plain
 * room of still_room.h; nothing here calls the product for an expected value. */
#include "still_room.h"

#include "run_suite.h"
#include <math.h>

/* A pig of 30 kg at house level, k_s 0.85, by the equations of docs/theory.md, "Pigs": 124.055 W
 * at 20 °C; sensible there 0.85 × 124.055 × (0.8 - 0.38e-3 × 400) = 68.330 W, latent 55.726 W.
 * (The engine takes it as straight between ON and OFF, 1 K apart, which is 1.5e-4 off.)
 * At 30 °C 0.85 × 124.055 × (0.8 × 0.88 - 0.342) = 38.172 W. */
#define PIG_W 124.055
#define PIG_20C_W 68.330
#define PIG_20C_LATENT_W 55.726
#define PIG_30C_W 38.172

static struct th_room thousand_pigs(void)
{
    struct th_room room = still_room();
    room.turns[0].head = 1000.0;
    return room;
}

START_TEST(thousand_pigs_warm_the_room)
{
    const struct th_room room = thousand_pigs();
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->terms[TH_TERM_PIGS], 1000.0 * PIG_20C_W, 3e-4);
    by_hand(hour->terms[TH_TERM_LATENT], 1000.0 * PIG_20C_LATENT_W, 3e-4);
}
END_TEST

/* 1,000 placed, a tenth of them dying evenly over 100 days, 30 % of those alive leaving on day 80:
 * day 79 1000 × (1 - 0.079) = 921; day 80 920 × 0.7 = 644; day 99 1000 × 0.901 × 0.7 = 630.7. Sold
 * 0.3 × 920 and 1000 × 0.9 × 0.7, together 906. */
START_TEST(deaths_and_topping)
{
    struct th_room room = thousand_pigs();
    room.pigs.death_share = 0.1;
    room.turns[0].n_leaves = 1;
    room.turns[0].leaves[0] = (struct th_leave){.day = 80, .share = 0.3};
    struct th_schedule schedule;
    struct th_error err;
    ck_assert_int_eq(th_schedule_init(&schedule, &room, &room.turns[0], &err), TH_OK);
    by_hand(schedule.days[0].head, 1000.0, 1e-12);
    by_hand(schedule.days[79].head, 921.0, 1e-12);
    by_hand(schedule.days[80].head, 644.0, 1e-12);
    by_hand(schedule.days[99].head, 630.7, 1e-12);
    by_hand(schedule.head_sold, 906.0, 1e-12);
    by_hand(schedule.days[80].heat20_w, 644.0 * PIG_W, 1e-5);
    th_schedule_finish(&schedule);
}
END_TEST

/* No deaths; half leave on day 40, half of the rest on day 60: 1000, 500, 250; all are sold. */
START_TEST(topping_twice)
{
    struct th_room room = thousand_pigs();
    room.turns[0].n_leaves = 2;
    room.turns[0].leaves[0] = (struct th_leave){.day = 40, .share = 0.5};
    room.turns[0].leaves[1] = (struct th_leave){.day = 60, .share = 0.5};
    const struct still *still = still_run(&room, -20.0);
    by_hand(still_at(still, 39, 23)->terms[TH_TERM_PIGS], 1000.0 * PIG_20C_W, 3e-4);
    by_hand(still_at(still, 40, 0)->terms[TH_TERM_PIGS], 500.0 * PIG_20C_W, 3e-4);
    by_hand(still_at(still, 60, 0)->terms[TH_TERM_PIGS], 250.0 * PIG_20C_W, 3e-4);
    by_hand(still->season.turns[0].head_sold, 1000.0, 1e-12);
}
END_TEST

/* 0.185 m³/h of CO₂ (20 °C, 1 atm) per 1000 W is 22.950 m³/h from 1,000 pigs, 0.265021 mol/s of a
 * gas of 41.5712 mol/m³. From 420 to 3,000 ppm that takes 0.265021 / 2580e-6 mol/s of air at
 * 28.966 g/mol: 2.97540 kg/s. Vented heaters add none. */
START_TEST(co2_ceiling_of_pigs_alone)
{
    struct th_room room = thousand_pigs();
    room.air.control_co2 = true;
    room.heaters[0].vented = true;
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->co2_ppm, 3000.0, 1e-5);
    by_hand(hour->dry_air_kg_s, 2.97540, 1e-4);
    ck_assert(!hour->unreached);
}
END_TEST

/* What the burner itself adds is in the balance. A gallon of propane, 4.2 lb of C3H8 at 44.097
 * g/mol, makes 129.60 mol of CO₂ and holds 91,500 Btu: g = 1.34253e-6 mol/J. At ΔT K, shell 1,000
 * W/K and pigs S = 68,330 W, with m kg/s of air:
 *     m 2580e-6 / 0.028966 = 0.265021 + g (1000 ΔT + 1006 m ΔT - S) / 0.920765
 * which for 40 K is m = (0.265021 - 0.041307) / (0.0890699 - 0.0586718) = 7.3595 kg/s. */
START_TEST(co2_ceiling_with_the_burner)
{
    struct th_room room = thousand_pigs();
    room.air.control_co2 = true;
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->dry_air_kg_s, 7.3595, 1e-3);
    by_hand(hour->co2_ppm, 3000.0, 1e-5);
}
END_TEST

/* At 70 K the burner adds 0.10268 for every 0.08907 that the air carries off: no flow will do. The
 * fans go to the first stage's full flow and the hour is counted. (Heaters too small to keep up
 * would add less.) */
START_TEST(a_co2_ceiling_out_of_reach)
{
    struct th_room room = thousand_pigs();
    room.air.control_co2 = true;
    room.heaters[0].input_w = 1e7;
    const struct still *still = still_run(&room, -50.0);
    const struct th_hour_out *hour = still_at(still, 1, 1);
    by_hand(hour->fan_m3_s, 20.0, 1e-9);
    ck_assert(hour->unreached);
    ck_assert_double_gt(hour->co2_ppm, 3000.0);
    by_hand(still->season.total.sum[TH_UNREACHED], 2400.0, 1e-12);
}
END_TEST

/* Saturation at 20 °C is 2,338.8 Pa (ASHRAE Fundamentals, table; from memory). Half of it is
 * 0.621945 × 1,169.4 / (97,000 - 1,169.4) = 7.5895 g/kg. The pigs' 55,726 W at 2,448 kJ/kg are
 * 22.7637 g/s, so dry outdoor air must carry them off with 2.9994 kg/s. */
START_TEST(humidity_ceiling_of_pigs_alone)
{
    struct th_room room = thousand_pigs();
    room.air.control_rh = true;
    room.air.rh_limit = 0.5;
    room.heaters[0].vented = true;
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->dry_air_kg_s, 2.9994, 5e-4);
    by_hand(hour->rh, 0.5, 1e-5);
}
END_TEST

/* The burner's water too: 6.86 lb a gallon (stoichiometry) is 3.2232e-8 kg/J. With m as above
 *     m (0.0075895 - 3.2232e-8 × 1006 × 40 / 0.920765) = 0.0227637
 *         + 3.2232e-8 (40,000 - 68,330) / 0.920765
 * so m = 0.0217720 / 0.0061808 = 3.5225 kg/s. */
START_TEST(humidity_ceiling_with_the_burner)
{
    struct th_room room = thousand_pigs();
    room.air.control_rh = true;
    room.air.rh_limit = 0.5;
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->dry_air_kg_s, 3.5225, 1e-3);
    by_hand(hour->rh, 0.5, 1e-5);
}
END_TEST

/* Ten brooders of 5,000 W, 10 K at full output, target 30 °C at pig level, room at 20 °C less a
 * drop of 4 K: 16 °C would ask for more than all of them, 24 °C for 0.6. */
static struct th_room brooder_room(void)
{
    struct th_room room = still_room();
    room.zone.on = true;
    room.zone.units = 10.0;
    room.zone.input_w = 5000.0;
    room.zone.pilot_w = 240.0;
    room.zone.target_c = 30.0;
    room.zone.target_k_week = 0.0;
    room.zone.days = 1000.0;
    room.zone.rise_k = 10.0;
    room.zone.drop_k = 4.0;
    room.setpoints.set_c = still_always(28.5);
    return room;
}

/* Set 28.5 less 4, held half a degree lower: 24 °C, 6 K short of the target, so duty 0.6. Gas 10 ×
 * 5,000 × 0.6 = 30,000 W, pilots of the unlit 10 × 240 × 0.4 = 960 W, heat 0.920765 of both. */
START_TEST(zone_heat_duty)
{
    const struct th_room room = brooder_room();
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    by_hand(hour->room_c, 24.0, 1e-9);
    by_hand(hour->terms[TH_TERM_ZONE_GAS], 30000.0, 1e-9);
    by_hand(hour->terms[TH_TERM_ZONE_PILOT_GAS], 960.0, 1e-9);
    by_hand(hour->terms[TH_TERM_ZONE], 27622.95, 1e-6);
    by_hand(hour->feel_c, 30.0, 1e-9);
    /* 44 K over the wall; 97,000 / (287.042 × 297.15) × 1006 = 1144.06 W/K with the air. */
    const double load_w = 44.0 * (1000.0 + 1144.06);
    by_hand(hour->gas_w, load_w / STILL_SHARE, 1e-4);
    by_hand(hour->heating.gas_w, load_w / STILL_SHARE - 30960.0, 1e-4);
}
END_TEST

/* Pigs under the brooders feel 24 + 0.6 × 10 = 30 °C and give 38.172 W each. */
START_TEST(pigs_feel_the_zone)
{
    struct th_room room = brooder_room();
    room.turns[0].head = 1000.0;
    by_hand(still_at(still_run(&room, -20.0), 1, 1)->terms[TH_TERM_PIGS], 1000.0 * PIG_30C_W, 3e-4);
}
END_TEST

/* Duty is never above 1 or below 0: at 16 °C all burners, at 30 °C and more none. */
START_TEST(zone_duty_is_clipped)
{
    struct th_room room = brooder_room();
    room.setpoints.set_c = still_always(20.5);
    by_hand(still_at(still_run(&room, -20.0), 1, 1)->terms[TH_TERM_ZONE_GAS], 50000.0, 1e-9);
    room.setpoints.set_c = still_always(35.5);
    const struct th_hour_out *hour = still_at(still_run(&room, -20.0), 1, 1);
    ck_assert_double_eq(hour->terms[TH_TERM_ZONE_GAS], 0.0);
    by_hand(hour->terms[TH_TERM_ZONE_PILOT_GAS], 2400.0, 1e-9);
}
END_TEST

/* Outdoors 15 °C: no heat wanted, fans hold 24.5 + 0.5 = 25 °C. Duty 0.5 gives 10 × 5,000 × 0.5 ×
 * 0.920765 = 23,019 W; the wall takes 10,000, the air 97,000 / (287.042 × 298.15) × 1006 × 10 =
 * 11,402 W; 1,617 W are thrown out, all of them zone heat the room did not need. */
START_TEST(zone_heat_surplus)
{
    struct th_room room = brooder_room();
    room.zone.pilot_w = 0.0;
    room.air.ramp_start_k = 0.5;
    const struct still *still = still_run(&room, 15.0);
    const struct th_hour_out *hour = still_at(still, 1, 1);
    by_hand(hour->room_c, 25.0, 1e-9);
    by_hand(hour->thrown_w, 1617.0, 1e-3);
    by_hand(still->season.total.sum[TH_ZONE_SURPLUS], 2400.0 * 3600.0 * 1617.0, 1e-3);
}
END_TEST

/* Growth from day 0 of the curve, 485.72 e^-3.62068 lb, so that the day of the turn is the day of
 * the curve. Zone heat for 21 days, 4 K lower meanwhile, back over 8 more; target 2 K a week down
 * from 30 °C: 28 °C after 7 days. */
START_TEST(zone_days_and_return)
{
    struct th_room room = brooder_room();
    room.pigs.growth = TH_GROWTH_GOMPERTZ;
    room.turns[0].weight_kg = 485.72 * exp(-3.62068) * 0.45359237;
    room.zone.days = 20.5;
    room.zone.return_days = 8.0;
    room.zone.target_k_week = 2.0;
    struct th_schedule schedule;
    struct th_error err;
    ck_assert_int_eq(th_schedule_init(&schedule, &room, &room.turns[0], &err), TH_OK);
    const int day[] = {0, 20, 21, 24, 28, 29, 60};
    const double set_c[] = {24.5, 24.5, 24.75, 26.25, 28.25, 28.5, 28.5};
    for (int i = 0; i < 7; i++) {
        ck_assert_double_eq_tol(schedule.days[day[i]].set_c, set_c[i], 1e-6);
        ck_assert_int_eq(schedule.days[day[i]].zone_on, day[i] <= 20);
    }
    ck_assert_double_eq_tol(schedule.days[7].zone_target_c, 28.0, 1e-6);
    ck_assert_double_eq_tol(schedule.days[14].zone_target_c, 26.0, 1e-6);
    th_schedule_finish(&schedule);
}
END_TEST

/* From day 14, 22:00 to 06:00, 3 K lower: 37 instead of 40 K over wall and air. */
START_TEST(night_setback)
{
    struct th_room room = still_room();
    room.setpoints.setback_k = 3.0;
    const struct still *still = still_run(&room, -20.0);
    const double day_w = 40.0 * (1000.0 + STILL_AIR_W_K) / STILL_SHARE;
    /* Air of 17 °C is 293.15 / 290.15 times as dense. */
    const double night_w = 37.0 * (1000.0 + STILL_AIR_W_K * 293.15 / 290.15) / STILL_SHARE;
    by_hand(still_at(still, 13, 23)->gas_w, day_w, 1e-4);
    by_hand(still_at(still, 14, 5)->gas_w, night_w, 1e-4);
    by_hand(still_at(still, 14, 6)->gas_w, day_w, 1e-4);
    by_hand(still_at(still, 14, 21)->gas_w, day_w, 1e-4);
    by_hand(still_at(still, 14, 22)->gas_w, night_w, 1e-4);
    /* 14 whole days, then 86 with 16 hours of day and 8 of night. */
    const double sum_j = 3600.0 * ((14 * 24 + 86 * 16) * day_w + 86 * 8 * night_w);
    by_hand(th_tally_gas_j(&still->season.total), sum_j, 1e-4);
}
END_TEST

/* Three pilots of 235 W. Warm hours: 705 W with `turn`, else nothing. Cold hours: burners and
 * pilots make 86,387 W together whichever; pilots count while their burner is off. */
START_TEST(pilots)
{
    struct th_room room = still_room();
    room.heaters[0].units = 3;
    room.heaters[0].input_w = 100e3;
    room.heaters[0].pilot_w = 235.0;
    const double load_gas_w = 86386.8 / STILL_SHARE;
    const double warm_w[] = {
        [TH_PILOT_NONE] = 0.0, [TH_PILOT_HEATING] = 0.0, [TH_PILOT_TURN] = 705.0};
    /* Burners lit for the share x of an hour: 300,000 x + 705 (1 - x) = 93,821 W, x = 0.311115. */
    const double pilots_w[] = {
        [TH_PILOT_NONE] = 0.0, [TH_PILOT_HEATING] = 485.66, [TH_PILOT_TURN] = 485.66};
    for (int pilot = 0; pilot < 3; pilot++) {
        room.heaters[0].pilot = (enum th_pilot)pilot;
        const struct th_hour_out *cold = still_at(still_run(&room, -20.0), 1, 1);
        by_hand(cold->gas_w, load_gas_w, 1e-4);
        by_hand(cold->heating.pilot_gas_w + 1.0, pilots_w[pilot] + 1.0, 1e-3);
        const struct th_hour_out *warm = still_at(still_run(&room, 19.9), 1, 1);
        by_hand(warm->gas_w + 1.0, warm_w[pilot] + 1.0, 1e-9);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("by_hand_pigs");
    TCase *tc = tcase_create("by_hand_pigs");
    tcase_add_test(tc, thousand_pigs_warm_the_room);
    tcase_add_test(tc, deaths_and_topping);
    tcase_add_test(tc, topping_twice);
    tcase_add_test(tc, co2_ceiling_of_pigs_alone);
    tcase_add_test(tc, co2_ceiling_with_the_burner);
    tcase_add_test(tc, a_co2_ceiling_out_of_reach);
    tcase_add_test(tc, humidity_ceiling_of_pigs_alone);
    tcase_add_test(tc, humidity_ceiling_with_the_burner);
    tcase_add_test(tc, zone_heat_duty);
    tcase_add_test(tc, pigs_feel_the_zone);
    tcase_add_test(tc, zone_duty_is_clipped);
    tcase_add_test(tc, zone_heat_surplus);
    tcase_add_test(tc, zone_days_and_return);
    tcase_add_test(tc, night_setback);
    tcase_add_test(tc, pilots);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
