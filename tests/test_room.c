/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/room.h"

#include "turnheat/herd.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include <math.h>
#include <string.h>

#define F(difference) ((difference)*TH_K_PER_F)
#define CFM(flow) ((flow)*TH_M3S_PER_CFM)
#define LB(mass) ((mass)*TH_KG_PER_LB)
#define BTUH(power) ((power)*TH_W_PER_BTUH)

/* An invented room, 40 × 200 × 8 ft, that has nothing wrong with it. */
static struct th_room sound_room(void)
{
    struct th_room room;
    th_room_defaults(&room);
    room.spaces = 1000;
    room.site.has_elevation = true;
    room.site.elevation_m = 300.0;
    room.shell.floor_m2 = 8000.0 * TH_M2_PER_FT2;
    room.shell.volume_m3 = 64000.0 * TH_M3_PER_FT3;
    room.shell.perimeter_m = 480.0 * TH_M_PER_FT;
    room.air.max_m3_s = CFM(100000.0);
    room.air.leak_cm2 = 300.0;
    room.n_surfaces = 2;
    th_surface_defaults(&room.surfaces[1]);
    room.surfaces[1].area_m2 = 480.0 * 8.0 * TH_M2_PER_FT2;
    room.surfaces[1].r_m2k_w = 17.0 * TH_R_SI_PER_US;
    th_surface_defaults(&room.surfaces[0]);
    room.surfaces[0].kind = TH_CEILING;
    room.surfaces[0].area_m2 = room.shell.floor_m2;
    room.surfaces[0].r_m2k_w = 30.0 * TH_R_SI_PER_US;
    room.n_heaters = 1;
    th_heater_defaults(&room.heaters[0]);
    room.heaters[0].units = 3;
    room.heaters[0].input_w = BTUH(250000.0);
    room.n_turns = 1;
    th_turn_defaults(&room.turns[0]);
    room.turns[0].month = 11;
    room.turns[0].day = 5;
    room.turns[0].head = 1000;
    room.turns[0].weight_kg = LB(13.0);
    room.turns[0].days = 165;
    return room;
}

/* Defaults against the figures of their sources, in the sources' units. */
START_TEST(defaults_are_those_of_the_sources)
{
    struct th_room room;
    th_room_defaults(&room);
    /* ASHRAE 90.1 family via Wash. Admin. Code 51-11C A106.1: 0.73 Btu/h ft °F. */
    ck_assert_double_eq_tol(room.shell.edge_f_w_mk, 1.2634, 1e-3);
    /* Ontario clause 7.36.1: 300 cfm per 100,000 Btu/h. */
    ck_assert_double_eq_tol(room.air.burner_air_m3_s_w * BTUH(100000.0), CFM(300.0), 1e-9);
    /* EIA: 91,500 Btu a gallon. */
    ck_assert_double_eq_tol(room.fuel.hhv_j / TH_J_PER_BTU, 91500.0, 1e-6);
    ck_assert(!room.fuel.has_price);
    ck_assert(!room.site.has_elevation);
}
END_TEST

/* °F that are right for pigs of a weight, by two published tables. */
struct right_f {
    double lb, low, high;
};

/* PIH-11 table 1, "46 lb 73-82" and so on. */
static const struct right_f pih11_f[] = {
    {46, 73, 82},  {56, 70, 82},  {68, 68, 80},  {80, 66, 80},  {92, 64, 80},  {104, 62, 80},
    {116, 60, 78}, {128, 58, 78}, {141, 56, 78}, {155, 56, 75}, {171, 54, 75}, {215, 50, 75}};
/* Missouri (Zulovich), each class at its heaviest and lightest pig. */
static const struct right_f missouri_f[] = {{10, 75, 85}, {29.9, 75, 85}, {30, 70, 80},
                                            {49, 70, 80}, {75, 55, 70},   {250, 55, 70}};

static double set_f_of(const struct th_room *room, double lb)
{
    return th_f_from_c(th_table_at(&room->setpoints.set_c, th_herd_gompertz_day(LB(lb))));
}

