/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlooks and what a record teaches: ranges that hold what they say, and what moves them. */
#include "sample_room.h"
#include "turnheat/record.h"

#include "run_suite.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <string.h>

#define FIRST_YEAR 2010
#define WINTERS 4
#define BARNS 200

static struct th_climate climate;
static struct th_room room;
static struct th_outlook outlook;

static struct th_case the_case(const struct th_room *of)
{
    return (struct th_case){.room = of,
                            .climate = &climate,
                            .first_year = FIRST_YEAR,
                            .last_year = FIRST_YEAR + WINTERS - 1};
}

static enum th_code init(struct th_outlook *of, const struct th_case *cases, int n)
{
    struct th_runs runs;
    struct th_error err;
    th_runs_init(&runs, 1, NULL);
    const enum th_code code = th_outlook_init(of, &runs, cases, n, &err);
    th_runs_finish(&runs);
    return code;
}

static void make_outlook(void)
{
    struct th_error err;
    climate = sample_climate(FIRST_YEAR, WINTERS);
    ck_assert_ptr_nonnull(climate.hours);
    spread_winters(&climate, 5.0);
    room = sample_room(TH_ON_OFF);
    room.copies = 2;
    const struct th_case one = the_case(&room);
    ck_assert_int_eq(init(&outlook, &one, 1), TH_OK);
    ck_assert_int_eq(th_outlook_draw(&outlook, &err), TH_OK);
}

static void free_outlook(void)
{
    th_outlook_finish(&outlook);
    th_climate_finish(&climate);
}

static struct th_record record_of(double gal)
{
    return (struct th_record){
        .name = "last", .year = FIRST_YEAR, .gal = gal, .error = TH_RECORD_ERROR};
}

static double width(const struct th_range *range)
{
    return log(range->high / range->low);
}

START_TEST(few_winters_are_no_percentile)
{
    struct th_range range;
    struct th_error err;
    ck_assert_int_eq(th_outlook_range(&outlook, &range, &err), TH_OK);
    ck_assert_int_eq(range.kind, TH_RANGE_FEW_WINTERS_10_90);
    ck_assert_double_lt(range.low, range.alone_lowest);
    ck_assert_double_gt(range.high, range.alone_highest);
    ck_assert_double_lt(range.low, range.middle);
    ck_assert_double_lt(range.middle, range.high);
}
END_TEST

START_TEST(a_record_narrows_and_moves)
{
    struct th_range before, after;
    struct th_learnt learnt;
    struct th_error err;
    ck_assert_int_eq(th_outlook_draw(&outlook, &err), TH_OK);
    ck_assert_int_eq(th_outlook_range(&outlook, &before, &err), TH_OK);
    const struct th_record record = record_of(0.7 * th_outlook_default_gal(&outlook, 0));
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
    ck_assert_int_eq(th_outlook_range(&outlook, &after, &err), TH_OK);
    ck_assert_double_lt(width(&after), 0.6 * width(&before));
    ck_assert_double_eq_tol(after.middle, 0.7 * before.middle, 0.06 * before.middle);
    ck_assert(learnt.records[0].known_winter);
    ck_assert_double_lt(fabs(learnt.records[0].misfit_sd), 1.0);
    ck_assert_double_lt(learnt.strain_sd, TH_LEARN_MISFIT_SD);
    ck_assert_double_gt(learnt.effective_draws, TH_LEARN_DRAWS_ENOUGH);
    ck_assert_double_gt(fabs(learnt.z[th_outlook_place(0, learnt.moved)]), 0.3);
}
END_TEST

/* Of 60 % of a season 60 % of the gallons are expected, and it says a little less. */
START_TEST(a_part_of_a_season_says_a_little_less)
{
    struct th_learnt all, part;
    struct th_error err;
    struct th_record record = {.name = "r",
                               .year = FIRST_YEAR + 1,
                               .error = 0.05,
                               .gal = 0.8 * th_outlook_default_gal(&outlook, 1)};
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &all, &err), TH_OK);
    record.gal *= 0.6;
    record.share = 0.6;
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &part, &err), TH_OK);
    ck_assert_double_eq_tol(part.records[0].before_gal, 0.6 * all.records[0].before_gal, 1e-6);
    ck_assert_double_gt(part.records[0].sd, all.records[0].sd);
    ck_assert_double_eq_tol(part.records[0].after_gal, 0.6 * all.records[0].after_gal,
                            0.03 * part.records[0].after_gal);
    record.share = 1.1;
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &part, &err), TH_ERR_RANGE);
}
END_TEST

