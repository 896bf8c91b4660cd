/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two barns side by side: who burns less, what that is worth, and when it is no saving. */
#include "display.h"
#include "rendered.h"
#include "report_doc.h"
#include "sample_room.h"
#include "side_by_side_report.h"
#include "turnheat/side_by_side.h"

#include "run_suite.h"
#include <math.h>
#include <string.h>

#define FIRST_YEAR 2010
#define WINTERS 2
#define PRICE_USD 2.0
#define YEARS 10
#define DISCOUNT 0.05

static struct th_climate climate;
static struct th_weather weather;
static struct th_room rooms[2];
static struct th_side_by_side *both;

/* The second barn is the first with half the heat loss and dearer to build. */
static void make_barns(void)
{
    climate = sample_climate(FIRST_YEAR, WINTERS);
    both = malloc(sizeof *both);
    ck_assert(climate.hours && both);
    for (int i = 0; i < 2; i++) {
        rooms[i] = sample_room(TH_ON_OFF);
        snprintf(rooms[i].name, sizeof rooms[i].name, i == 0 ? "plain" : "tight");
        rooms[i].turns[0].days = 40;
        rooms[i].fuel.has_price = true;
        rooms[i].fuel.price = PRICE_USD;
        rooms[i].money.years = YEARS;
        rooms[i].money.discount = DISCOUNT;
        rooms[i].money.electricity_j = 0.0;
        rooms[i].money.first_life_years = YEARS;
        for (int s = 0; i == 1 && s < rooms[i].n_surfaces; s++)
            rooms[i].surfaces[s].r_m2k_w *= 2.0;
    }
}

static void free_barns(void)
{
    free(both);
    th_climate_finish(&climate);
}

static void compare(void)
{
    static struct th_case cases[2]; /* borrowed by `both` */
    struct th_runs runs;
    struct th_error err = {0};
    for (int i = 0; i < 2; i++)
        cases[i] = (struct th_case){.room = &rooms[i],
                                    .weather = &weather,
                                    .climate = &climate,
                                    .first_year = FIRST_YEAR,
                                    .last_year = FIRST_YEAR + WINTERS - 1};
    th_runs_init(&runs, 2, NULL);
    ck_assert_msg(th_side_by_side_run(both, &runs, cases, &err) == TH_OK, "%s", err.text);
    th_runs_finish(&runs);
}

/* By hand: the difference of two runs, and its worth with the factor of NIST Handbook 135. */
START_TEST(the_barn_that_burns_less_is_worth_its_fuel)
{
    compare();
    ck_assert_int_eq(both->saver, 1);
    ck_assert_int_eq(both->n_winters, WINTERS);
    ck_assert(both->harm == TH_HARM_NONE && both->same_gas && both->has_money && !both->has_first);
    const double gal[2] = {th_trial_gas_j(&both->sides[0].trial) / rooms[0].fuel.hhv_j,
                           th_trial_gas_j(&both->sides[1].trial) / rooms[1].fuel.hhv_j};
    ck_assert_double_eq_tol(both->saved_units, gal[0] - gal[1], 1e-6 * gal[0]);
    const double upv = (1.0 - pow(1.0 + DISCOUNT, -YEARS)) / DISCOUNT;
    ck_assert_double_eq_tol(both->worth_usd, upv * PRICE_USD * (gal[0] - gal[1]),
                            1e-6 * both->worth_usd);
    ck_assert_double_lt(both->saved_low_units, both->saved_high_units);
    ck_assert_double_gt(both->saved_low_units, 0.0);
    ck_assert_double_lt(both->worth_low_usd, both->worth_usd);
    ck_assert_double_gt(both->worth_high_usd, both->worth_usd);
}
END_TEST

/* The order of the two changes nothing but the places. */
START_TEST(either_may_come_first)
{
    compare();
    const double saved = both->saved_units, worth = both->worth_usd;
    const struct th_room plain = rooms[0];
    rooms[0] = rooms[1];
    rooms[1] = plain;
    compare();
    ck_assert_int_eq(both->saver, 0);
    ck_assert_double_eq_tol(both->saved_units, saved, 1e-9 * saved);
    ck_assert_double_eq_tol(both->worth_usd, worth, 1e-9 * worth);
}
END_TEST

START_TEST(first_costs_decide_who_pays)
{
    compare();
    const double worth = both->worth_usd;
    rooms[0].money.first_cost_usd = 100000.0;
    rooms[1].money.first_cost_usd = 100000.0 + 0.5 * worth;
    compare();
    ck_assert(both->has_first);
    ck_assert_double_eq_tol(both->extra_usd, 0.5 * worth, 1e-6 * worth);
    ck_assert_double_eq_tol(both->payback.net_usd, 0.5 * worth, 1e-6 * worth);
    ck_assert_double_gt(both->chance, 0.5);
    rooms[1].money.first_cost_usd = 100000.0 + 2.0 * worth;
    compare();
    ck_assert_double_eq_tol(both->payback.net_usd, -worth, 1e-6 * worth);
    ck_assert_double_lt(both->chance, 0.5);
    /* A building that lasts twice as long as the study keeps half of its cost. */
    rooms[0].money.first_life_years = rooms[1].money.first_life_years = 2.0 * YEARS;
    compare();
    const double kept = 0.5 * 2.0 * worth * pow(1.0 + DISCOUNT, -YEARS);
    ck_assert_double_eq_tol(both->payback.net_usd, kept - worth, 1e-6 * worth);
}
END_TEST

