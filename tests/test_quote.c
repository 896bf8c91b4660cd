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
                                      .build = build};

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
        ck_assert((s->refused != NULL) == (s->option == LESS_AIR));
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
    static struct th_size size = {.n_days = 1};
    const struct th_quote_paper paper = {.quotation = &words, .size = &size, .builder = builder};
    return th_quote_report(report, &in, &quote, &paper, err);
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
    tcase_add_test(tc, only_one_of_a_group_is_taken);
    tcase_add_test(tc, open_books_are_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
