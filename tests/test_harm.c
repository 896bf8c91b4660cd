/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a change does to the pigs, and which changes are none to compare. */
#include "sample_room.h"
#include "parameters_rows.h"
#include "turnheat/harm.h"
#include "turnheat/winters.h"

#include "run_suite.h"

#define FIRST_YEAR 2010
#define F(difference) ((difference)*TH_K_PER_F)
#define YEARS 2

static struct th_climate climate;

static void make_climate(void)
{
    climate = sample_climate(FIRST_YEAR, YEARS + 1);
    ck_assert_ptr_nonnull(climate.hours);
}

static void free_climate(void)
{
    th_climate_finish(&climate);
}

static void hardships(const struct th_room *room, struct th_hardship of[YEARS])
{
    struct th_winters winters;
    struct th_error err = {0};
    ck_assert_msg(th_winters_run(&winters, room, &climate, FIRST_YEAR, FIRST_YEAR + YEARS - 1, NULL,
                                 &err) == TH_OK,
                  "%s", err.text);
    ck_assert_int_eq(winters.n_counted, YEARS);
    for (int i = 0; i < YEARS; i++)
        of[i] = th_hardship_of(&winters.seasons[i]);
    th_winters_finish(&winters);
}

static enum th_harm harm_on(const struct th_room *base, const struct th_room *changed)
{
    struct th_hardship now[YEARS], then[YEARS];
    hardships(base, now);
    hardships(changed, then);
    struct th_hardship added;
    return th_harm_between(now, then, YEARS, &added);
}

START_TEST(small_heaters_are_short_of_heat)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    ck_assert_int_eq(harm_on(&base, &room), TH_HARM_NONE);
    room.heaters[0].input_w = 60000.0 * TH_W_PER_BTUH;
    ck_assert_int_eq(harm_on(&base, &room), TH_HARM_HEAT);
}
END_TEST

/* A cooler room is a damper one too, so humidity is left out here. */
START_TEST(lower_set_points_are_colder)
{
    struct th_room base = sample_room(TH_ON_OFF);
    base.air.rh_limit = 1.0;
    struct th_room room = base;
    for (int i = 0; i < room.setpoints.set_c.n; i++)
        room.setpoints.set_c.y[i] -= F(2.0);
    ck_assert_int_eq(harm_on(&base, &room), TH_HARM_COLD);
    ck_assert_int_ne(harm_on(&room, &base), TH_HARM_COLD);
}
END_TEST

START_TEST(tighter_air_is_short_of_air)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    room.calibration.air_factor = 0.6;
    room.air.burner_air_m3_s_w = 0.0;
    ck_assert_int_eq(harm_on(&base, &room), TH_HARM_AIR);
}
END_TEST

/* Each limit, just within and just beyond. */
static const struct {
    struct th_hardship added;
    enum th_harm says;
} limits[] = {
    {{.unmet_h = 2.0}, TH_HARM_NONE},
    {{.unmet_h = 3.0}, TH_HARM_HEAT},
    {{.co2_h = 24.0}, TH_HARM_NONE},
    {{.co2_h = 25.0}, TH_HARM_AIR},
    {{.rh_h = 25.0}, TH_HARM_AIR},
    {{.worker_h = 1.0}, TH_HARM_AIR},
    {{.young_kh = 0.5}, TH_HARM_NONE},
    {{.young_kh = 0.6}, TH_HARM_COLD},
    {{.later_kh = 13.0}, TH_HARM_NONE},
    {{.later_kh = 14.0}, TH_HARM_COLD},
    {{.deep_h = 1.0}, TH_HARM_COLD},
    /* The first that holds. */
    {{.unmet_h = 3.0, .co2_h = 99.0, .deep_h = 9.0}, TH_HARM_HEAT},
    {{.co2_h = 99.0, .deep_h = 9.0}, TH_HARM_AIR},
};

START_TEST(limits_are_kept)
{
    const struct th_hardship none = {0};
    ck_assert_int_eq(th_harm_of(&limits[_i].added, &none), limits[_i].says);
}
END_TEST

/* A twentieth of what the pigs bear in the barn's worst winter is no harm; more is, in any winter,
   and a barn that bears none of it has nothing to waive. */
