/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the trade says, beside what the sample rooms give on real winters. Most rows are reports:
 * bands of plausibility on invented rooms, never tuned to. They need the folder TURNHEAT_WEATHER.
 */
#include "sample_barn.h"
#include "turnheat/compare.h"
#include "turnheat/cycle.h"
#include "turnheat/degree_days.h"
#include "turnheat/size.h"
#include "turnheat/units.h"

#include "run_suite.h"
#include "run_trial.h"
#include "validation/validate.h"
#include <math.h>

#define BASE_C ((65.0 - 32.0) * TH_K_PER_F)

static double mean_gal(const struct th_room *room, const struct th_climate *climate)
{
    struct th_trial trial;
    struct th_error err = {0};
    ck_assert_msg(run_trial(&trial, room, climate, FIRST, LAST, &err) == TH_OK, "%s", err.text);
    return th_trial_gas_j(&trial) / room->fuel.hhv_j;
}

/* C5: Iowa State PM 2089J, 2010: 10 % more air costs 27 % more fuel. Fails below 10 % (as asked of
 * this row), and if it costs no more in the tight room. */
START_TEST(ten_percent_more_air)
{
    double more[2];
    for (int i = 0; i < 2; i++) {
        struct sample s;
        char what[96];
        if (!open_sample(&s, i, 0, "C5"))
            return;
        const double now = mean_gal(&s.room, &s.climate);
        s.room.calibration.air_factor *= 1.1;
        more[i] = 100.0 * (mean_gal(&s.room, &s.climate) / now - 1.0);
        snprintf(what, sizeof what, "10 %% more air, winter turn, %s room, Omaha", names[i]);
        validate("C5", VALIDATE_REPORT, "Iowa State PM 2089J, 2010", what, 27.0, more[i], 0.0, "%");
        close_sample(&s);
    }
    ck_assert_double_ge(more[0], 10.0);
    ck_assert_double_gt(more[1], more[0]);
}
END_TEST

/* C6: Iowa State simulation, trade press about 2008; its envelopes were not published. */
START_TEST(one_january_week)
{
    static const struct {
        const char *path, *name;
        double gal; /* as quoted */
    } rooms[] = {{"samples/curtain.barn", "curtain room", 440.0},
                 {"samples/nursery.barn", "nursery off a hallway", 200.0}};
    const double head = 1000.0, floor_cfm = 2.0;
    struct sample s;
    struct th_engine engine;
    struct th_hour_out hour;
    struct th_error err;
    char what[128];
    read_room(&s, rooms[_i].path);
    const double rooms_wanted = _i == 0 ? 1.0 : head / s.room.turns[0].head;
    s.room.turns[0].head = head / rooms_wanted;
    s.room.turns[0].weight_kg = 15.0 * TH_KG_PER_LB;
    s.room.air.floor_m3_s = floor_cfm * s.room.turns[0].head * TH_M3S_PER_CFM;
    s.room.setpoints.set_c = (struct th_table){.n = 1, .x = {0.0}, .y = {th_c_from_f(85.0)}};
    ck_assert_int_eq(th_engine_init(&engine, &s.room, &err), TH_OK);
    ck_assert_int_eq(th_sizing_hour(&engine, 0, 0, th_c_from_f(18.5), &hour, &err), TH_OK);
    snprintf(what, sizeof what, "a week at 18.5 °F, 1,000 pigs of 15 lb at 85 °F, %s",
             rooms[_i].name);
    validate("C6", VALIDATE_REPORT,
             "Iowa State simulation as quoted in the trade press about 2008, second-hand", what,
             rooms[_i].gal, rooms_wanted * hour.gas_w * 168.0 * 3600.0 / s.room.fuel.hhv_j, 0.0,
             "gal");
    th_engine_finish(&engine);
}
END_TEST

/* F1: Iowa State PM 2089J 2010; PM 3063E 2016 (second-hand). */
START_TEST(gallons_a_space)
{
    static const double benchmark[] = {3.0, 2.0};
    for (int i = 0; i < 2; i++) {
        struct sample s;
        char what[96];
        if (!open_sample(&s, i, 0, "F1"))
            return;
        snprintf(what, sizeof what, "winter turn alone, gal a space, %s room, Omaha", names[i]);
        const double gal = mean_gal(&s.room, &s.climate) / s.room.spaces;
        validate("F1", VALIDATE_REPORT, "Iowa State PM 2089J 2010; PM 3063E 2016 (second-hand)",
                 what, benchmark[i], gal, 0.0, "gal");
        ck_assert_double_lt(gal, 6.0);
        close_sample(&s);
    }
}
END_TEST

