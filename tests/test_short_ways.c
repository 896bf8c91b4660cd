/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of a room found by every fifth or third hour, held against all hours. */
#include "barn.h"
#include "normals_read.h"
#include "quote_parts.h"
#include "turnheat/costs.h"
#include "turnheat/runs.h"

#include "run_suite.h"
#include <math.h>

#define WINTERS 20
#define YEAR TH_NORMAL_FIRST_YEAR
#define LAST (YEAR + WINTERS - 1)

static struct th_room room;
static struct th_climate climate;
static struct th_weather weather;
static struct th_runs runs;

/* The room on generated winters of Omaha, warmer by so much. */
static void open_warmer(const char *path, double warmer_k)
{
    struct th_normals normals;
    struct th_barn barn;
    struct th_issues issues = {0};
    struct th_error err = {0};
    ck_assert_int_eq(
        th_barn_read(NULL, path, "samples/thistle-hollow.farm", NULL, 0, &barn, &issues), TH_OK);
    room = barn.room;
    th_issues_finish(&issues);
    th_barn_finish(&barn);
    ck_assert_int_eq(th_normals_read(NULL, "weather/omaha.csv", &normals, &err), TH_OK);
    for (int m = 0; m < 12; m++) {
        normals.month[m].mean_c += warmer_k;
        normals.month[m].dew_c += warmer_k;
    }
    ck_assert_int_eq(th_normals_generate(&normals, WINTERS, 1, &weather, &err), TH_OK);
    ck_assert_int_eq(th_climate_init(&climate, &weather, room.site.elevation_m, -6.0, &err), TH_OK);
    th_runs_init(&runs, 2, NULL);
}

static void open_room(const char *path)
{
    open_warmer(path, 0.0);
}

static void close_room(void)
{
    th_runs_finish(&runs);
    th_climate_finish(&climate);
    th_weather_finish(&weather);
}

static double gas_j(int request)
{
    struct th_error err;
    double found_j = 0.0;
    ck_assert_int_eq(th_runs_gas(&runs, request, &found_j, &err), TH_OK);
    return found_j;
}

static int ask(const struct th_room *asked)
{
    return th_runs_add(&runs, asked, &climate, YEAR, LAST);
}

/* Every cost by a fifth of the hours of all winters: within this share of the gas, or of the cost.
 */
static void check_roughly(double of_gas, double of_cost)
{
    struct th_error err;
    struct th_cost_asked rough[TH_COST_COUNT];
    int full[TH_COST_COUNT];
    double sign[TH_COST_COUNT];
    const int now = ask(&room);
    for (int kind = 0; kind < TH_COST_COUNT; kind++) {
        struct th_room other = room;
        sign[kind] = th_cost_apply(&other, (enum th_cost_kind)kind);
        full[kind] = ask(&other);
        th_cost_ask(&runs, &room, &climate, YEAR, LAST, (enum th_cost_kind)kind, &rough[kind]);
    }
    ck_assert_int_eq(th_runs_do(&runs, "", &err), TH_OK);
    for (int kind = 0; kind < TH_COST_COUNT; kind++) {
        const double cost = sign[kind] * (gas_j(full[kind]) / gas_j(now) - 1.0);
        double roughly;
        ck_assert_int_eq(th_cost_read(&runs, &rough[kind], 1.0, &roughly, &err), TH_OK);
        printf("# %s: %.2f %% of the gas, by every fifth hour %+.3f %% more\n",
               th_cost_text((enum th_cost_kind)kind), 100.0 * cost, 100.0 * (roughly - cost));
        ck_assert_double_eq_tol(roughly, cost, of_gas + of_cost * fabs(cost));
    }
}

START_TEST(every_fifth_hour_in_a_curtain_room)
{
    open_room("samples/curtain.barn");
    check_roughly(0.001, 0.01);
    close_room();
}
END_TEST

START_TEST(every_fifth_hour_in_a_tight_room)
{
    open_room("samples/solid.barn");
    check_roughly(0.0025, 0.01);
    close_room();
}
END_TEST

/* What a builder may offer, one thing a bit. */
enum { CEILING, WALLS, SEALS, EDGE, FANS, ONE_AFTER_ANOTHER, LOWER_OFF, OFFERED };