/* Half of one season and half of the next: what either would have said of it. */
START_TEST(a_record_may_pass_1_july)
{
    struct th_learnt learnt;
    struct th_error err;
    struct th_record record = {
        .name = "r", .year = FIRST_YEAR, .error = 0.05, .share = 0.5, .next_share = 0.4};
    record.gal =
        0.5 * th_outlook_default_gal(&outlook, 0) + 0.4 * th_outlook_default_gal(&outlook, 1);
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
    ck_assert(learnt.records[0].known_winter);
    ck_assert_double_eq_tol(learnt.records[0].before_gal, record.gal, 1e-6 * record.gal);
    record.year = FIRST_YEAR + WINTERS - 1; /* the next is not known */
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
    ck_assert(!learnt.records[0].known_winter);
}
END_TEST

/* The same gallons told twice are refused, be they records or fills. */
START_TEST(no_gallons_count_twice)
{
    struct th_learnt learnt;
    struct th_error err;
    struct th_record records[2] = {record_of(th_outlook_default_gal(&outlook, 0)),
                                   record_of(th_outlook_default_gal(&outlook, 1))};
    ck_assert_int_eq(th_learn(&outlook, 2, records, &learnt, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "twice"));
    records[1].year++;
    ck_assert_int_eq(th_learn(&outlook, 2, records, &learnt, &err), TH_OK);
    records[1].year--;
    records[0].barns = 1;
    records[1].barns = 2;
    records[0].share = 0.5;
    records[0].first_day = th_day_number(FIRST_YEAR, 7, 1);
    records[0].last_day = th_day_number(FIRST_YEAR, 12, 31);
    room.fitted = (struct th_fitted){
        .given = true, .first_fill = {12, 31, FIRST_YEAR}, .last_fill = {3, 1, FIRST_YEAR + 1}};
    ck_assert_int_eq(th_learn(&outlook, 1, records, &learnt, &err), TH_ERR_INPUT);
    ck_assert_ptr_nonnull(strstr(err.text, "fills"));
    records[0].last_day--;
    ck_assert_int_eq(th_learn(&outlook, 1, records, &learnt, &err), TH_OK);
    room.fitted = (struct th_fitted){0};
}
END_TEST

/* A winter the weather does not hold says less than one it holds, but says something. */
START_TEST(an_unknown_winter_says_less)
{
    struct th_range none, known, unknown;
    struct th_learnt learnt;
    struct th_error err;
    struct th_record record = record_of(th_outlook_default_gal(&outlook, 0));
    ck_assert_int_eq(th_outlook_draw(&outlook, &err), TH_OK);
    ck_assert_int_eq(th_outlook_range(&outlook, &none, &err), TH_OK);
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
    ck_assert_int_eq(th_outlook_range(&outlook, &known, &err), TH_OK);
    record.year = 1995;
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
    ck_assert(!learnt.records[0].known_winter);
    ck_assert_int_eq(th_outlook_range(&outlook, &unknown, &err), TH_OK);
    ck_assert_double_lt(width(&known), width(&unknown));
    ck_assert_double_lt(width(&unknown), width(&none));
}
END_TEST

START_TEST(what_no_barn_burns_is_a_misfit)
{
    struct th_learnt learnt;
    struct th_error err;
    struct th_record record = record_of(8.0 * th_outlook_default_gal(&outlook, 0));
    const enum th_code code = th_learn(&outlook, 1, &record, &learnt, &err);
    ck_assert(code == TH_ERR_NUMERIC || learnt.strain_sd > TH_LEARN_MISFIT_SD);
    record.gal = 0.0;
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_ERR_RANGE);
    record = record_of(1000.0);
    record.error = 2.0;
    ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_ERR_RANGE);
    ck_assert_int_eq(th_learn(&outlook, 0, &record, &learnt, &err), TH_ERR_INPUT);
}
END_TEST