/* E3: extension columns 2011–2013, anecdotal: OFF about 2 °F below set. */
START_TEST(cheapest_settings)
{
    static const double design_f[] = {-0.8, -7.6};
    const int room = _i / 2, station = _i % 2;
    struct sample s;
    struct th_free_choice choice;
    struct th_runs runs;
    struct th_error err;
    char what[128];
    if (!open_sample(&s, room, station, "E3"))
        return;
    th_runs_init(&runs, 2, NULL);
    ck_assert_int_eq(th_free_choice_find(&runs, &s.room, &s.climate, FIRST,
                                         th_c_from_f(design_f[station]), &choice, &err),
                     TH_OK);
    th_runs_finish(&runs);
    ck_assert(choice.found);
    snprintf(what, sizeof what,
             "OFF below set of the cheapest settings inside the comfort floor, %s room, %s",
             names[room], cities[station]);
    validate("E3", VALIDATE_REPORT, "extension columns 2011-2013, anecdotal", what, 2.0,
             choice.off_k / TH_K_PER_F, 0.0, "°F");
    close_sample(&s);
}
END_TEST

/* E3: extension columns 2011–2013, anecdotal: oversized rooms swing 6–8 °F. */
START_TEST(swing_of_an_oversized_room)
{
    struct th_error err;
    const struct th_cycle_in oversized = {.on_c = 20.0,
                                          .off_c = 20.0 + TH_K_PER_F,
                                          .free_c = 20.0 - 200e3 / 3000.0 * TH_K_PER_F,
                                          .ua_w_k = 3000.0 * TH_UA_SI_PER_US,
                                          .heat_w = 675e3 * TH_W_PER_BTUH,
                                          .capacity_j_k = 2650.0 * TH_J_PER_BTU / TH_K_PER_F,
                                          .dead_time_s = 90.0,
                                          .ramp_c = 20.0 + TH_K_PER_F,
                                          .ramp_band_k = 2.0 * TH_K_PER_F,
                                          .ramp_w_k = 1.08 * 600.0 * 80.0 * TH_UA_SI_PER_US};
    struct th_cycle cycle;
    ck_assert_int_eq(th_cycle_solve(&oversized, &cycle, &err), TH_OK);
    validate("E3", VALIDATE_REPORT, "extension columns 2011-2013, anecdotal",
             "swing of 675,000 Btu/h on a load of 200,000", 7.0,
             (cycle.high_c - cycle.low_c) / TH_K_PER_F, 0.0, "°F");
}
END_TEST

static void set_zone(struct th_room *room, double share)
{
    room->zone.on = share > 0.0;
    room->zone.units =
        share > 0.0 ? ceil(share * room->turns[0].head / room->zone.pigs_per_unit) : 0.0;
}

/* Saving of modulating heat at the same settings, gallons of a mean winter, one room. */
static double modulating_saves(const struct sample *s, double zone_share, double off_f,
                               enum th_response_case response)
{
    struct th_room base = s->room;
    set_zone(&base, zone_share);
    th_room_shift_offsets(&base, base.heaters[0].off_k - off_f * TH_K_PER_F);
    th_response_apply(&base, response);
    struct th_room other = base;
    other.heaters[0].control = TH_MODULATING;
    other.heaters[0].turndown = 0.2;
    return mean_gal(&base, &s->climate) - mean_gal(&other, &s->climate);
}

/* E4: common practice, no source: little gain in tight solid-sided rooms, more in curtain-sided. */
START_TEST(variable_output_gains)
{
    static const double zone[] = {0.0, 0.5, 1.0};
    static const char *const zone_names[] = {"no", "half", "full"};
    static const enum th_response_case cases[] = {TH_OVERSHOOT_HALF, TH_AS_GIVEN,
                                                  TH_OVERSHOOT_TWICE};
    static const char *const case_names[] = {"half", "as given", "twice"};
    for (int station = 0; station < 2; station++)
        for (int i = 0; i < 2; i++) {
            struct sample s;
            if (!open_sample(&s, i, station, "E4"))
                return;
            for (int z = 0; z < 3; z++)
                for (int off = 1; off <= 2; off++)
                    for (int r = 0; r < 3; r++) {
                        char what[160];
                        /* The range of overshoot only where the page needs it. */
                        if (cases[r] != TH_AS_GIVEN && (z > 0 || off > 1))
                            continue;
                        snprintf(what, sizeof what,
                                 "%s, %s room, %s zone heat, OFF %d °F under, overshoot %s: "
                                 "modulating saves",
                                 cities[station], names[i], zone_names[z], off, case_names[r]);
                        validate("E4", VALIDATE_REPORT, "common practice, no source", what, NAN,
                                 modulating_saves(&s, zone[z], off, cases[r]), 0.0, "gal");
                    }
            close_sample(&s);
        }
}
END_TEST