static enum th_code build(void *context, unsigned set, struct th_room *with, struct th_error *err)
{
    (void)err;
    *with = *(const struct th_room *)context;
    for (int i = 0; i < with->n_surfaces; i++)
        if (set & 1u << (with->surfaces[i].kind == TH_CEILING ? CEILING : WALLS))
            with->surfaces[i].r_m2k_w *= 1.4;
    if (set & 1u << SEALS)
        th_room_leak(with, 0.5);
    if (set & 1u << EDGE)
        with->shell.edge_f_w_mk *= 0.6;
    if (set & 1u << FANS)
        with->air.floor_m3_s *= 0.5;
    for (int i = 0; i < with->n_heaters && set & 1u << ONE_AFTER_ANOTHER; i++)
        with->heaters[i].control = TH_LEAD_LAG;
    if (set & 1u << LOWER_OFF)
        th_room_shift_offsets(with, -0.5);
    return TH_OK;
}

/* The least that the room may burn with an option, as `quote` sees it at a glance, is no more than
 * it burns, and no less than twice the margin allows: 0.6 % of all and a tenth of what is saved. */
static void check_glance(bool ceilings_held)
{
    static struct th_candidate now, glanced, whole;
    struct th_error err;
    room.air.control_rh = room.air.control_co2 = ceilings_held;
    const struct th_case one = {
        .room = &room, .climate = &climate, .first_year = YEAR, .last_year = LAST};
    const struct th_quote_in in = {
        .base = &one, .n = OFFERED, .out_99_c = -20.0, .build = build, .context = &room};
    struct th_quote_tries tries = {.in = &in};
    th_runs_init(&tries.runs, 2, NULL);
    now.set = 0;
    ck_assert_int_eq(th_quote_try(&tries, &(struct th_candidate *){&now}, 1, &err), TH_OK);
    for (int i = 0; i < OFFERED; i++) {
        glanced.set = whole.set = 1u << i;
        ck_assert_int_eq(th_quote_glance(&tries, &now, &(struct th_candidate *){&glanced}, 1, &err),
                         TH_OK);
        ck_assert_int_eq(th_quote_try(&tries, &(struct th_candidate *){&whole}, 1, &err), TH_OK);
        ck_assert(!glanced.whole && whole.whole);
        const double saved_j = now.gas_j - whole.gas_j;
        printf("# option %d: %.2f %% of the gas, at a glance up to %.2f %%\n", i,
               100.0 * saved_j / now.gas_j, 100.0 * (1.0 - glanced.gas_j / now.gas_j));
        ck_assert_double_le(glanced.gas_j, whole.gas_j);
        ck_assert_double_le(whole.gas_j - glanced.gas_j, 0.006 * now.gas_j + 0.1 * fabs(saved_j));
        ck_assert_double_le(glanced.electricity_j, whole.electricity_j);
    }
    th_runs_finish(&tries.runs);
}

START_TEST(options_at_a_glance)
{
    static const char *const paths[] = {"samples/curtain.barn", "samples/solid.barn",
                                        "samples/nursery.barn"};
    open_warmer(paths[_i / 2], _i % 2 ? 9.0 : 0.0);
    check_glance(false);
    check_glance(true);
    close_room();
}
END_TEST

/* What zone heaters, more of them each time, do by a third of the hours of five winters. */
START_TEST(every_third_hour_of_five_winters)
{
    enum { STEPS = 4 };
    int full[STEPS], third[STEPS];
    struct th_error err;
    open_room("samples/curtain.barn");
    for (int i = 0; i < STEPS; i++) {
        struct th_room other = room;
        other.zone.on = i > 0;
        other.zone.units = 6.0 * i;
        full[i] = th_runs_add(&runs, &other, &climate, YEAR + 6, YEAR + 10);
        other.solve_every_h = 3;
        third[i] = th_runs_add(&runs, &other, &climate, YEAR + 6, YEAR + 10);
    }
    ck_assert_int_eq(th_runs_do(&runs, "", &err), TH_OK);
    for (int i = 1; i < STEPS; i++) {
        const double wanted = gas_j(full[i]) / gas_j(full[0]) - 1.0;
        const double roughly = gas_j(third[i]) / gas_j(third[0]) - 1.0;
        printf("# %d zone heaters: %+.2f %% of the gas, by every third hour %+.3f %% more\n", 6 * i,
               100.0 * wanted, 100.0 * (roughly - wanted));
        ck_assert_double_ne(roughly, 0.0);
        ck_assert_double_eq_tol(roughly, wanted, 0.001);
    }
    close_room();
}
END_TEST

/* Ways to heat the room otherwise; with the last its pilots warm it all the time. */
enum { SEVERAL_STAGES, MODULATING, LOWER, WARMER, SLOW, PILOTS, OTHERWISE };