static double full_run_gal(const struct th_room *of, int year)
{
    struct th_winters winters;
    struct th_error err;
    ck_assert_int_eq(th_winters_run(&winters, of, &climate, year, year, NULL, &err), TH_OK);
    const double gal = th_winters_mean_gas_j(&winters) / of->fuel.hhv_j * of->copies;
    th_winters_finish(&winters);
    return gal;
}

/* Truths by full runs, drawn from what is known beforehand, with the change from turn to turn: of
   200 barns with one record of 5 % error the 10-90 ranges hold 74 to 86 % of the winters that
   follow. */
START_TEST(ranges_hold_what_they_say)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    const double turn_sd = TH_TURN_SD / sqrt((double)room.n_turns);
    int held = 0;
    for (int i = 0; i < BARNS; i++) {
        struct th_room truth = room;
        double z[TH_UNKNOWNS];
        struct th_range range;
        struct th_learnt learnt;
        struct th_error err;
        for (int u = 0; u < TH_UNKNOWNS; u++)
            z[u] = th_unknown_deviate(gsl_rng_uniform(rng));
        th_unknowns_move(&truth, z);
        const struct th_record record =
            record_of(full_run_gal(&truth, FIRST_YEAR) *
                      exp(gsl_ran_gaussian(rng, turn_sd) + gsl_ran_gaussian(rng, TH_RECORD_ERROR)));
        const double next_gal =
            full_run_gal(&truth, FIRST_YEAR + (int)gsl_rng_uniform_int(rng, WINTERS)) *
            exp(gsl_ran_gaussian(rng, turn_sd));
        ck_assert_int_eq(th_learn(&outlook, 1, &record, &learnt, &err), TH_OK);
        ck_assert_int_eq(th_outlook_range(&outlook, &range, &err), TH_OK);
        held += next_gal >= range.low && next_gal <= range.high;
    }
    gsl_rng_free(rng);
    ck_assert_int_ge(held, 74 * BARNS / 100);
    ck_assert_int_le(held, 86 * BARNS / 100);
}
END_TEST

/* Two barns of one farm: one meter over both, and one over a single barn. */
START_TEST(meters_over_barns_add_up)
{
    struct th_room other = sample_room(TH_ON_OFF);
    other.air.leak_cm2 = 1500.0;
    const struct th_case two[] = {the_case(&room), the_case(&other)};
    struct th_outlook both;
    struct th_learnt learnt;
    struct th_error err;
    ck_assert_int_eq(init(&both, two, 2), TH_OK);
    ck_assert_int_eq(both.n_z, 5 + 2 * 3);
    struct th_record record = record_of(th_outlook_default_gal(&both, 0));
    ck_assert_int_eq(th_learn(&both, 1, &record, &learnt, &err), TH_OK);
    ck_assert_double_eq_tol(learnt.records[0].before_gal, record.gal, 1e-6 * record.gal);
    record.barns = 1ul << 1;
    record.gal = full_run_gal(&other, FIRST_YEAR);
    ck_assert_int_eq(th_learn(&both, 1, &record, &learnt, &err), TH_OK);
    ck_assert_double_eq_tol(learnt.records[0].before_gal, record.gal, 1e-6 * record.gal);
    th_outlook_finish(&both);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("record");
    TCase *tc = tcase_create("record");
    tcase_set_timeout(tc, 120);
    tcase_add_unchecked_fixture(tc, make_outlook, free_outlook);
    tcase_add_test(tc, few_winters_are_no_percentile);
    tcase_add_test(tc, a_record_narrows_and_moves);
    tcase_add_test(tc, a_part_of_a_season_says_a_little_less);
    tcase_add_test(tc, a_record_may_pass_1_july);
    tcase_add_test(tc, no_gallons_count_twice);
    tcase_add_test(tc, an_unknown_winter_says_less);
    tcase_add_test(tc, what_no_barn_burns_is_a_misfit);
    tcase_add_test(tc, ranges_hold_what_they_say);
    tcase_add_test(tc, meters_over_barns_add_up);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
