/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which options `quote` takes, on rooms changed by hand instead of by barn files. */
#include "quote_report.h"
#include "render.h"
#include "sample_room.h"
#include "turnheat/quote.h"

#include "run_suite.h"
#include <stdlib.h>
#include <string.h>

#define FIRST_YEAR 2010

enum { CEILING, CURTAIN, LESS_AIR, COLD, OPTIONS };

static struct th_climate climate;
static struct th_weather weather;
static struct th_room room;
static struct th_quote quote;

static const struct th_purchase options[OPTIONS] = {
    [CEILING] = {.name = "ceiling", .cost_usd = 1000.0},
    [CURTAIN] = {.name = "curtain", .cost_usd = 1e6},
    [LESS_AIR] = {.name = "less air", .cost_usd = 1.0},
    [COLD] = {.name = "cold pigs", .cost_usd = 1.0},
};

static enum th_code build(void *context, unsigned set, struct th_room *with, struct th_error *err)
{
    (void)context;
    (void)err;
    *with = room;
    if (set & 1u << CEILING)
        with->surfaces[0].r_m2k_w *= 1.5;
    if (set & 1u << CURTAIN)
        with->surfaces[1].r_m2k_w *= 1.2;
    if (set & 1u << LESS_AIR)
        with->air.minimum_share = 0.9;
    if (set & 1u << COLD)
        for (int i = 0; i < with->setpoints.set_c.n; i++)
            with->setpoints.set_c.y[i] -= 2.0;
    return TH_OK;
}

static const struct th_case base = {.room = &room,
                                    .weather = &weather,
                                    .climate = &climate,
                                    .first_year = FIRST_YEAR,
                                    .last_year = FIRST_YEAR + 1};
static struct th_runs runs = {.jobs = 1};
static const struct th_quote_in in = {.runs = &runs,
                                      .base = &base,
                                      .options = options,
                                      .n = OPTIONS,
                                      .out_99_c = -20.0,
                                      .build = build,
                                      .builder = true};

static void make(void)
{
    struct th_error err;
    climate = sample_climate(FIRST_YEAR, 2);
    ck_assert_ptr_nonnull(climate.hours);
    room = sample_room(TH_ON_OFF);
    room.fuel.has_price = true;
    room.fuel.price = 2.0;
    ck_assert_msg(th_quote_run(&in, &quote, &err) == TH_OK, "%s", err.text);
}

static void drop(void)
{
    th_climate_finish(&climate);
}

START_TEST(takes_what_pays_and_is_safe)
{
    ck_assert_int_eq(quote.n, OPTIONS);
    ck_assert_uint_eq(quote.taken, 1u << CEILING);
    ck_assert_double_eq(quote.options_usd, 1000.0);
    for (int i = 0; i < OPTIONS; i++) {
        const struct th_quote_step *s = &quote.steps[i];
        ck_assert((s->state == TH_QUOTE_TAKEN) == (s->option == CEILING));
        ck_assert((s->state == TH_QUOTE_REFUSED) == (s->option == LESS_AIR));
        ck_assert((s->refused[0] != '\0') == (s->option == LESS_AIR));
        if (s->option == COLD)
            ck_assert(s->state == TH_QUOTE_SHORT_OF_AIR || s->state == TH_QUOTE_COLD);
    }
    ck_assert_double_lt(th_trial_gas_j(&quote.after), th_trial_gas_j(&quote.before));
}
END_TEST

/* The document in one of its two copies. */
static enum th_code document(bool builder, struct th_report *report, struct th_error *err)
{
    static const struct th_quotation words = {.customer = "A customer", .valid_days = 30};
    const struct th_quote_paper paper = {.quotation = &words};
    struct th_quote_in asked = in;
    asked.builder = builder;
    return th_quote_report(report, &asked, &quote, &paper, err);
}

