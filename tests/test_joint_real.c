/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What choices come to over all that is not known of a barn, by surfaces laid through a few runs,
 * held against the long way: every farm compared anew over whole real winters, the shifts of ON and
 * OFF searched for each. Needs the folder TURNHEAT_WEATHER. */
#include "turnheat/joint.h"
#include "sample_barn.h"

#include "run_suite.h"
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Farms compared anew. */
#define FARMS 24
/* The first of them among the Sobol points: those before it are the runs of the surfaces. */
#define FIRST_FARM TH_OUTLOOK_FEW_RUNS
#define ROOMS 3

static const char *const wanted[ROOMS] = {"as it is", "lead-lag", "modulating"};

/* The barn, one heater after the other, modulating. */
struct choices {
    struct th_room rooms[ROOMS];
    struct th_purchase buy[ROOMS];
};

static void read_choices(const char *path, struct choices *c)
{
    struct th_barn barn;
    struct th_issues issues = {0};
    ck_assert_int_eq(
        th_barn_read(NULL, path, "samples/thistle-hollow.farm", NULL, 0, &barn, &issues), TH_OK);
    c->rooms[0] = barn.room;
    for (int k = 1; k < ROOMS; k++)
        for (int i = 0; i < barn.n_choices; i++) {
            if (strcmp(barn.choices[i].name, wanted[k]) != 0)
                continue;
            c->buy[k] = th_pick_purchase(&barn.choices[i]);
            ck_assert_int_eq(th_barn_variant(&barn, TH_PICK_CHOICE, i, &c->rooms[k], &issues),
                             TH_OK);
        }
    th_issues_finish(&issues);
    th_barn_finish(&barn);
}

static void compare(const struct th_room rooms[ROOMS], const struct th_climate *climate,
                    struct th_choice_result found[ROOMS])
{
    struct th_runs runs;
    struct th_error err = {0};
    memset(found, 0, ROOMS * sizeof *found);
    th_runs_init(&runs, 2, NULL);
    const int base = th_runs_add(&runs, &rooms[0], climate, FIRST, LAST);
    ck_assert_int_eq(th_runs_do(&runs, "", &err), TH_OK);
    ck_assert_int_eq(th_runs_trial(&runs, base, &found[0].trial, &err), TH_OK);
    found[0].judged_by = TH_AS_SET;
    ck_assert_int_eq(th_compare_run(&runs, rooms, ROOMS, climate, FIRST, LAST, found, &err), TH_OK);
    th_runs_finish(&runs);
}

/* The long way: a farm's barn and choices compared as a barn file with those numbers would be. */
static void run_farm(const struct choices *c, const struct th_climate *climate, const double *z,
                     struct th_joint *full, size_t d)
{
    static struct th_choice_result anew[ROOMS];
    struct th_room moved[ROOMS];
    for (int k = 0; k < ROOMS; k++) {
        moved[k] = c->rooms[k];
        th_unknowns_move(&moved[k], z);
    }
    compare(moved, climate, anew);
    for (int k = 0; k < ROOMS; k++)
        full->units[k][d] =
            c->rooms[0].copies * th_trial_gas_j(th_judged(&anew[k])) / c->rooms[0].fuel.hhv_j;
}

/* The short way. */
static void read_farm(const struct choices *c, const struct th_beside *beside,
                      struct th_joint *fast, size_t d)
{
    double gas_j[ROOMS];
    struct th_error err;
    ck_assert_int_eq(th_beside_gas_j(beside, d, gas_j, &err), TH_OK);
    for (int k = 0; k < ROOMS; k++)
        fast->units[k][d] = c->rooms[0].copies * gas_j[k] / c->rooms[0].fuel.hhv_j;
}

