/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several offers at once: bills add up, the order is fixed, and the search finds what a fine grid
   finds, for every settlement. */
#include "turnheat/calendar.h"
#include "turnheat/split.h"

#include "run_suite.h"

#include <math.h>
#include <string.h>
#include <time.h>

#define WINTERS 12
#define FARMS 64
#define PATHS 128
#define DELIVERIES 12
#define FINE 25

static struct th_delivery deliveries[WINTERS][DELIVERIES];
static struct th_winter winters[WINTERS];
static double scale[FARMS * WINTERS];
static struct th_price_paths paths;
static struct th_split_market market;

/* Winters of 6,000 to 11,500 gallons, 1 November to the end of March; farms of 0.7 to 1.4. */
static void make_market(void)
{
    double season_gal[WINTERS];
    struct th_price_model model;
    struct th_error err;
    for (int w = 0; w < WINTERS; w++) {
        season_gal[w] = 6000.0 + 500.0 * ((w * 5) % WINTERS);
        winters[w] = (struct th_winter){
            .season_year = 2001 + w, .n = DELIVERIES, .deliveries = deliveries[w]};
        for (int i = 0; i < DELIVERIES; i++)
            deliveries[w][i] = (struct th_delivery){.day = th_day_number(2001 + w, 11, 1) + 13 * i,
                                                    .gal = season_gal[w] / DELIVERIES};
    }
    for (int f = 0; f < FARMS; f++)
        for (int w = 0; w < WINTERS; w++)
            scale[f * WINTERS + w] = 0.7 + 0.7 * ((f * 29) % FARMS) / (FARMS - 1.0);
    th_price_defaults(&model);
    model.posted_usd_gal = 1.85;
    model.today_month = 9;
    ck_assert_int_eq(th_price_paths_init(&paths, &model, PATHS, 1, WINTERS, season_gal, &err),
                     TH_OK);
    market = (struct th_split_market){.market = {.paths = &paths, .winters = winters},
                                      .n_farms = FARMS,
                                      .scale = scale,
                                      .enough_winters = true};
}

static void free_market(void)
{
    th_price_paths_finish(&paths);
}

static struct th_contract offer_of(enum th_contract_kind kind, double price, enum th_settle settle)
{
    struct th_contract offer;
    th_contract_defaults(&offer, kind);
    offer.price_usd_gal = price;
    offer.settle = settle;
    return offer;
}

/* One offer alone costs what the contract module says it costs. */
START_TEST(one_offer_costs_its_bill)
{
    struct th_contract offer = offer_of(TH_CONTRACT_PREPAID, 1.62, TH_SETTLE_REFUND);
    const double one[1] = {1.0}, volume_gal = 7000.0;
    const struct th_split_market single = {
        .market = market.market, .n_farms = 1, .scale = one, .enough_winters = true};
    double scale_one[WINTERS];
    struct th_split_market all = single;
    struct th_volume_cost cost;
    struct th_split split;
    struct th_error err;
    for (int w = 0; w < WINTERS; w++)
        scale_one[w] = 1.0;
    all.scale = scale_one;
    ck_assert_int_eq(th_split_costs(&all, 1, &offer, 1, &volume_gal, &split, &err), TH_OK);
    ck_assert_int_eq(th_contract_costs(&offer, &all.market, 1, &volume_gal, &cost, NULL, &err),
                     TH_OK);
    /* Cases are a part of all winters and paths. */
    ck_assert_double_eq_tol(split.mean_usd, cost.mean_usd, 0.01 * cost.mean_usd);
    ck_assert_double_gt(split.bad_usd, split.mean_usd);
    ck_assert_double_eq_tol(split.early_usd, 7000.0 * 1.62, 1e-6);
}
END_TEST

START_TEST(the_order_is_by_end_then_by_loss)
{
    struct th_contract offers[4] = {offer_of(TH_CONTRACT_SPOT, 0.0, TH_SETTLE_NONE),
                                    offer_of(TH_CONTRACT_PREPAID, 1.6, TH_SETTLE_REFUND),
                                    offer_of(TH_CONTRACT_PREPAID, 1.6, TH_SETTLE_NONE),
                                    offer_of(TH_CONTRACT_BOOKED, 1.7, TH_SETTLE_NONE)};
    offers[3].to_month = 1;
    offers[3].to_day = 31;
    size_t order[4];
    th_split_order(4, offers, 1.85, order);
    ck_assert_uint_eq(order[0], 3); /* ends first */
    ck_assert_uint_eq(order[1], 2); /* money lost before money refunded */
    ck_assert_uint_eq(order[2], 1);
    ck_assert_uint_eq(order[3], 0); /* spot is what is left */
}
END_TEST

struct terms {
    enum th_contract_kind kind;
    enum th_settle settle;
};

