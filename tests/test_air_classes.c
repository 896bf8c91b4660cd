/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line that says where the fans give pigs less than the extension classes. Pigs of one weight
 * and no deaths, so that every day is the same and the numbers are those of the tables. */
#include "air_classes.h"
#include "sample_room.h"
#include "turnheat/air.h"

#include "render.h"
#include "run_suite.h"
#include <string.h>

static struct th_room pigs_of(double weight_lb)
{
    struct th_room room = sample_room(TH_ON_OFF);
    snprintf(room.turns[0].name, sizeof room.turns[0].name, "winter");
    room.pigs.death_share = 0.0;
    room.pigs.growth = TH_GROWTH_BY_DAY;
    room.pigs.weight_kg = (struct th_table){.n = 1, .x = {0.0}, .y = {weight_lb * TH_KG_PER_LB}};
    return room;
}

/* The report as CSV; "" when the line is not there. */
static const char *line_of(const struct th_room *room)
{
    static char text[8192];
    struct th_error err = {0};
    struct th_report *report = th_report_new("test");
    th_report_title(report, "test");
    th_report_section(report, "air", "Air");
    ck_assert_int_eq(th_report_air_classes(report, room, &err), TH_OK);
    memset(text, 0, sizeof text);
    FILE *const out = fmemopen(text, sizeof text - 1, "w");
    ck_assert_int_eq(th_report_write(report, TH_AS_CSV, out, &err), TH_OK);
    fclose(out);
    th_report_free(report);
    const char *const found = strstr(text, "below_classes");
    return found ? found : "";
}

/* 76 lb: smooth 5.2 + 1.8/37 = 5.25, class 7 (MWPS-32 as tabulated by Univ. of Minnesota Ext.). */
START_TEST(the_smooth_curve_below_a_class)
{
    const struct th_room room = pigs_of(76.0);
    const char *const line = line_of(&room);
    ck_assert_msg(strstr(line, "on 165 of 165 days of turn winter") != NULL, "%s", line);
    ck_assert_msg(strstr(line, "at 76 lb: 5.2 against 7 cfm a pig") != NULL, "%s", line);
    ck_assert_msg(strstr(line, "minimum_curve = classes") != NULL, "%s", line);
}
END_TEST

/* 70 lb: smooth 4.92, class 3. */
START_TEST(nothing_to_say_above_the_class)
{
    const struct th_room room = pigs_of(70.0);
    ck_assert_str_eq(line_of(&room), "");
}
END_TEST

START_TEST(the_classes_themselves)
{
    struct th_room room = pigs_of(76.0);
    room.air.minimum_m3_s = *th_air_minimum_steps();
    ck_assert_str_eq(line_of(&room), "");
    /* Set down by hand: 0.9 × 7 = 6.3. */
    room.air.minimum_share = 0.9;
    const char *const line = line_of(&room);
    ck_assert_msg(strstr(line, "6.3 against 7 cfm a pig. It is set so in your file") != NULL, "%s",
                  line);
}
END_TEST

/* Fans that cannot turn below 7 cfm a pig give the class whatever the curve says. */
START_TEST(a_fan_floor_gives_the_class)
{
    struct th_room room = pigs_of(76.0);
    room.air.floor_m3_s = 7000.0 * TH_M3S_PER_CFM;
    ck_assert_str_eq(line_of(&room), "");
}
END_TEST

/* Of two turns the one that falls shorter: 151 lb 8.2 of 10, 76 lb 5.2 of 7. */
START_TEST(the_worse_turn_is_named)
{
    struct th_room room = pigs_of(76.0);
    room.pigs.weight_kg = (struct th_table){
        .n = 2, .step = true, .x = {0.0, 50.0}, .y = {151.0 * TH_KG_PER_LB, 76.0 * TH_KG_PER_LB}};
    room.turns[0].days = 40;
    room.turns[1] = room.turns[0];
    room.turns[1].days = 60;
    snprintf(room.turns[1].name, sizeof room.turns[1].name, "summer");
    room.n_turns = 2;
    const char *const line = line_of(&room);
    ck_assert_msg(strstr(line, "on 60 of 60 days of turn summer") != NULL, "%s", line);
    ck_assert_msg(strstr(line, "most on day 50 at 76 lb") != NULL, "%s", line);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("air_classes");
    TCase *tc = tcase_create("air_classes");
    tcase_add_test(tc, the_smooth_curve_below_a_class);
    tcase_add_test(tc, nothing_to_say_above_the_class);
    tcase_add_test(tc, the_classes_themselves);
    tcase_add_test(tc, a_fan_floor_gives_the_class);
    tcase_add_test(tc, the_worse_turn_is_named);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