/* Both ways for the same farms. */
static void run_farms(const struct choices *c, const struct th_climate *climate,
                      struct th_joint *fast, struct th_joint *full)
{
    static struct th_choice_result results[ROOMS];
    static struct th_beside beside;
    struct th_beside_room asked[ROOMS];
    struct th_gas_surface_run points[FIRST_FARM + FARMS];
    const struct th_case one = {
        .room = &c->rooms[0], .climate = climate, .first_year = FIRST, .last_year = LAST};
    struct th_runs runs;
    struct th_farms farms;
    struct th_error err = {0};
    compare(c->rooms, climate, results);
    th_runs_init(&runs, 2, NULL);
    ck_assert_int_eq(th_farms_init(&farms, &runs, &one, 1, 0, 0, NULL, &err), TH_OK);
    ck_assert(farms.drawn && !farms.learnt);
    for (int k = 0; k < ROOMS; k++) {
        asked[k] = (struct th_beside_room){.room = &c->rooms[k], .trial = th_judged(&results[k])};
        memcpy(asked[k].shift_k, results[k].shift_k, sizeof asked[k].shift_k);
    }
    ck_assert_int_eq(th_beside_init(&beside, &runs, &farms.outlook, 0, &one, asked, ROOMS, &err),
                     TH_OK);
    ck_assert_int_eq(th_gas_surface_points(&c->rooms[0], FIRST_FARM + FARMS,
                                           farms.outlook.n_winters, farms.outlook.barns[0].ln_y0,
                                           points, &err),
                     TH_OK);
    for (size_t d = 0; d < FARMS; d++) {
        const double *const z = points[FIRST_FARM + d].z;
        memcpy(farms.outlook.z + d * (size_t)farms.outlook.n_z, z, sizeof points[0].z);
        read_farm(c, &beside, fast, d);
        run_farm(c, climate, z, full, d);
    }
    printf("# a run left out is missed by %.1f %% of its gas (lead-lag), %.1f %% (modulating)\n",
           100.0 * beside.surfaces[1].surface.error, 100.0 * beside.surfaces[2].surface.error);
    th_beside_finish(&beside);
    th_farms_finish(&farms);
    th_runs_finish(&runs);
}

/* Whether half the farms save too little to tell by a choice. */
static bool hardly_saves(const struct th_joint *joint, int k)
{
    size_t n = 0;
    for (size_t d = 0; d < joint->n; d++)
        n += joint->units[0][d] - joint->units[k][d] < 0.01 * joint->units[0][d];
    return 2 * n >= joint->n;
}

static double mean_units(const struct th_joint *joint, int k)
{
    return gsl_stats_mean(joint->units[k], 1, joint->n);
}

/* Net savings and chance both ways: ends within 1.5 % of the fuel bill of the study, the chance
 * within 7 of 100 cases; 20 where half the farms save under 1 % of their gas, so that the sign is
 * chance. */
static void judge(const struct choices *c, int k, const struct th_joint *fast,
                  const struct th_joint *full)
{
    const struct th_study study = th_study_of(&c->rooms[0]);
    const struct th_outlay none = {0};
    struct th_outlay choice = {0};
    struct th_error err;
    struct th_net a = {0}, b = {0};
    double chance_a, chance_b;
    const double bill_usd =
        th_payback_fuel_upv(&study) * study.price_usd_unit * mean_units(full, 0);
    th_outlay_buy(&choice, c->rooms[0].copies, &c->buy[k], study.years);
    const struct th_joint_pair pair = {&study, &none, &choice, 0, k};
    ck_assert_int_eq(th_joint_weigh(fast, &pair, &a, &chance_a, &err), TH_OK);
    ck_assert_int_eq(th_joint_weigh(full, &pair, &b, &chance_b, &err), TH_OK);
    printf("# %s: $%.0f to $%.0f, pays in %.0f %%; the long way $%.0f to $%.0f, %.0f %%; ends off "
           "by %.1f and %.1f %% of the fuel\n",
           wanted[k], a.low_usd, a.high_usd, 100.0 * chance_a, b.low_usd, b.high_usd,
           100.0 * chance_b, 100.0 * (a.low_usd - b.low_usd) / bill_usd,
           100.0 * (a.high_usd - b.high_usd) / bill_usd);
    ck_assert_double_eq_tol(a.low_usd, b.low_usd, 0.015 * bill_usd);
    ck_assert_double_eq_tol(a.high_usd, b.high_usd, 0.015 * bill_usd);
    const double tolerance = hardly_saves(full, k) ? 0.20 : 0.07;
    ck_assert_double_eq_tol(chance_a, chance_b, tolerance);
}

static void check_room(int room, int station)
{
    static struct sample s;
    static struct choices c;
    static double fast_units[ROOMS][FARMS], full_units[ROOMS][FARMS];
    struct th_joint fast = {.n = FARMS}, full = {.n = FARMS};
    if (!open_sample(&s, room, station, "joint"))
        return;
    read_choices(files[room], &c);
    for (int k = 0; k < ROOMS; k++) {
        fast.units[k] = fast_units[k];
        full.units[k] = full_units[k];
    }
    printf("# %s, %s\n", names[room], cities[station]);
    run_farms(&c, &s.climate, &fast, &full);
    for (int k = 1; k < ROOMS; k++)
        judge(&c, k, &fast, &full);
    close_sample(&s);
}

START_TEST(curtain_at_omaha)
{
    check_room(0, 0);
}
END_TEST

START_TEST(solid_at_minneapolis)
{
    check_room(1, 1);
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {curtain_at_omaha, solid_at_minneapolis};
    return run_weather_suite("joint_real", tests, 2);
}