static const struct terms settlements[] = {
    {TH_CONTRACT_PREPAID, TH_SETTLE_NONE},         {TH_CONTRACT_PREPAID, TH_SETTLE_MARKET},
    {TH_CONTRACT_PREPAID, TH_SETTLE_TAKE},         {TH_CONTRACT_PREPAID, TH_SETTLE_ROLL_DOLLARS},
    {TH_CONTRACT_PREPAID, TH_SETTLE_ROLL_GALLONS}, {TH_CONTRACT_PREPAID, TH_SETTLE_REFUND},
    {TH_CONTRACT_BOOKED, TH_SETTLE_NONE},          {TH_CONTRACT_BOOKED, TH_SETTLE_MARKET},
    {TH_CONTRACT_BOOKED, TH_SETTLE_TAKE}};

/* No pair of volumes of the grid is cheaper by more than a thousandth, in the mean or in the bad
   case. */
static void nothing_is_cheaper(const struct th_contract offers[2],
                               const double volumes_gal[2 * FINE * FINE],
                               const struct th_split_advice *advice)
{
    static struct th_split grid[FINE * FINE];
    struct th_error err;
    double mean_usd = HUGE_VAL, bad_usd = HUGE_VAL;
    ck_assert_int_eq(th_split_costs(&market, 2, offers, FINE * FINE, volumes_gal, grid, &err),
                     TH_OK);
    for (int i = 0; i < FINE * FINE; i++) {
        mean_usd = fmin(mean_usd, grid[i].mean_usd);
        bad_usd = fmin(bad_usd, grid[i].bad_usd);
    }
    ck_assert_double_le(advice->cheapest.mean_usd, 1.001 * mean_usd);
    ck_assert_double_le(advice->cautious.bad_usd, 1.001 * bad_usd);
}

/* Of each settlement beside a booking to be taken in part: nothing on a grid of 25 × 25 volumes is
   cheaper by more than a thousandth, in the mean or in the bad case. */
START_TEST(two_offers_against_a_fine_grid)
{
    const struct terms *terms = &settlements[_i];
    const struct th_contract offers[2] = {offer_of(terms->kind, 1.66, terms->settle),
                                          offer_of(TH_CONTRACT_BOOKED, 1.72, TH_SETTLE_TAKE)};
    static double volumes_gal[FINE * FINE * 2];
    struct th_split_advice advice;
    struct th_error err;
    ck_assert_int_eq(th_split_run(&market, 2, offers, &advice, &err), TH_OK);
    for (int a = 0; a < FINE; a++)
        for (int b = 0; b < FINE; b++) {
            volumes_gal[2 * (a * FINE + b)] = advice.search_gal * a / (FINE - 1);
            volumes_gal[2 * (a * FINE + b) + 1] =
                (advice.search_gal - volumes_gal[2 * (a * FINE + b)]) * b / (FINE - 1);
        }
    nothing_is_cheaper(offers, volumes_gal, &advice);
    ck_assert_double_le(advice.between.mean_usd, 1.0201 * advice.cheapest.mean_usd);
    ck_assert_double_le(advice.between.bad_usd, advice.cheapest.bad_usd + 1e-6);
    ck_assert_double_ge(advice.between.bad_usd, advice.cautious.bad_usd - 1e-6);
    double cash_usd = advice.cash.early_usd + advice.cash.interest_usd + advice.cash.credit_usd;
    for (int m = 0; m < 12; m++)
        cash_usd += advice.cash.month_usd[m];
    ck_assert_double_eq_tol(cash_usd, advice.cheapest.mean_usd, 1e-6 * cash_usd);
    ck_assert_double_eq_tol(advice.cash.early_usd, advice.cheapest.early_usd, 1e-6);
}
END_TEST

/* Gallons far below the market that roll over cost nothing more: all that the hardest seasons take
   is bought ahead, no more, and the end of the search is told. */
START_TEST(the_end_of_the_search_is_told)
{
    struct th_contract offer = offer_of(TH_CONTRACT_PREPAID, 1.00, TH_SETTLE_ROLL_GALLONS);
    struct th_split_advice advice;
    struct th_error err;
    offer.carry_rate = 0.0;
    ck_assert_int_eq(th_split_run(&market, 1, &offer, &advice, &err), TH_OK);
    ck_assert(advice.cheapest.at_end[0]);
    ck_assert_double_le(advice.cautious.volume_gal[0], advice.search_gal);
    ck_assert_double_eq_tol(advice.cautious.volume_gal[0], advice.search_gal, 100.0);
    ck_assert_double_eq(fmod(advice.cheapest.volume_gal[0], 100.0), 0.0);
    /* Farms of 1.4 in the winter that takes most, 11,500 gal, take 16,100; a tenth about 14,500. */
    ck_assert_double_lt(advice.search_gal, 16100.0);
    ck_assert_double_gt(advice.search_gal, 12000.0);
    offer.settle = TH_SETTLE_NONE;
    ck_assert_int_eq(th_split_run(&market, 1, &offer, &advice, &err), TH_OK);
    ck_assert(!advice.cheapest.at_end[0]);
}
END_TEST