START_TEST(the_customer_sees_the_offer_only)
{
    for (int builder = 0; builder <= 1; builder++) {
        struct th_report *report = th_report_new("quote");
        struct th_error err;
        char *text = NULL;
        size_t size;
        ck_assert_int_eq(document(builder, report, &err), TH_OK);
        FILE *out = open_memstream(&text, &size);
        ck_assert_int_eq(th_report_write(report, TH_AS_TEXT, out, &err), TH_OK);
        fclose(out);
        ck_assert_ptr_nonnull(strstr(text, "A customer"));
        ck_assert_ptr_nonnull(strstr(text, "Price and terms"));
        ck_assert((strstr(text, "left out") != NULL) == builder);
        ck_assert((strstr(text, "closes") != NULL) == builder);
        ck_assert((strstr(text, "cold pigs is left out: ") != NULL) == builder);
        free(text);
        th_report_free(report);
    }
}
END_TEST

/* A better ceiling and the best one: the second makes the first worth nothing. */
enum { BETTER, BEST };

static enum th_code build_ceilings(void *context, unsigned set, struct th_room *with,
                                   struct th_error *err)
{
    (void)context;
    (void)err;
    *with = room;
    if (set & 1u << BETTER)
        with->surfaces[0].r_m2k_w *= 1.3;
    if (set & 1u << BEST)
        with->surfaces[0].r_m2k_w = 2.0 * room.surfaces[0].r_m2k_w;
    return TH_OK;
}

static struct th_purchase ceilings[] = {
    [BETTER] = {.name = "better", .cost_usd = 100.0}, [BEST] = {.name = "best", .cost_usd = 400.0}};
static const struct th_quote_in ceilings_in = {.runs = &runs,
                                               .base = &base,
                                               .options = ceilings,
                                               .n = 2,
                                               .out_99_c = -20.0,
                                               .build = build_ceilings};