/* E5: common practice, no source: three room heaters of 250,000 Btu/h per wean-to-finish room. */
START_TEST(three_heaters_are_usual)
{
    static const struct {
        const char *name;
        double out_f;
    } places[] = {{"Des Moines", -1.7}, {"Minneapolis", -7.6}, {"Raleigh", 23.0}};
    for (int i = 0; i < 2; i++)
        for (int p = 0; p < 3; p++) {
            struct sample s;
            struct th_sizing sizing;
            struct th_error err;
            char what[128];
            read_room(&s, files[i]);
            ck_assert_int_eq(th_sizing_run(&s.room, th_c_from_f(places[p].out_f), &sizing, &err),
                             TH_OK);
            snprintf(what, sizeof what, "%s room, 99 %% day of %s (%.1f °F): input needed",
                     names[i], places[p].name, places[p].out_f);
            validate("E5", VALIDATE_REPORT, "common practice, no source", what, 750000.0,
                     sizing.needed_w / TH_W_PER_BTUH, 0.0, "Btu/h");
        }
}
END_TEST

/* The sample rooms' heaters are drawn from their need with the weather the samples name: installed
 * within the recommended ratio, and with one unit out new pigs are still held. The recommended
 * ratio is common practice, no source. */
START_TEST(sample_heaters_follow_the_need)
{
    const char *path = "weather/demo-omaha.csv";
    const struct th_weather_options none = {0};
    struct sample s;
    struct th_runs runs;
    struct th_size *size = malloc(sizeof *size);
    struct th_error err = {0};
    ck_assert_ptr_nonnull(size);
    read_room(&s, files[_i]);
    ck_assert_int_eq(th_weather_read(NULL, &path, 1, &none, &s.weather, &err), TH_OK);
    ck_assert_int_eq(th_climate_init(&s.climate, &s.weather, s.room.site.elevation_m, -6.0, &err),
                     TH_OK);
    const int year = 2101;
    const struct th_case one = {.room = &s.room,
                                .weather = &s.weather,
                                .climate = &s.climate,
                                .first_year = year,
                                .last_year = year};
    th_runs_init(&runs, 1, NULL);
    ck_assert_msg(th_size_run(&runs, &one, size, &err) == TH_OK, "%s", err.text);
    const double ratio = size->installed_w / size->worst.most_w;
    ck_assert_double_ge(ratio, TH_SIZE_RATIO_LOW);
    ck_assert_double_le(ratio, TH_SIZE_RATIO_HIGH);
    ck_assert_double_ge(size->one_out_w, size->worst.needed_w);
    th_runs_finish(&runs);
    free(size);
    close_sample(&s);
}
END_TEST

/* G1: degree-days of the station files, computed by another program; ± 0.2. */
START_TEST(degree_days_of_the_stations)
{
    static const double expected[2][2] = {{6256.9, 6649.5}, {7686.2, 8118.5}};
    for (int station = 0; station < 2; station++) {
        struct sample s;
        if (!open_sample(&s, 0, station, "G1"))
            return;
        for (int y = 0; y < 2; y++) {
            const long first = 24 * th_day_number(FIRST + y, 7, 1);
            const long hours = 24 * th_day_number(FIRST + y + 1, 7, 1) - first;
            char what[96];
            snprintf(what, sizeof what, "degree-days by hour, base 65 °F, %s %d-%d",
                     cities[station], FIRST + y, (FIRST + y + 1) % 100);
            validate("G1", VALIDATE_CHECK, "NOAA ISD-Lite, summed by another program", what,
                     expected[station][y],
                     th_degree_days_count(&s.climate, first, hours, BASE_C).hourly_k_d / TH_K_PER_F,
                     0.2, "°F d");
        }
        close_sample(&s);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("trade_facts");
    TCase *tc = tcase_create("trade_facts");
    tcase_set_timeout(tc, 100);
    tcase_add_test(tc, ten_percent_more_air);
    tcase_add_loop_test(tc, one_january_week, 0, 2);
    tcase_add_test(tc, gallons_a_space);
    tcase_add_loop_test(tc, cheapest_settings, 0, 4);
    tcase_add_test(tc, swing_of_an_oversized_room);
    tcase_add_test(tc, variable_output_gains);
    tcase_add_test(tc, three_heaters_are_usual);
    tcase_add_loop_test(tc, sample_heaters_follow_the_need, 0, 2);
    tcase_add_test(tc, degree_days_of_the_stations);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
