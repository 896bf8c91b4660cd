/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines worked by hand in docs/theory.md against what the code gives: each number is computed,
 * written as the page writes it, and looked for in the *Worked:* paragraph of its section. */
#include "still_room.h"
#include "turnheat/air.h"
#include "turnheat/combustion.h"
#include "turnheat/envelope.h"
#include "turnheat/herd.h"
#include "turnheat/joint.h"
#include "turnheat/psychro.h"
#include "turnheat/sizing.h"
#include "turnheat/spread.h"
#include "turnheat/thousands.h"

#include "run_suite.h"
#include "three_farms.h"
#include <math.h>
#include <stdarg.h>
#include <string.h>

#define PAGE_MAX 65536
#define BTU_H(w) ((w) / TH_W_PER_BTUH)

static char page[PAGE_MAX];

static void read_page(void)
{
    FILE *const file = fopen("docs/theory.md", "r");
    ck_assert_ptr_nonnull(file);
    page[fread(page, 1, sizeof page - 1, file)] = '\0';
    fclose(file);
}

/* The worked paragraph under a heading, on one line; "" when there is none. */
static const char *worked(const char *heading)
{
    static char text[4096];
    char line[80];
    snprintf(line, sizeof line, "\n## %s\n", heading);
    const char *const section = strstr(page, line);
    ck_assert_msg(section != NULL, "no section %s", heading);
    const char *const end = strstr(section + 1, "\n## ");
    const char *const at = strstr(section, "*Worked:*");
    text[0] = '\0';
    if (!at || (end && at > end))
        return text;
    const char *const stop = strstr(at, "\n\n");
    const size_t n = stop ? (size_t)(stop - at) : strlen(at);
    ck_assert_uint_lt(n, sizeof text);
    memcpy(text, at, n);
    text[n] = '\0';
    for (char *c = text; *c; c++)
        *c = *c == '\n' ? ' ' : *c;
    return text;
}