/* The figure whose values are in `unit`. */
static const struct drawing *figure_in(const struct th_report *report, const char *unit)
{
    for (const struct block *b = report->first; b; b = b->next)
        if (b->kind == BLOCK_FIGURE && strcmp(b->drawing.figure.value.unit, unit) == 0)
            return &b->drawing;
    return NULL;
}

/* Range and middle at the place `at`: a band, and a dot or bar. */
static void check_range(const struct drawing *d, int at, double low, double middle, double high)
{
    int n = 0;
    for (const struct mark *m = d->marks; m; m = m->next)
        for (const struct mark_point *p = m->points; p; p = p->next) {
            if (p->at != at)
                continue;
            const bool band = m->kind == TH_MARK_BAND;
            ck_assert(band || m->kind == TH_MARK_DOT || m->kind == TH_MARK_BAR);
            ck_assert(!band || (p->low == low && p->high == high));
            ck_assert(band || p->high == middle);
            n++;
        }
    ck_assert_int_eq(n, 2);
}

/* What each burns, and what the saver comes to beside zero: the numbers of the report. */
START_TEST(figures_hold_the_numbers)
{
    struct th_error err = {0};
    struct th_report *report = th_report_new("compare");
    for (int i = 0; i < 2; i++)
        rooms[i].money.first_cost_usd = 50000.0 + 1000.0 * i;
    compare();
    ck_assert_msg(th_side_by_side_report(report, both, &err) == TH_OK, "%s", err.text);
    const struct drawing *const fuel = figure_in(report, "gal"), *const usd =
                                                                     figure_in(report, "$");
    ck_assert(fuel && usd && both->has_first);
    ck_assert(fuel->figure.value.from_zero && usd->figure.value.from_zero);
    for (int i = 0; i < 2; i++) {
        const struct th_side *const s = &both->sides[i];
        check_range(fuel, i, s->lowest_units, s->units, s->highest_units);
        ck_assert_double_lt(s->lowest_units, s->highest_units);
    }
    check_range(usd, 0, both->worth_low_usd, both->worth_usd, both->worth_high_usd);
    check_range(usd, 1, both->net_low_usd, both->payback.net_usd, both->net_high_usd);
    char *page = rendered(report, TH_AS_HTML), low[TH_SHOWN_MAX], written[TH_SHOWN_MAX + 8];
    snprintf(written, sizeof written, "(%s to ",
             th_show(low, th_number(both->sides[0].lowest_units), TH_SIG3));
    ck_assert_ptr_nonnull(strstr(page, written));
    free(page);
    th_report_free(report);
}
END_TEST

/* A barn that burns less because its heaters cannot keep up is no saving. */
START_TEST(a_cold_barn_is_no_saving)
{
    rooms[1] = rooms[0];
    rooms[1].heaters[0].input_w *= 0.25;
    compare();
    ck_assert_int_eq(both->saver, 1);
    ck_assert(both->harm == TH_HARM_HEAT);
    ck_assert_double_gt(both->added.unmet_h, 2.0);
}
END_TEST

/* Each has its own fuel and price: the dollars decide. */
START_TEST(each_has_its_own_fuel)
{
    th_fuel_of_gas(&rooms[1].fuel, TH_NATURAL_GAS);
    rooms[1].fuel.price = 10.0; /* a therm: dearer than the propane it replaces */
    compare();
    ck_assert(!both->same_gas);
    ck_assert_int_eq(both->saver, 0);
    const double usd[2] = {both->sides[0].fuel_usd, both->sides[1].fuel_usd};
    ck_assert_double_lt(usd[0], usd[1]);
    ck_assert_double_eq_tol(both->saved_usd, usd[1] - usd[0], 1e-6 * usd[1]);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("side_by_side");
    TCase *tc = tcase_create("side_by_side");
    tcase_set_timeout(tc, 100);
    tcase_add_checked_fixture(tc, make_barns, free_barns);
    tcase_add_test(tc, the_barn_that_burns_less_is_worth_its_fuel);
    tcase_add_test(tc, either_may_come_first);
    tcase_add_test(tc, first_costs_decide_who_pays);
    tcase_add_test(tc, figures_hold_the_numbers);
    tcase_add_test(tc, a_cold_barn_is_no_saving);
    tcase_add_test(tc, each_has_its_own_fuel);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