START_TEST(set_points_lie_within_both_tables)
{
    struct th_room room;
    th_room_defaults(&room);
    ck_assert_double_eq_tol(th_f_from_c(th_table_at(&room.setpoints.set_c, 0.0)), 84.0, 1e-9);
    for (size_t i = 0; i < sizeof pih11_f / sizeof *pih11_f; i++) {
        const double set_f = set_f_of(&room, pih11_f[i].lb);
        ck_assert_msg(set_f >= pih11_f[i].low && set_f <= pih11_f[i].high, "%g lb: %g F",
                      pih11_f[i].lb, set_f);
    }
    for (size_t i = 0; i < sizeof missouri_f / sizeof *missouri_f; i++) {
        const double set_f = set_f_of(&room, missouri_f[i].lb);
        ck_assert_msg(set_f >= missouri_f[i].low && set_f <= missouri_f[i].high, "%g lb: %g F",
                      missouri_f[i].lb, set_f);
    }
    /* Where both overlap the middle: 104 lb, 62 to 70. */
    ck_assert_double_eq_tol(set_f_of(&room, 104.0), 66.0, 1e-9);
}
END_TEST

START_TEST(the_comfort_limit_falls_smoothly_below_the_set_point)
{
    struct th_room room;
    th_room_defaults(&room);
    double before_f = 75.0;
    for (double lb = 12.0; lb < 280.0; lb += 0.5) {
        const double limit_f = th_f_from_c(th_table_at(&room.setpoints.comfort_c, LB(lb)));
        ck_assert_msg(limit_f <= before_f && before_f - limit_f < 0.25, "step at %g lb", lb);
        ck_assert_msg(limit_f < set_f_of(&room, lb) - 2.0, "limit at %g lb", lb);
        before_f = limit_f;
    }
    ck_assert_double_eq_tol(before_f, 55.0, 1e-9);
}
END_TEST

START_TEST(a_sound_room_has_no_errors_and_no_warnings)
{
    const struct th_room room = sound_room();
    struct th_findings findings;
    th_room_review(&room, &findings);
    ck_assert_msg(findings.n_errors == 0, "%s %s", findings.errors[0].key, findings.errors[0].text);
    ck_assert_msg(findings.n_warnings == 0, "%s", findings.warnings[0].text);
    struct th_error err;
    ck_assert_int_eq(th_room_check(&room, &err), TH_OK);
}
END_TEST

static void no_heater(struct th_room *r)
{
    r->n_heaters = 0;
}
static void on_at_off(struct th_room *r)
{
    r->heaters[0].on_k = r->heaters[0].off_k;
}
static void on_above_off(struct th_room *r)
{
    r->heaters[0].on_k = F(0.5);
}
static void turndown_zero(struct th_room *r)
{
    r->heaters[0].turndown = 0.0;
}
static void turndown_two(struct th_room *r)
{
    r->heaters[0].turndown = 2.0;
}
static void turndown_nan(struct th_room *r)
{
    r->heaters[0].turndown = NAN;
}
static void fans_below_off(struct th_room *r)
{
    r->air.ramp_start_k = F(-2.0);
}
static void r_zero(struct th_room *r)
{
    r->surfaces[0].r_m2k_w = 0.0;
}
static void no_area(struct th_room *r)
{
    r->surfaces[0].area_m2 = 0.0;
}
static void no_elevation(struct th_room *r)
{
    r->site.has_elevation = false;
}
static void thin_air(struct th_room *r)
{
    r->air.minimum_share = 0.79;
}
static void no_turn(struct th_room *r)
{
    r->n_turns = 0;
}
static void too_many_pigs(struct th_room *r)
{
    r->turns[0].head = 2600;
}
static void no_size(struct th_room *r)
{
    r->shell.floor_m2 = 0.0;
}
static void thirtieth_of_february(struct th_room *r)
{
    r->turns[0].month = 2;
    r->turns[0].day = 30;
}
static void attic_without_roof(struct th_room *r)
{
    r->surfaces[0].faces = TH_FACES_ATTIC;
}
static void attic_air_without_attic(struct th_room *r)
{
    r->air.inlet = TH_INLET_ATTIC;
    r->shell.roof_m2 = 1000.0;
}
static void second_turn_in_spring(struct th_room *r)
{
    r->turns[1] = r->turns[0];
    r->turns[1].month = 4;
    r->n_turns = 2;
}
static void second_turn_across_year_end(struct th_room *r)
{
    r->turns[1] = r->turns[0];
    r->turns[1].month = 2;
    r->turns[1].day = 1;
    r->turns[1].days = 20;
    r->n_turns = 2;
}
/* 5 November + 165 days = 19 April; preheat of 48 h from 18 April meets it. */
static void second_turn_preheat(struct th_room *r)
{
    r->turns[1] = r->turns[0];
    r->turns[1].month = 4;
    r->turns[1].day = 20;
    r->turns[1].days = 100;
    r->n_turns = 2;
}
static void year_long(struct th_room *r)
{
    r->turns[0].days = 365;
}
static void everybody_leaves_late(struct th_room *r)
{
    r->turns[0].n_leaves = 1;
    r->turns[0].leaves[0] = (struct th_leave){.day = 170, .share = 0.5};
}
static void max_below_floor(struct th_room *r)
{
    r->air.floor_m3_s = r->air.max_m3_s * 1.01;
}
static void k_s_wild(struct th_room *r)
{
    r->pigs.k_s = 1.2;
}
static void table_out_of_order(struct th_room *r)
{
    r->setpoints.set_c.x[1] = -1.0;
}