static void heat_otherwise(struct th_room *with, int how)
{
    for (int i = 0; i < with->n_heaters; i++) {
        struct th_heater *heater = &with->heaters[i];
        if (how == SEVERAL_STAGES)
            heater->control = TH_LEAD_LAG;
        if (how == MODULATING) {
            heater->control = TH_MODULATING;
            heater->turndown = th_heater_turndown(TH_MODULATING);
        }
        heater->pilot = how == PILOTS ? TH_PILOT_TURN : heater->pilot;
        heater->pilot_w = how == PILOTS ? 300.0 : heater->pilot_w;
    }
    if (how == LOWER || how == WARMER)
        th_room_shift_offsets(with, how == LOWER ? -1.0 : 0.5);
    with->response.factor *= how == SLOW ? 2.0 : 1.0;
}

static void count_hour(void *context, int turn, long hour, const struct th_hour_in *in,
                       const struct th_hour_out *out)
{
    (void)turn, (void)hour, (void)in, (void)out;
    ++*(long *)context;
}

/* Five winters of the room heated otherwise; returns the hours solved. */
static long run_watched(struct th_runs *list, const struct th_room *with, struct th_trial *trial)
{
    long seen[5] = {0}, sum = 0;
    struct th_error err;
    const struct th_watch_seasons watch = {
        .watch = {count_hour, seen}, .stride = sizeof seen[0], .only_heated = true};
    const int request = th_runs_add_watched(list, with, &climate, YEAR, YEAR + 4, &watch);
    ck_assert_int_eq(th_runs_do(list, "", &err), TH_OK);
    ck_assert_int_eq(th_runs_trial(list, request, trial, &err), TH_OK);
    for (int i = 0; i < 5; i++)
        sum += seen[i];
    return sum;
}

/* Every sum and extreme within a millionth, joules of what the pigs give off. */
static void check_same(const struct th_trial *a, const struct th_trial *b)
{
    const double *of_a = a->mean.sum, *of_b = b->mean.sum;
    for (int i = 0; i < TH_TALLY_COUNT; i++) {
        const bool heat = i >= TH_TO_WALLS && i < TH_HEATER_HOURS;
        const double of = heat ? of_b[TH_FROM_PIGS] : fabs(of_b[i]) + 1.0;
        ck_assert_double_eq_tol(of_a[i], of_b[i], 1e-6 * of);
    }
    for (int i = 0; i < a->n; i++)
        ck_assert_double_eq_tol(a->gas_j[i] / b->gas_j[i], 1.0, 1e-7);
    ck_assert_double_eq_tol(a->mean.lowest_c, b->mean.lowest_c, 1e-4);
    ck_assert_double_eq_tol(a->mean.highest_rh, b->mean.highest_rh, 1e-6);
    ck_assert_int_eq(a->mean.peak_hour, b->mean.peak_hour);
}

START_TEST(hours_without_heat_are_taken_over)
{
    static const char *const paths[] = {"samples/curtain.barn", "samples/solid.barn",
                                        "samples/nursery.barn"};
    static struct th_trial following, by_itself;
    struct th_runs alone;
    open_room(paths[_i % 3]);
    room.solve_every_h = _i < 3 ? 1 : 3;
    th_runs_init(&alone, 1, NULL);
    const int barn = ask(&room);
    th_runs_lead(&runs, barn);
    for (int how = 0; how < OTHERWISE; how++) {
        struct th_room with = room;
        heat_otherwise(&with, how);
        const long solved = run_watched(&runs, &with, &following);
        const long all = run_watched(&alone, &with, &by_itself);
        printf("# %s, heated otherwise %d: %.0f %% of the hours taken over\n", paths[_i % 3], how,
               100.0 * (1.0 - (double)solved / (double)all));
        check_same(&following, &by_itself);
        if (how == PILOTS)
            ck_assert_int_eq(solved, all);
        else
            ck_assert_int_lt(solved, all);
    }
    ck_assert_double_gt(gas_j(barn), 0.0);
    th_runs_finish(&alone);
    close_room();
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("short_ways");
    TCase *tc = tcase_create("short_ways");
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, every_fifth_hour_in_a_curtain_room);
    tcase_add_test(tc, every_fifth_hour_in_a_tight_room);
    tcase_add_test(tc, every_third_hour_of_five_winters);
    tcase_add_loop_test(tc, options_at_a_glance, 0, 5);
    tcase_add_loop_test(tc, hours_without_heat_are_taken_over, 0, 4);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