START_TEST(drops_what_pays_no_more)
{
    struct th_error err;
    ck_assert_msg(th_quote_run(&ceilings_in, &quote, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(quote.taken, 1u << BEST);
    ck_assert_double_eq(quote.options_usd, 400.0);
    ck_assert_int_eq(quote.steps[0].option, BETTER);
    ck_assert(quote.steps[0].state == TH_QUOTE_DROPPED);
    ck_assert_double_lt(quote.steps[0].payback.net_usd, 0.0);
}
END_TEST

START_TEST(as_offered_only_harm_keeps_an_option_out)
{
    struct th_error err;
    struct th_quote_in asked = in;
    asked.as_offered = true;
    ck_assert_msg(th_quote_run(&asked, &quote, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(quote.taken, 1u << CEILING | 1u << CURTAIN); /* the curtain costs a million */
    asked = ceilings_in;
    asked.as_offered = true;
    ck_assert_msg(th_quote_run(&asked, &quote, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(quote.taken, 1u << BETTER | 1u << BEST);
}
END_TEST

START_TEST(only_one_of_a_group_is_taken)
{
    struct th_error err;
    for (int i = 0; i < 2; i++)
        snprintf(ceilings[i].group, sizeof ceilings[i].group, "ceiling");
    ck_assert_msg(th_quote_run(&ceilings_in, &quote, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(quote.taken, 1u << BEST);
    ck_assert(quote.steps[0].state == TH_QUOTE_REPLACED);
    ck_assert(quote.steps[1].state == TH_QUOTE_TAKEN);
    ceilings[BETTER].group[0] = ceilings[BEST].group[0] = '\0';
}
END_TEST

/* The step in which an option is decided. */
static const struct th_quote_step *step_of(const struct th_quote *q, int option)
{
    int i = 0;
    while (q->steps[i].option != option)
        i++;
    return &q->steps[i];
}

/* Of the customer's copy nothing differs that it holds, though most of what is left out was never
 * run over all winters; in the builder's, what stands first does best of all alone. */
static void check_copies(struct th_quote_in asked)
{
    static struct th_quote builders, customers, alone;
    struct th_error err;
    asked.builder = true;
    ck_assert_msg(th_quote_run(&asked, &builders, &err) == TH_OK, "%s", err.text);
    asked.builder = false;
    ck_assert_msg(th_quote_run(&asked, &customers, &err) == TH_OK, "%s", err.text);
    ck_assert_uint_eq(customers.taken, builders.taken);
    ck_assert_mem_eq(&customers.after, &builders.after, sizeof builders.after);
    for (int i = 0; i < asked.n; i++) {
        const struct th_quote_step *const of_customer = step_of(&customers, i);
        const struct th_quote_step *const of_builder = step_of(&builders, i);
        ck_assert(of_builder->saved_units > 0.0);
        if (customers.taken & 1u << i) {
            ck_assert_double_eq(of_customer->saved_units, of_builder->saved_units);
            ck_assert_double_eq(of_customer->payback.net_usd, of_builder->payback.net_usd);
        } else {
            ck_assert(of_customer->state != TH_QUOTE_TAKEN);
        }
    }
    struct th_quote_in first = asked;
    first.n = 1; /* option 0, of which a test expects that it is taken first */
    first.builder = true;
    ck_assert_msg(th_quote_run(&first, &alone, &err) == TH_OK, "%s", err.text);
    ck_assert_int_eq(builders.steps[0].option, 0);
    ck_assert_double_eq(alone.steps[0].saved_units, builders.steps[0].saved_units);
}

#define MORE_WINTERS 7 /* so many that options are looked at before they are run */

START_TEST(both_copies_say_the_same)
{
    struct th_case longer = base;
    struct th_quote_in asked = _i == 0 ? in : ceilings_in;
    longer.last_year = FIRST_YEAR + MORE_WINTERS - 1;
    asked.base = &longer;
    th_climate_finish(&climate);
    climate = sample_climate(FIRST_YEAR, MORE_WINTERS);
    ck_assert_ptr_nonnull(climate.hours);
    check_copies(asked);
}
END_TEST

/* Heaters one after the other, and a better ceiling: what changes the heating and what does not. */
enum { LEAD_LAG, INSULATION, SLIGHT, PICKS };

static const struct th_purchase picks[PICKS] = {
    [LEAD_LAG] = {.name = "lead-lag", .cost_usd = 900.0, .life_years = 12.0},
    [INSULATION] = {.name = "ceiling", .cost_usd = 1500.0, .life_years = 25.0},
    [SLIGHT] = {.name = "slight", .cost_usd = 10.0, .life_years = 25.0}};

/* What `quote` says of picks from `first` on as options, and `compare` of them as choices, the last
 * of which is all of them. Air lies below its ceilings, so that dollars may speak. */
struct two_voices {
    int first, n;
    struct th_room barn;
    struct th_case one;
    struct th_quote quote;
    struct th_choice choices[PICKS + 1];
    struct th_comparison comparison;
};

static enum th_code build_picks(void *context, unsigned set, struct th_room *with,
                                struct th_error *err)
{
    const struct two_voices *const v = context;
    const unsigned bits = set << v->first;
    (void)err;
    *with = v->barn;
    if (bits & 1u << LEAD_LAG)
        with->heaters[0].control = TH_LEAD_LAG;
    if (bits & 1u << INSULATION)
        with->surfaces[0].r_m2k_w *= 1.5;
    if (bits & 1u << SLIGHT)
        with->surfaces[0].r_m2k_w *= 1.02;
    return TH_OK;
}

static struct two_voices *ask_both(int first, int n)
{
    struct two_voices *const v = calloc(1, sizeof *v);
    struct th_runs compared;
    struct th_error err;
    ck_assert_ptr_nonnull(v);
    *v = (struct two_voices){.first = first, .n = n, .barn = room, .one = base};
    v->barn.air.rh_limit = 1.0;
    v->barn.air.co2_design_ppm = v->barn.air.co2_worker_ppm = 10000.0;
    v->one.room = &v->barn;
    const struct th_quote_in q = {.runs = &runs,
                                  .base = &v->one,
                                  .options = picks + first,
                                  .n = n,
                                  .out_99_c = -20.0,
                                  .build = build_picks,
                                  .context = v};
    ck_assert_msg(th_quote_run(&q, &v->quote, &err) == TH_OK, "%s", err.text);
    for (int i = 0; i <= n; i++) {
        struct th_choice *const choice = &v->choices[i];
        build_picks(v, i < n ? 1u << i : (1u << n) - 1u, &choice->room, &err);
        choice->buy = i < n ? picks[first + i] : (struct th_purchase){.name = "all"};
    }
    th_runs_init(&compared, 1, NULL);
    ck_assert_msg(th_comparison_run(&v->comparison, &compared, &v->one, v->choices, n + 1, -20.0,
                                    NULL, &err) == TH_OK,
                  "%s", err.text);
    th_runs_finish(&compared);
    return v;
}

/* Gallons a season that choice `i` saves in `compare`. */
static double compared_units(const struct th_comparison *c, int i)
{
    return th_comparison_units(c, &c->results[0].trial) -
           th_comparison_choice_units(c, i, th_judged(&c->results[i + 1]));
}

/* An option alone saves the same gallons and dollars in both, whether it changes the heating, so
 * that the room must be made as warm, or not. */
START_TEST(quote_and_compare_say_the_same)
{
    struct two_voices *const v = ask_both(_i, 1);
    const struct th_quote_step *const step = &v->quote.steps[0];
    const struct th_choice_money *const money = &v->comparison.money[0];
    ck_assert_int_eq(step->weighed, _i == LEAD_LAG);
    ck_assert_double_eq_tol(step->saved_units, compared_units(&v->comparison, 0), 1e-6);
    ck_assert_double_eq_tol(step->payback.net_usd, money->today.payback.net_usd, 1e-4);
    ck_assert_double_eq_tol(step->scrapped_usd, money->today.scrapped_usd, 1e-4);
    ck_assert_double_eq_tol(th_trial_gas_j(&v->quote.before) - th_trial_gas_j(&v->quote.after),
                            v->quote.taken ? step->saved_units * room.fuel.hhv_j : 0.0, 1.0);
    free(v);
}
END_TEST

/* Of two together each step stands on those before it and is as warm as without it, the choice of
 * both as warm as the barn with neither: within half a percent of the gas that is the same. */
START_TEST(steps_add_up_to_the_choice_of_all)
{
    struct two_voices *const v = ask_both(LEAD_LAG, SLIGHT);
    const double now = th_comparison_units(&v->comparison, &v->comparison.results[0].trial);
    const double steps = v->quote.steps[0].saved_units + v->quote.steps[1].saved_units;
    const double both = compared_units(&v->comparison, SLIGHT);
    ck_assert_double_gt(both, 0.05 * now);
    ck_assert_double_eq_tol(steps, both, 0.005 * now);
    free(v);
}
END_TEST

/* Under 1 % of the fuel both call it no difference, though it returns its cost many times. */
START_TEST(a_slight_difference_is_none_in_both)
{
    struct two_voices *const v = ask_both(SLIGHT, 1);
    const struct th_quote_step *const step = &v->quote.steps[0];
    ck_assert_double_gt(step->payback.net_usd, 0.0);
    ck_assert_int_eq(step->state, TH_QUOTE_NO_DIFFERENCE);
    ck_assert_int_eq(v->comparison.money[0].verdict, TH_VERDICT_NO_DIFFERENCE);
    free(v);
}
END_TEST

START_TEST(open_books_are_refused)
{
    struct th_error err;
    struct th_report *report = th_report_new("quote");
    ck_assert_msg(document(true, report, &err) == TH_OK, "%s", err.text);
    th_report_free(report);
    report = th_report_new("quote");
    quote.after.mean.sum[TH_WATER_PIGS] *= 1.001;
    ck_assert_int_eq(document(true, report, &err), TH_ERR_BALANCE);
    ck_assert_int_eq(document(false, report, &err), TH_ERR_BALANCE);
    th_report_free(report);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("quote");
    TCase *tc = tcase_create("quote");
    tcase_add_checked_fixture(tc, make, drop);
    tcase_add_test(tc, takes_what_pays_and_is_safe);
    tcase_add_test(tc, the_customer_sees_the_offer_only);
    tcase_add_test(tc, drops_what_pays_no_more);
    tcase_add_test(tc, as_offered_only_harm_keeps_an_option_out);
    tcase_add_test(tc, only_one_of_a_group_is_taken);
    tcase_add_loop_test(tc, both_copies_say_the_same, 0, 2);
    tcase_add_loop_test(tc, quote_and_compare_say_the_same, 0, PICKS);
    tcase_add_test(tc, steps_add_up_to_the_choice_of_all);
    tcase_add_test(tc, a_slight_difference_is_none_in_both);
    tcase_add_test(tc, open_books_are_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