static const struct {
    void (*spoil)(struct th_room *);
    const char *section;
    const char *key;
} errors[] = {
    {no_heater, "room", ""},
    {on_at_off, "heater ", "on_below"},
    {on_above_off, "heater ", "on_below"},
    {turndown_zero, "heater ", "turndown"},
    {turndown_two, "heater ", "turndown"},
    {turndown_nan, "heater ", "turndown"},
    {fans_below_off, "heater ", "off_below"},
    {r_zero, "surface ", "R"},
    {no_area, "surface ", "area"},
    {no_elevation, "site", "elevation"},
    {thin_air, "air", "minimum"},
    {no_turn, "room", ""},
    {too_many_pigs, "turn ", "head"},
    {no_size, "room", "length"},
    {thirtieth_of_february, "turn ", "place"},
    {attic_without_roof, "room", "roof_area"},
    {attic_air_without_attic, "air", "inlet_air"},
    {second_turn_in_spring, "turn ", "place"},
    {second_turn_across_year_end, "turn ", "place"},
    {second_turn_preheat, "turn ", "place"},
    {year_long, "turn ", "days"},
    {everybody_leaves_late, "turn ", "leave"},
    {max_below_floor, "air", "installed_max"},
    {k_s_wild, "pigs", "sensible_factor"},
    {table_out_of_order, "setpoints", "table"},
};

START_TEST(each_error_names_its_section_and_key)
{
    struct th_room room = sound_room();
    errors[_i].spoil(&room);
    struct th_findings findings;
    th_room_review(&room, &findings);
    ck_assert_int_ge(findings.n_errors, 1);
    ck_assert_str_eq(findings.errors[0].section, errors[_i].section);
    ck_assert_str_eq(findings.errors[0].key, errors[_i].key);
    struct th_error err;
    ck_assert_int_eq(th_room_check(&room, &err), TH_ERR_RANGE);
}
END_TEST

static void air_90(struct th_room *r)
{
    r->air.minimum_share = 0.9;
}
static void leaky(struct th_room *r)
{
    r->air.leak_cm2 = 6.0 * r->shell.floor_m2;
    r->known.leakage = true;
}
static void crowded(struct th_room *r)
{
    r->turns[0].head = 1400;
}
static void huge_heater(struct th_room *r)
{
    r->heaters[0].units = 6;
}
static void small_ceiling(struct th_room *r)
{
    r->surfaces[0].area_m2 *= 0.5;
}
static void walls_of_another_barn(struct th_room *r)
{
    r->surfaces[1].area_m2 = 17342.0 * TH_M2_PER_FT2;
}

static void metric_r_taken_for_us(struct th_room *r)
{
    r->surfaces[1].r_m2k_w = 29.0;
}

static void heavy_pigs(struct th_room *r)
{
    r->turns[0].days = 230;
    r->turns[0].head = 600;
}
static void loose_fill_outdoors(struct th_room *r)
{
    r->surfaces[0].loose_fill = true;
}