/* Sold in 7,000 gallons or none, and in 5,000 at most: no volume of a fine grid within that is
   cheaper, and none outside is advised. */
START_TEST(volumes_are_those_that_are_sold)
{
    struct th_contract offers[2] = {offer_of(TH_CONTRACT_PREPAID, 1.60, TH_SETTLE_REFUND),
                                    offer_of(TH_CONTRACT_BOOKED, 1.70, TH_SETTLE_TAKE)};
    static double volumes_gal[FINE * FINE * 2];
    struct th_split_advice advice;
    struct th_error err;
    offers[0].most_gal = 5000.0;
    offers[1].least_gal = 7000.0;
    ck_assert_int_eq(th_contract_check(&offers[0], &err), TH_OK);
    ck_assert_int_eq(th_split_run(&market, 2, offers, &advice, &err), TH_OK);
    for (int a = 0; a < FINE; a++)
        for (int b = 0; b < FINE; b++) {
            volumes_gal[2 * (a * FINE + b)] = 5000.0 * a / (FINE - 1);
            volumes_gal[2 * (a * FINE + b) + 1] =
                b == 0 ? 0.0 : 7000.0 + (advice.search_gal - 7000.0) * (b - 1) / (FINE - 2);
        }
    nothing_is_cheaper(offers, volumes_gal, &advice);
    const struct th_split *answers[3] = {&advice.cheapest, &advice.cautious, &advice.between};
    for (int i = 0; i < 3; i++) {
        ck_assert_double_le(answers[i]->volume_gal[0], 5000.0);
        ck_assert(answers[i]->volume_gal[1] == 0.0 || answers[i]->volume_gal[1] >= 7000.0);
        ck_assert(!answers[i]->at_end[0]);
    }
    offers[0].most_gal = 0.0;
    ck_assert_double_eq(th_contract_sold_gal(&offers[1], 3000.0, 9000.0), 0.0);
    ck_assert_double_eq(th_contract_sold_gal(&offers[1], 4000.0, 9000.0), 7000.0);
    ck_assert_double_eq(th_contract_sold_gal(&offers[1], 9900.0, 9000.0), 9000.0);
    ck_assert_double_eq(th_contract_sold_gal(&offers[1], 9900.0, 6000.0), 7000.0);
    offers[1].most_gal = 6000.0;
    ck_assert_int_eq(th_contract_check(&offers[1], &err), TH_ERR_RANGE);
    offers[1].most_gal = 8000.0;
    offers[1].volume_gal = 500.0;
    ck_assert_int_eq(th_contract_check(&offers[1], &err), TH_ERR_RANGE);
}
END_TEST

/* A cap without a volume covers every gallon, one with a volume only so many. */
START_TEST(caps_cover_what_their_volume_says)
{
    struct th_contract cap = offer_of(TH_CONTRACT_CAPPED, 1.50, TH_SETTLE_NONE);
    const double volumes_gal[3] = {0.0, 3000.0, HUGE_VAL};
    struct th_split splits[3];
    struct th_split_advice advice;
    struct th_error err;
    ck_assert_int_eq(th_split_costs(&market, 1, &cap, 3, volumes_gal, splits, &err), TH_OK);
    ck_assert_double_eq(splits[0].covered, 0.0);
    ck_assert_double_eq_tol(splits[2].covered, 1.0, 1e-9);
    ck_assert_double_gt(splits[1].covered, 0.2);
    ck_assert_double_lt(splits[1].covered, 0.6);
    ck_assert_double_lt(splits[2].mean_usd, splits[1].mean_usd);
    ck_assert_double_lt(splits[1].mean_usd, splits[0].mean_usd);
    ck_assert_int_eq(th_split_run(&market, 1, &cap, &advice, &err), TH_OK);
    ck_assert(isinf(advice.cheapest.volume_gal[0]));
    ck_assert_double_eq_tol(advice.none.mean_usd, splits[0].mean_usd, 1e-9);
}
END_TEST