/* What the format makes of the computed numbers must stand in that paragraph. */
static void shows(const char *heading, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static void shows(const char *heading, const char *format, ...)
{
    char wanted[160];
    va_list args;
    va_start(args, format);
    vsnprintf(wanted, sizeof wanted, format, args);
    va_end(args);
    ck_assert_msg(strstr(worked(heading), wanted) != NULL, "%s: computed \"%s\", the page has: %s",
                  heading, wanted, worked(heading));
}

START_TEST(every_section_is_worked)
{
    static const char *const by_table = "One winter hour worked by hand";
    char heading[80];
    int n = 0;
    for (const char *at = strstr(page, "\n## "); at; at = strstr(at + 1, "\n## "), n++) {
        snprintf(heading, sizeof heading, "%.*s", (int)strcspn(at + 4, "\n"), at + 4);
        if (strcmp(heading, by_table) != 0)
            ck_assert_msg(worked(heading)[0], "section %s has no worked line", heading);
    }
    ck_assert_int_eq(n, 13);
}
END_TEST

START_TEST(moist_air)
{
    const double volume = th_psy_volume(20.0, 0.007, 97000.0);
    shows("Moist air", "takes %.4f m³", volume);
    shows("Moist air", "= %.1f kW",
          (TH_PSY_CP_AIR + TH_PSY_CP_VAPOUR * 0.004) * 30.0 / volume / 1000.0);
    shows("Moist air", "(%s cfm)", th_whole(1.0 / TH_M3S_PER_CFM).text);
}
END_TEST

START_TEST(pigs)
{
    double sensible_w, latent_w;
    const double heat20_w = th_herd_heat20_w(30.0);
    th_herd_heat(heat20_w, 25.0, 0.85, &sensible_w, &latent_w);
    shows("Pigs", "n = %.3f", th_herd_intake_ratio(30.0));
    shows("Pigs", "= %.1f W, total %.1f, sensible %.1f, latent %.1f W, %.0f g of water an hour",
          heat20_w, sensible_w + latent_w, sensible_w, latent_w,
          latent_w / TH_HERD_LATENT_J_KG * 3.6e6);
}
END_TEST

START_TEST(air)
{
    const double leak_m3_s = th_air_leak_m3_s(4459.0, 2, 40.0, 4.5);
    const double at_75_lb = 75.0 * TH_KG_PER_LB;
    shows("Air", "lets in %.0f L/s", 1000.0 * leak_m3_s);
    shows("Air", "together %s L/s", th_whole(1000.0 * hypot(1.226, leak_m3_s)).text);
    shows("Air", "gives %.1f, the class %.0f cfm",
          th_table_at(th_air_minimum_smooth(), at_75_lb) / TH_M3S_PER_CFM,
          th_table_at(th_air_minimum_steps(), at_75_lb) / TH_M3S_PER_CFM);
}
END_TEST

START_TEST(shell)
{
    static const char *const heading = "Shell, attic, edge and floor";
    struct th_room room = still_room();
    struct th_fabric fabric;
    const double delta_k = th_envelope_attic_delta_k(0.0, 200.0, 800.0, 41.5);
    const double kept = th_envelope_loose_fill_factor(delta_k);
    shows(heading, "at %.1f K between room and attic it keeps %.4f of its R", delta_k, kept);
    shows(heading, "= %s W, which is what the roof takes at the other %.0f K",
          th_whole(200.0 * delta_k / kept).text, 41.5 - delta_k);
    room.shell.mass_j_m2k = 200e3;
    room.shell.mass_h_w_m2k = 6.0;
    th_fabric_init(&fabric, &room);
    shows(heading, "%.1f %% of the floor's distance", 100.0 * fabric.mass_keep);
    shows(heading, "sees %.2f W/m²K", fabric.mass_w_k / room.shell.floor_m2);
}
END_TEST

/* A balance of the plain room on its first day, outdoors as in still_room.h. */
static void balance_at(const struct th_room *room, double temp_c, double terms[TH_TERMS])
{
    struct th_engine engine;
    struct th_error err;
    struct th_climate_hour out;
    struct th_balance balance;
    ck_assert_int_eq(th_engine_init(&engine, room, &err), TH_OK);
    th_engine_still_hour(&engine, 0, 0, -20.0, 0.0, &out, &balance);
    out.w_kg_kg = 0.0;
    out.pressure_pa = 97000.0;
    th_balance_terms(&balance, temp_c, terms);
    th_engine_finish(&engine);
}

START_TEST(balance)
{
    static const char *const heading = "The balance of an hour";
    struct th_room room = still_room();
    double terms[TH_TERMS];
    room.turns[0].head = 1000.0;
    balance_at(&room, 20.0, terms);
    const double net_w = th_balance_net(terms);
    shows(heading, "Shell %s W", th_whole(terms[TH_TERM_SURFACE + TH_WALL]).text);
    shows(heading, "leaves %.4f kg/s of dry air", terms[TH_TERM_DRY_AIR]);
    shows(heading, "= %s W; pigs %s W. Net %s W", th_whole(terms[TH_TERM_AIR]).text,
          th_whole(terms[TH_TERM_PIGS]).text, th_whole(net_w).text);
    shows(heading, "/0.92077 = %s W of gas", th_whole(net_w / room.fuel.lhv_share).text);
}
END_TEST

START_TEST(zone_heat)
{
    static const char *const heading = "Zone heat";
    struct th_room room = still_room();
    double terms[TH_TERMS];
    room.zone.on = true;
    room.zone.units = 18.0;
    room.zone.days = 1000.0;
    room.zone.target_k_week = 0.0;
    balance_at(&room, th_c_from_f(75.0), terms);
    const double duty = terms[TH_TERM_ZONE_GAS] / (18.0 * room.zone.input_w);
    shows(heading, "brooders of %s Btu/h", th_whole(BTU_H(room.zone.input_w)).text);
    shows(heading, "= %.3f, gas", duty);
    shows(heading, "= %s Btu/h, of which", th_whole(BTU_H(terms[TH_TERM_ZONE_GAS])).text);
    shows(heading, "which %s warm",
          th_whole(100.0 * round(BTU_H(terms[TH_TERM_ZONE]) / 100.0)).text);
    shows(heading, "pigs feel %.1f °F", 75.0 + duty * room.zone.rise_k / TH_K_PER_F);
}
END_TEST

START_TEST(gas)
{
    const struct th_combustion propane = th_combustion_of(TH_PROPANE);
    const double btu_gal = propane.hhv_j / TH_J_PER_BTU;
    shows("Gas", "%.2f lb of water", propane.water_kg_j * propane.hhv_j / TH_KG_PER_LB);
    shows("Gas", "%.2f lb of CO₂", propane.co2_kg_j * propane.hhv_j / TH_KG_PER_LB);
    shows("Gas", "50,000/%s = %.3f gal", th_whole(btu_gal * propane.lhv_share).text,
          50000.0 / (btu_gal * propane.lhv_share));
}
END_TEST

START_TEST(turns)
{
    static const char *const heading = "Turns and seasons";
    struct th_room room = still_room();
    struct th_schedule schedule;
    struct th_error err;
    room.pigs.death_share = 0.055;
    room.turns[0].head = 1000.0;
    room.turns[0].days = 165;
    room.turns[0].n_leaves = 1;
    room.turns[0].leaves[0] = (struct th_leave){.day = 150, .share = 0.5};
    ck_assert_int_eq(th_schedule_init(&schedule, &room, &room.turns[0], &err), TH_OK);
    const double stay = schedule.days[150].head;
    shows(heading, "%.0f then, %.0f stay", 2.0 * stay, stay);
    /* Those sold at the end are all sold less those who left before. */
    shows(heading, "%.1f at the end, %.1f sold", schedule.head_sold - stay, schedule.head_sold);
    shows(heading, "%s hours, of which %.0f may", th_whole(24.0 * schedule.n + 48.0).text,
          floor(TH_FILLED_SHARE_MAX * (24.0 * schedule.n + 48.0)));
    th_schedule_finish(&schedule);
}
END_TEST

START_TEST(spread)
{
    const double gal[] = {4200.0, 4600.0, 5000.0, 5100.0, 5300.0,
                          5600.0, 5900.0, 6300.0, 6800.0, 8000.0};
    struct th_spread s;
    struct th_error err;
    ck_assert_int_eq(th_spread_of(10, gal, &s, &err), TH_OK);
    shows("Spread", "= %s gal; P50 is %s and P10 %s gal", th_whole(s.p90).text,
          th_whole(s.p50).text, th_whole(s.p10).text);
}
END_TEST

START_TEST(choices)
{
    static const char *const heading = "Choices over the same barns";
    double chance = 0.0;
    const struct th_net net = three_farms_net(&chance);
    shows(heading, "−$%s, 90 %% of barns below", th_whole(-net.low_usd).text);
    shows(heading, "$%s.", th_whole(net.high_usd).text);
    shows(heading, "%.0f of 15 cases", 15.0 * chance);
}
END_TEST

/* The most of a hardship that is no harm where the barn as it is bears so much of it. */
static double most_h(const struct th_hardship *worst, double *(*item)(struct th_hardship *))
{
    double low_h = 0.0, high_h = 100.0;
    while (high_h - low_h > 1e-6) {
        const double middle_h = 0.5 * (low_h + high_h);
        struct th_hardship added = {0};
        *item(&added) = middle_h;
        *(th_harm_of(&added, worst) == TH_HARM_NONE ? &low_h : &high_h) = middle_h;
    }
    return low_h;
}

static double *unmet(struct th_hardship *hardship)
{
    return &hardship->unmet_h;
}

static double *people(struct th_hardship *hardship)
{
    return &hardship->worker_h;
}

START_TEST(no_worse_off)
{
    const struct th_hardship worst = {.unmet_h = 71.0, .worker_h = 60.0}, none = {0};
    shows("No worse off", "up to %.2f and", most_h(&worst, unmet));
    shows("No worse off", "and %.0f more hours", most_h(&worst, people));
    ck_assert_double_lt(most_h(&none, people), 1.0);
    ck_assert_double_eq_tol(most_h(&none, unmet), 2.0, 1e-5);
}
END_TEST

START_TEST(sizing)
{
    struct th_room room = still_room();
    struct th_sizing s;
    struct th_error err;
    room.site.elevation_m = 0.0;
    room.setpoints.set_c = still_always(20.0);
    room.heaters[0].units = 3;
    room.heaters[0].input_w = 150000.0 * TH_W_PER_BTUH;
    ck_assert_int_eq(th_sizing_run(&room, -25.0, &s, &err), TH_OK);
    shows("Sizing", "= %s W, needed", th_whole(s.load_w).text);
    shows("Sizing", "= %s W or %s Btu/h", th_whole(10.0 * round(s.needed_w / 10.0)).text,
          th_whole(100.0 * round(BTU_H(s.needed_w) / 100.0)).text);
    shows("Sizing", "are %.2f times", th_sizing_installed_w(&room, NULL) / s.needed_w);
    shows("Sizing", "one out %.2f.", th_sizing_one_out_w(&room) / s.needed_w);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("theory");
    TCase *tc = tcase_create("theory");
    tcase_add_checked_fixture(tc, read_page, NULL);
    tcase_add_test(tc, every_section_is_worked);
    tcase_add_test(tc, moist_air);
    tcase_add_test(tc, pigs);
    tcase_add_test(tc, air);
    tcase_add_test(tc, shell);
    tcase_add_test(tc, balance);
    tcase_add_test(tc, zone_heat);
    tcase_add_test(tc, gas);
    tcase_add_test(tc, turns);
    tcase_add_test(tc, spread);
    tcase_add_test(tc, choices);
    tcase_add_test(tc, no_worse_off);
    tcase_add_test(tc, sizing);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