START_TEST(trifles_are_of_what_is_borne)
{
    const struct th_hardship base[2] = {
        {.unmet_h = 71.0, .worker_h = 60.0, .co2_h = 1000.0, .later_kh = 100.0},
        {.unmet_h = 20.0, .worker_h = 3.0, .co2_h = 900.0, .later_kh = 10.0}};
    struct th_hardship then[2] = {base[0], base[1]}, added;
    then[1].unmet_h += 3.0;
    then[1].worker_h += 2.0;
    then[0].co2_h += 49.0;
    then[0].later_kh += 13.0;
    ck_assert_int_eq(th_harm_between(base, then, 2, &added), TH_HARM_NONE);
    ck_assert_double_eq(added.unmet_h, 3.0);
    ck_assert_double_eq(added.worker_h, 2.0);
    then[1].worker_h += 2.0;
    ck_assert_int_eq(th_harm_between(base, then, 2, &added), TH_HARM_AIR);
    then[1].unmet_h += 1.0;
    ck_assert_int_eq(th_harm_between(base, then, 2, &added), TH_HARM_HEAT);
    const struct th_hardship sound[1] = {{0}}, one_hour[1] = {{.worker_h = 1.0}};
    ck_assert_int_eq(th_harm_between(sound, one_hour, 1, &added), TH_HARM_AIR);
}
END_TEST

/* The worst winter decides, and what one winter gains no other gives back. */
START_TEST(added_is_of_the_worst_winter)
{
    const struct th_hardship base[2] = {{.unmet_h = 10.0, .co2_h = 5.0}, {.unmet_h = 0.0}};
    const struct th_hardship then[2] = {{.unmet_h = 0.0, .co2_h = 4.0}, {.unmet_h = 4.0}};
    const struct th_hardship added = th_hardship_added(base, then, 2);
    ck_assert_double_eq(added.unmet_h, 4.0);
    ck_assert_double_eq(added.co2_h, 0.0);
}
END_TEST

static void air_80(struct th_room *r)
{
    r->air.minimum_share = 0.8;
}
static void air_table(struct th_room *r)
{
    r->air.minimum_m3_s.y[3] *= 0.9;
}
static void calibrated(struct th_room *r)
{
    r->calibration.air_factor = 0.9;
}
static void burner_air(struct th_room *r)
{
    r->air.burner_air_m3_s_w *= 0.5;
}
static void humid(struct th_room *r)
{
    r->air.rh_limit = 0.95;
}
static void co2(struct th_room *r)
{
    r->air.co2_design_ppm = 4000.0;
}
static void comfort(struct th_room *r)
{
    r->setpoints.comfort_c.y[0] -= 5.0;
}
static void one_room_more(struct th_room *r)
{
    r->copies = 2;
}
static void longer_study(struct th_room *r)
{
    r->money.years = 20;
}

static void heavier_pigs(struct th_room *r)
{
    r->turns[0].weight_kg *= 2.0;
}
static void drier_pigs(struct th_room *r)
{
    r->pigs.k_s = 1.0;
}
static void elsewhere(struct th_room *r)
{
    r->site.elevation_m += 500.0;
}
static void tighter_by_calibration(struct th_room *r)
{
    r->calibration.ua_factor = 0.9;
}

static void (*const refused[])(struct th_room *) = {air_80,
                                                    air_table,
                                                    calibrated,
                                                    burner_air,
                                                    humid,
                                                    co2,
                                                    comfort,
                                                    one_room_more,
                                                    longer_study,
                                                    heavier_pigs,
                                                    drier_pigs,
                                                    elsewhere,
                                                    tighter_by_calibration};

START_TEST(some_changes_are_refused)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    ck_assert_ptr_null(th_change_refused(&base, &room));
    refused[_i](&room);
    ck_assert_ptr_nonnull(th_change_refused(&base, &room));
}
END_TEST

static void more_air(struct th_room *r)
{
    r->air.minimum_share = 1.2;
}
static void finer_fans(struct th_room *r)
{
    r->air.floor_m3_s *= 0.5;
}
static void held_humidity(struct th_room *r)
{
    r->air.control_rh = true;
}
static void drier_feeders(struct th_room *r)
{
    r->pigs.spill_kg_day = 0.0;
}
static void warmer(struct th_room *r)
{
    r->setpoints.set_c.y[0] += 1.0;
}
static void dearer(struct th_room *r)
{
    r->fuel.has_price = true;
    r->fuel.price = 3.0;
}

static void (*const allowed[])(struct th_room *) = {more_air, finer_fans,    held_humidity,
                                                    warmer,   drier_feeders, dearer};

START_TEST(others_are_not)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    allowed[_i](&room);
    ck_assert_ptr_null(th_change_refused(&base, &room));
}
END_TEST

static void lead_lag(struct th_room *r)
{
    r->heaters[0].control = TH_LEAD_LAG;
}
static void lower_off(struct th_room *r)
{
    r->heaters[0].off_k += 0.1;
}
static void one_heater_more(struct th_room *r)
{
    r->heaters[r->n_heaters++] = r->heaters[0];
}
static void brooders(struct th_room *r)
{
    r->zone.on = true;
}
static void later_fans(struct th_room *r)
{
    r->air.ramp_start_k += 0.2;
}
static void setback(struct th_room *r)
{
    r->setpoints.setback_k = 1.0;
}
static void (*const heating[])(struct th_room *) = {
    lead_lag, lower_off, one_heater_more, brooders, later_fans, setback, held_humidity, warmer};