START_TEST(three_offers_within_a_second)
{
    const struct th_contract offers[4] = {offer_of(TH_CONTRACT_SPOT, 0.0, TH_SETTLE_NONE),
                                          offer_of(TH_CONTRACT_PREPAID, 1.62, TH_SETTLE_REFUND),
                                          offer_of(TH_CONTRACT_BOOKED, 1.69, TH_SETTLE_TAKE),
                                          offer_of(TH_CONTRACT_PREPAID, 1.58, TH_SETTLE_TAKE)};
    struct th_split_advice advice;
    struct th_error err;
    const clock_t before = clock();
    ck_assert_int_eq(th_split_run(&market, 4, offers, &advice, &err), TH_OK);
    printf("# three offers: %.2f s\n", (double)(clock() - before) / CLOCKS_PER_SEC);
    ck_assert_double_lt(advice.cheapest.mean_usd, advice.none.mean_usd);
    ck_assert_double_eq(advice.cheapest.volume_gal[0], 0.0);
    ck_assert_double_gt(advice.mean_error_usd, 0.0);
}
END_TEST

/* By hand, as docs/fuel-plan.md has it: every season takes 1,000 gal, posted at $1.85 throughout.
 * Prepaid at $1.62 costs $1,620, booked at $1.69 $1,690, as you go $1,850; prepaid stops paying at
 * $1.62. */
START_TEST(all_from_one_by_hand)
{
    struct th_price_model model;
    struct th_price_paths flat;
    struct th_split_advice advice;
    struct th_error err;
    const double season_gal[1] = {1000.0}, one[1] = {1.0};
    struct th_contract offers[3] = {offer_of(TH_CONTRACT_SPOT, 0.0, TH_SETTLE_NONE),
                                    offer_of(TH_CONTRACT_PREPAID, 1.62, TH_SETTLE_NONE),
                                    offer_of(TH_CONTRACT_BOOKED, 1.69, TH_SETTLE_NONE)};
    const struct th_delivery once = {.day = th_day_number(2001, 11, 1), .gal = 1000.0};
    const struct th_winter season = {.season_year = 2001, .n = 1, .deliveries = &once};
    th_price_defaults(&model);
    model.posted_usd_gal = 1.85;
    model.today_month = 9;
    model.sigma_year = 0.0;
    for (int m = 0; m < TH_PRICE_MONTHS; m++)
        model.month_index[m] = 1.0;
    for (int i = 0; i < 3; i++)
        offers[i].carry_rate = offers[i].deposit_usd_gal = 0.0;
    ck_assert_int_eq(th_price_paths_init(&flat, &model, 8, 1, 1, season_gal, &err), TH_OK);
    const struct th_split_market certain = {
        .market = {.paths = &flat, .winters = &season}, .n_farms = 1, .scale = one};
    ck_assert_int_eq(th_split_run(&certain, 3, offers, &advice, &err), TH_OK);
    ck_assert_double_eq_tol(advice.alone[1].volume_gal[1], 1000.0, 1.0);
    ck_assert_double_eq_tol(advice.alone[1].mean_usd, 1620.0, 1.0);
    ck_assert_double_eq_tol(th_split_regret_usd(&advice, 0), 230.0, 1.0);
    ck_assert_double_eq_tol(th_split_regret_usd(&advice, 1), 0.0, 1.0);
    ck_assert_double_eq_tol(th_split_regret_usd(&advice, 2), 70.0, 1.0);
    ck_assert_double_eq_tol(advice.posted_usd_gal, 1.85, 1e-9);
    ck_assert_double_eq_tol(advice.break_even_usd_gal, 1.62, 0.001);
    th_price_paths_finish(&flat);
}
END_TEST

START_TEST(nothing_to_weigh_is_refused)
{
    struct th_split_market empty = market;
    struct th_split_advice advice;
    struct th_error err;
    struct th_contract offer = offer_of(TH_CONTRACT_PREPAID, 1.6, TH_SETTLE_NONE);
    empty.n_farms = 0;
    ck_assert_int_eq(th_split_run(&empty, 1, &offer, &advice, &err), TH_ERR_INPUT);
    ck_assert_int_eq(th_split_run(&market, TH_SPLIT_OFFERS_MAX + 1, &offer, &advice, &err),
                     TH_ERR_INPUT);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("split");
    TCase *tc = tcase_create("split");
    tcase_set_timeout(tc, 120);
    tcase_add_unchecked_fixture(tc, make_market, free_market);
    tcase_add_test(tc, one_offer_costs_its_bill);
    tcase_add_test(tc, the_order_is_by_end_then_by_loss);
    tcase_add_loop_test(tc, two_offers_against_a_fine_grid, 0,
                        (int)(sizeof settlements / sizeof *settlements));
    tcase_add_test(tc, the_end_of_the_search_is_told);
    tcase_add_test(tc, volumes_are_those_that_are_sold);
    tcase_add_test(tc, caps_cover_what_their_volume_says);
    tcase_add_test(tc, three_offers_within_a_second);
    tcase_add_test(tc, all_from_one_by_hand);
    tcase_add_test(tc, nothing_to_weigh_is_refused);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
