/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a winter was like for the pigs: cold below their comfort limit. */
#include "sample_room.h"
#include "turnheat/winters.h"

#include "run_suite.h"

#define FIRST_YEAR 2010
#define F(difference) ((difference)*TH_K_PER_F)

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, 1);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

/* The limit by weight as model and docs give it, read without the engine's table. */
static double limit_f(double lb)
{
    static const double at[][2] = {{25, 75},   {40, 71},    {56, 65},    {68, 64},
                                   {80, 60.5}, {104, 58.5}, {128, 56.5}, {155, 55}};
    const int n = sizeof at / sizeof *at;
    if (lb <= at[0][0])
        return at[0][1];
    for (int i = 1; i < n; i++)
        if (lb <= at[i][0])
            return at[i - 1][1] +
                   (at[i][1] - at[i - 1][1]) * (lb - at[i - 1][0]) / (at[i][0] - at[i - 1][0]);
    return at[n - 1][1];
}

struct cold {
    double young_f_h, later_f_h, deepest_f;
    int deep_h;
};

static void see_cold(void *context, int turn, long hour, const struct th_hour_in *in,
                     const struct th_hour_out *out)
{
    struct cold *cold = context;
    (void)turn;
    (void)hour;
    if (in->phase != TH_GROWING)
        return;
    const double lb = in->balance.day->mass_kg / TH_KG_PER_LB;
    const double rise_k = in->balance.zone_units > 0.0
                              ? in->balance.room->zone.rise_k * out->terms[TH_TERM_ZONE_GAS] /
                                    (in->balance.zone_units * in->balance.room->zone.input_w)
                              : 0.0;
    const double below_f = limit_f(lb) - th_f_from_c(out->room_c + rise_k);
    if (below_f <= 0.0)
        return;
    /* Placed at 13 lb, pigs pass 25 lb after day 14. */
    *(lb <= 25.0 ? &cold->young_f_h : &cold->later_f_h) += below_f;
    cold->deep_h += below_f > 5.0;
    cold->deepest_f = fmax(cold->deepest_f, below_f);
}

/* With and without zone heat, by heaters too small for the room. */
START_TEST(cold_counts_the_hourly_mean_below_the_limit)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct cold cold = {0};
    const struct th_watch watch = {.hour = see_cold, .context = &cold};
    struct th_winters winters;
    struct th_error err;
    room.heaters[0].input_w = 60000.0 * TH_W_PER_BTUH;
    room.zone.on = _i == 1;
    ck_assert_int_eq(
        th_winters_run(&winters, &room, &climate, FIRST_YEAR, FIRST_YEAR, &watch, &err), TH_OK);
    const struct th_tally *t = &winters.seasons[0].total;
    ck_assert_double_gt(cold.later_f_h, 10.0);
    ck_assert_double_eq_tol(t->sum[TH_COLD_YOUNG_KH], F(cold.young_f_h), 1e-6);
    ck_assert_double_eq_tol(t->sum[TH_COLD_KH], F(cold.later_f_h), 1e-6);
    ck_assert_double_eq_tol(th_tally_cold_kh(t), F(cold.young_f_h + cold.later_f_h), 1e-6);
    ck_assert_double_eq_tol(t->deepest_below_k, F(cold.deepest_f), 1e-9);
    ck_assert_double_eq(t->sum[TH_COLD_DEEP], cold.deep_h);
    th_winters_finish(&winters);
}
END_TEST

/* Age rules the set point to 40 lb, weight afterwards, whatever growth the file gives. */
START_TEST(set_points_follow_age_then_weight)
{
    struct th_room room = sample_room(TH_ON_OFF);
    struct th_schedule schedule;
    struct th_error err;
    room.pigs.growth = TH_GROWTH_BY_DAY;
    room.pigs.weight_kg =
        (struct th_table){.n = 3,
                          .x = {0.0, 20.0, 120.0},
                          .y = {13.0 * TH_KG_PER_LB, 30.0 * TH_KG_PER_LB, 200.0 * TH_KG_PER_LB}};
    ck_assert_int_eq(th_schedule_init(&schedule, &room, &room.turns[0], &err), TH_OK);
    /* 13 lb is day 0.02 of the curve; at 21 days old 77 °F, though they weigh more than usual. */
    ck_assert_double_eq_tol(th_f_from_c(schedule.days[21].set_c), 77.0, 0.05);
    /* Day 49.4 by the table 80 lb: 68 °F, that on the usual curve come at day 62. */
    const double lb = schedule.days[49].mass_kg / TH_KG_PER_LB;
    ck_assert_double_eq_tol(lb, 79.3, 0.01);
    ck_assert_double_eq_tol(th_f_from_c(schedule.days[49].set_c), 68.0 + 0.7 / 12.0, 0.01);
    th_schedule_finish(&schedule);
}
END_TEST

static Suite *comfort_suite(void)
{
    Suite *suite = suite_create("comfort");
    TCase *tc = tcase_create("comfort");
    tcase_add_unchecked_fixture(tc, make_climate, free_climate);
    tcase_add_loop_test(tc, cold_counts_the_hourly_mean_below_the_limit, 0, 2);
    tcase_add_test(tc, set_points_follow_age_then_weight);
    suite_add_tcase(suite, tc);
    return suite;
}

int main(void)
{
    return run_suite(comfort_suite());
}