static void thicker(struct th_room *r)
{
    r->surfaces[0].r_m2k_w *= 2.0;
}
static void tighter(struct th_room *r)
{
    r->air.leak_cm2 *= 0.5;
}
static void (*const no_heating[])(struct th_room *) = {thicker,    tighter,       more_air,
                                                       finer_fans, drier_feeders, dearer};

START_TEST(what_changes_the_heating)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    ck_assert(!th_change_of_heating(&base, &room));
    heating[_i](&room);
    ck_assert(th_change_of_heating(&base, &room));
    ck_assert(th_change_of_heating(&room, &base));
}
END_TEST

START_TEST(what_leaves_it)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    struct th_room room = base;
    no_heating[_i](&room);
    ck_assert(!th_change_of_heating(&base, &room));
}
END_TEST

/* Another number at the row's place; false for names and the like. */
static bool nudge(const struct th_parameter *row, void *values)
{
    char *const place = (char *)values + row->offset;
    if (!row->has_place)
        return false;
    if (row->store == TH_STORE_NUMBER)
        *(double *)(void *)place = *(double *)(void *)place * 1.1 + 0.1;
    else if (row->store == TH_STORE_YES_NO)
        *(bool *)(void *)place = !*(bool *)(void *)place;
    else if (row->store == TH_STORE_WHOLE || row->store == TH_STORE_WORD)
        *(int *)(void *)place += 1;
    else
        return false;
    return true;
}

/* No key of heaters and brooders is forgotten. */
START_TEST(every_key_of_heat_changes_the_heating)
{
    struct th_room base = sample_room(TH_ON_OFF);
    base.zone.on = true;
    const struct th_parameters *const lists[] = {&th_parameters_heater, &th_parameters_zone};
    int nudged = 0;
    for (int l = 0; l < 2; l++)
        for (int i = 0; i < lists[l]->n; i++) {
            const struct th_parameter *const row = &lists[l]->rows[i];
            struct th_room room = base;
            if (!nudge(row, l == 0 ? (void *)&room.heaters[0] : (void *)&room))
                continue;
            nudged++;
            ck_assert_msg(th_change_of_heating(&base, &room), "%s.%s", lists[l]->section,
                          row->name);
        }
    ck_assert_int_gt(nudged, 20);
}
END_TEST

/* 3 × 225,000 Btu/h as they are. */
START_TEST(heaters_below_the_need)
{
    const struct th_room base = sample_room(TH_ON_OFF);
    const double now_w = 675000.0 * TH_W_PER_BTUH;
    struct th_room small = base;
    small.heaters[0].input_w *= 0.5;
    ck_assert(!th_heaters_fall_short(&base, 0.9 * now_w, &base, 0.9 * now_w));
    ck_assert(th_heaters_fall_short(&base, 0.9 * now_w, &small, 0.9 * now_w));
    ck_assert(!th_heaters_fall_short(&base, 0.4 * now_w, &small, 0.4 * now_w));
    /* Insulation in a barn short of heat already is no fault of its. */
    ck_assert(!th_heaters_fall_short(&base, 1.3 * now_w, &base, 1.2 * now_w));
}
END_TEST

#define COUNT(list) ((int)(sizeof(list) / sizeof((list)[0])))

int main(void)
{
    Suite *suite = suite_create("harm");
    TCase *tc = tcase_create("harm");
    tcase_set_timeout(tc, 60);
    tcase_add_unchecked_fixture(tc, make_climate, free_climate);
    tcase_add_test(tc, small_heaters_are_short_of_heat);
    tcase_add_test(tc, lower_set_points_are_colder);
    tcase_add_test(tc, tighter_air_is_short_of_air);
    tcase_add_loop_test(tc, limits_are_kept, 0, COUNT(limits));
    tcase_add_test(tc, added_is_of_the_worst_winter);
    tcase_add_test(tc, trifles_are_of_what_is_borne);
    tcase_add_loop_test(tc, some_changes_are_refused, 0, COUNT(refused));
    tcase_add_loop_test(tc, others_are_not, 0, COUNT(allowed));
    tcase_add_loop_test(tc, what_changes_the_heating, 0, COUNT(heating));
    tcase_add_loop_test(tc, what_leaves_it, 0, COUNT(no_heating));
    tcase_add_test(tc, every_key_of_heat_changes_the_heating);
    tcase_add_test(tc, heaters_below_the_need);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