static void ten_times_the_fan_floor(struct th_room *r)
{
    r->air.floor_m3_s = 20000.0 * TH_M3S_PER_CFM;
}
static void metric_ceiling(struct th_room *r)
{
    r->surfaces[0].r_m2k_w = 4.0 * TH_R_SI_PER_US;
}
static void sixteen_days(struct th_room *r)
{
    r->turns[1] = r->turns[0];
    r->turns[1].month = 12;
    r->n_turns = 2;
    r->turns[0].days = 16;
}
static void forgotten_turn(struct th_room *r)
{
    r->turns[0].days = 49;
}
static void kilograms_for_pounds(struct th_room *r)
{
    r->turns[0].weight_kg = 13.0;
    r->turns[0].days = 120;
}

static const struct {
    void (*spoil)(struct th_room *);
    const char *key;
} warnings[] = {
    {air_90, "minimum"},
    {leaky, "leakage"},
    {crowded, "head"},
    {huge_heater, ""},
    {small_ceiling, ""},
    {walls_of_another_barn, ""},
    {metric_r_taken_for_us, "R"},
    {heavy_pigs, "days"},
    {loose_fill_outdoors, "loose_fill"},
    {ten_times_the_fan_floor, "fan_floor"},
    {metric_ceiling, "R"},
    {sixteen_days, "days"},
    {forgotten_turn, "days"},
    {kilograms_for_pounds, "weight"},
};

START_TEST(doubtful_values_warn_without_an_error)
{
    struct th_room room = sound_room();
    warnings[_i].spoil(&room);
    struct th_findings findings;
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_errors, 0);
    ck_assert_int_eq(findings.n_warnings, 1);
    ck_assert_str_eq(findings.warnings[0].key, warnings[_i].key);
}
END_TEST

/* A fortnight to wash, and even a month, is no forgotten turn; days of other winters are not added.
 */
START_TEST(a_room_may_stand_empty_for_a_while)
{
    struct th_room room = sound_room();
    struct th_findings findings;
    room.turns[0].days = 105; /* Feb 18: 41 days to the end of March, 4 before Nov 5 */
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_warnings, 0);
    room.turns[0].days = 102;
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_warnings, 1);
    ck_assert_msg(strstr(findings.warnings[0].text, "empty from Feb 15 to Nov 5, 6 weeks") != NULL,
                  "%s", findings.warnings[0].text);
}
END_TEST

/* Space 0.030 m² kg^(-2/3): from memory. 265 lb = 120 kg needs 0.73 m²; 743 m² hold 1,018 of them.
 */
START_TEST(a_thousand_finishing_pigs_just_fit)
{
    struct th_room room = sound_room();
    struct th_findings findings;
    room.turns[0].head = 1060;
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_warnings, 0);
    room.turns[0].head = 1100;
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_warnings, 1);
    room.turns[0].head = 1800; /* 0.018: they cannot all lie */
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_errors, 0);
    ck_assert_msg(strstr(findings.warnings[0].text, "not all can lie down at once") != NULL, "%s",
                  findings.warnings[0].text);
    room.turns[0].head = 2200;
    th_room_review(&room, &findings);
    ck_assert_ptr_nonnull(strstr(findings.errors[0].text, "they do not fit"));
    /* A quarter leaving in good time makes them fit. */
    room.turns[0].head = 1100;
    room.turns[0].n_leaves = 1;
    room.turns[0].leaves[0] = (struct th_leave){.day = 140, .share = 0.25};
    th_room_review(&room, &findings);
    ck_assert_int_eq(findings.n_warnings, 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("room");
    TCase *tc = tcase_create("room");
    tcase_add_test(tc, defaults_are_those_of_the_sources);
    tcase_add_test(tc, set_points_lie_within_both_tables);
    tcase_add_test(tc, the_comfort_limit_falls_smoothly_below_the_set_point);
    tcase_add_test(tc, a_sound_room_has_no_errors_and_no_warnings);
    tcase_add_test(tc, a_room_may_stand_empty_for_a_while);
    tcase_add_loop_test(tc, each_error_names_its_section_and_key, 0,
                        sizeof errors / sizeof *errors);
    tcase_add_loop_test(tc, doubtful_values_warn_without_an_error, 0,
                        sizeof warnings / sizeof *warnings);
    tcase_add_test(tc, a_thousand_finishing_pigs_just_fit);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
