/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/contract.h"

#include "run_suite.h"
#include "turnheat/booking.h"
#include "turnheat/calendar.h"
#include <gsl/gsl_cdf.h>
#include <math.h>

/* Hand-worked settlements: 1,000 gal at 1.60 $/gal, `taken` in the window, `end` posted at its end.
 */
static const struct settle_row {
    const char *rule;
    enum th_contract_kind kind;
    enum th_settle settle;
    double taken_gal, end_usd_gal, settle_usd;
} settle_rows[] = {
    /* 300 short × (1.60 − 1.40) */
    {"S1 booked", TH_CONTRACT_BOOKED, TH_SETTLE_MARKET, 700, 1.40, 60.0},
    /* market above the contract: the dealer loses nothing */
    {"S1 booked, dear", TH_CONTRACT_BOOKED, TH_SETTLE_MARKET, 700, 1.80, 0.0},
    /* 300 × 1.40 back */
    {"S1 prepaid", TH_CONTRACT_PREPAID, TH_SETTLE_MARKET, 700, 1.40, -420.0},
    /* 300 × 1.60 back, never more than was paid */
    {"S1 prepaid, dear", TH_CONTRACT_PREPAID, TH_SETTLE_MARKET, 700, 1.80, -480.0},
    /* must take 800: 100 × 1.60 */
    {"S2 booked", TH_CONTRACT_BOOKED, TH_SETTLE_TAKE, 700, 1.40, 160.0},
    {"S2 booked, enough", TH_CONTRACT_BOOKED, TH_SETTLE_TAKE, 900, 1.40, 0.0},
    /* 200 above the 800 come back × 1.60 */
    {"S2 prepaid", TH_CONTRACT_PREPAID, TH_SETTLE_TAKE, 700, 1.40, -320.0},
    /* 100 not taken × 1.60 */
    {"S2 prepaid, enough", TH_CONTRACT_PREPAID, TH_SETTLE_TAKE, 900, 1.40, -160.0},
    /* 300 × 1.60 / 1.08 */
    {"S3 dollars", TH_CONTRACT_PREPAID, TH_SETTLE_ROLL_DOLLARS, 700, 1.40, -444.444444444},
    /* 300 × 1.40 / 1.08, and never more than they cost: 300 × 1.60 / 1.08 */
    {"S3 gallons", TH_CONTRACT_PREPAID, TH_SETTLE_ROLL_GALLONS, 700, 1.40, -388.888888889},
    {"S3 gallons, dear", TH_CONTRACT_PREPAID, TH_SETTLE_ROLL_GALLONS, 700, 1.90, -444.444444444},
    /* 300 × 1.60 × 0.80 */
    {"S4 refund", TH_CONTRACT_PREPAID, TH_SETTLE_REFUND, 700, 1.40, -384.0},
    {"none booked", TH_CONTRACT_BOOKED, TH_SETTLE_NONE, 700, 1.40, 0.0},
    {"none prepaid", TH_CONTRACT_PREPAID, TH_SETTLE_NONE, 700, 1.40, 0.0},
    {"S1, all taken", TH_CONTRACT_PREPAID, TH_SETTLE_MARKET, 1000, 1.40, 0.0},
};

static struct th_price_model sample_price(void)
{
    struct th_price_model price;
    th_price_defaults(&price);
    price.posted_usd_gal = 1.70;
    return price;
}

static struct th_bill bill_of(const struct th_contract *contract, size_t n,
                              const struct th_delivery *deliveries, const double *posted)
{
    const struct th_price_model price = sample_price();
    struct th_draw draw;
    struct th_bill bill;
    th_contract_draw(contract, &price, 2017, n, deliveries, &draw);
    th_contract_bill(contract, &draw, posted, &bill);
    return bill;
}

static void flat_prices(double usd_gal, double posted[TH_PRICE_PERIODS])
{
    for (int i = 0; i < TH_PRICE_PERIODS; i++)
        posted[i] = usd_gal;
}

START_TEST(settlement_rules)
{
    const struct settle_row *row = &settle_rows[_i];
    struct th_contract contract;
    th_contract_defaults(&contract, row->kind);
    contract.volume_gal = 1000;
    contract.price_usd_gal = 1.60;
    contract.settle = row->settle;
    ck_assert_int_eq(th_contract_check(&contract, NULL), TH_OK);
    const struct th_delivery delivery = {th_day_number(2017, 12, 5), row->taken_gal};
    double posted[TH_PRICE_PERIODS];
    flat_prices(9.99, posted);
    posted[2] = row->end_usd_gal; /* March, the window's end */
    const struct th_bill bill = bill_of(&contract, 1, &delivery, posted);
    ck_assert_msg(fabs(bill.settle_usd - row->settle_usd) < 1e-8, "%s: %.6f", row->rule,
                  bill.settle_usd);
    ck_assert_double_eq_tol(bill.posted_usd, 0.0, 1e-12);
}
END_TEST

static const struct th_delivery sample_deliveries[] = {
    {17424, 100}, /* 15 September 2017, before the window */
    {17444, 200}, /* 5 October */
    {17510, 500}, /* 10 December */
    {17551, 400}, /* 20 January, tight weeks */
    {17632, 50},  /* 11 April, after the window */
};

/* Hand-worked: 600 gal booked are drawn first: 200 in October, 400 of December's 500. */
START_TEST(contract_gallons_are_drawn_first)
{
    const struct th_price_model price = sample_price();
    struct th_contract contract;
    th_contract_defaults(&contract, TH_CONTRACT_BOOKED);
    contract.volume_gal = 600;
    contract.price_usd_gal = 1.60;
    struct th_draw draw;
    th_contract_draw(&contract, &price, 2017, 5, sample_deliveries, &draw);
    ck_assert_double_eq_tol(draw.contract_gal[9], 200, 1e-12);
    ck_assert_double_eq_tol(draw.contract_gal[11], 400, 1e-12);
    ck_assert_double_eq_tol(draw.posted_gal[8], 100, 1e-12);
    ck_assert_double_eq_tol(draw.posted_gal[11], 100, 1e-12);
    ck_assert_double_eq_tol(draw.posted_gal[TH_PRICE_MONTHS], 400, 1e-12);
    ck_assert_double_eq_tol(draw.posted_gal[3], 50, 1e-12);
    ck_assert_double_eq_tol(draw.taken_gal, 1100, 1e-12);
    ck_assert_int_eq(draw.end_period, 2);
}
END_TEST

/* Hand-worked bills of those deliveries, posted 2.00 $/gal but 3.00 in the tight weeks:
   spot 850 × 2 + 400 × 3 = 2,900; booked 600 × 1.60 + 250 × 2 + 400 × 3 = 2,660 and the deposit of
   0.10 × 600 costs 60 × 0.08 × 120 / 365 = 1.578; prepaid 960 bears 960 × 0.08 × 120 / 365
   = 25.249; a cap of 2.20 on every gallon of the window (700 × 2 + 400 × 2.20) with 0.05 × 1,100
   fee, the other 150 × 2: 2,635; a cap on 900 gal only: 100 of the tight gallons stay at 3.00. */
START_TEST(bills_by_kind)
{
    double posted[TH_PRICE_PERIODS];
    flat_prices(2.0, posted);
    posted[TH_PRICE_MONTHS] = 3.0;
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_SPOT);
    ck_assert_double_eq_tol(bill_of(&c, 5, sample_deliveries, posted).total_usd, 2900.0, 1e-9);
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.volume_gal = 600;
    c.price_usd_gal = 1.60;
    c.deposit_usd_gal = 0.10;
    ck_assert_double_eq_tol(bill_of(&c, 5, sample_deliveries, posted).total_usd, 2661.578, 0.0005);
    c.kind = TH_CONTRACT_PREPAID;
    ck_assert_double_eq_tol(bill_of(&c, 5, sample_deliveries, posted).total_usd, 2685.249, 0.0005);
    th_contract_defaults(&c, TH_CONTRACT_CAPPED);
    c.price_usd_gal = 2.20;
    c.fee_usd_gal = 0.05;
    ck_assert_double_eq_tol(bill_of(&c, 5, sample_deliveries, posted).total_usd, 2635.0, 1e-9);
    c.volume_gal = 1000;
    c.fee_usd_gal = 0.0;
    c.fee_usd = 70.0;
    ck_assert_double_eq_tol(bill_of(&c, 5, sample_deliveries, posted).total_usd,
                            700 * 2.0 + 300 * 2.20 + 100 * 3.0 + 150 * 2.0 + 70.0, 1e-9);
}
END_TEST

/* A window over New Year, one in spring and one that ends in the tight weeks. */
START_TEST(windows_fall_in_their_season)
{
    const struct th_price_model price = sample_price();
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.volume_gal = 5000;
    c.price_usd_gal = 1.60;
    c.to_month = 1;
    c.to_day = 31;
    struct th_draw draw;
    th_contract_draw(&c, &price, 2017, 5, sample_deliveries, &draw);
    ck_assert_double_eq_tol(draw.taken_gal, 1100, 1e-12);
    ck_assert_int_eq(draw.end_period, TH_PRICE_MONTHS);
    c.from_month = 3;
    c.to_month = 5;
    th_contract_draw(&c, &price, 2017, 5, sample_deliveries, &draw);
    ck_assert_double_eq_tol(draw.taken_gal, 50, 1e-12);
}
END_TEST

enum { WINTERS = 200, PATHS = 1024 };

/* Against the newsvendor (Snyder & Shen 2019, ch. 4): a sure posted price 2.00, booked at 1.60 with
   everything to be taken (S2, f = 1): under 0.40, over 1.60, fractile 0.2. Of 200 winters with
   normal need N(9,000, 1,500) the cheapest volume on a 20-gal grid is the 0.2 quantile, 7,737.6. */
START_TEST(cheapest_volume_is_the_fractile)
{
    static struct th_delivery delivery[WINTERS];
    static struct th_winter winters[WINTERS];
    double gal[WINTERS], volumes[126];
    for (int w = 0; w < WINTERS; w++) {
        gal[w] = 9000.0 + gsl_cdf_gaussian_Pinv((w + 0.5) / WINTERS, 1500.0);
        delivery[w] = (struct th_delivery){th_day_number(2000 + w, 12, 1), gal[w]};
        winters[w] = (struct th_winter){2000 + w, 1, &delivery[w]};
    }
    for (int v = 0; v < 126; v++)
        volumes[v] = 6500.0 + 20.0 * v;
    struct th_price_model price = sample_price();
    price.posted_usd_gal = 2.0;
    price.sigma_year = 0.0;
    price.month_index[11] = price.month_index[7];
    struct th_price_paths paths;
    ck_assert_int_eq(th_price_paths_init(&paths, &price, 1, 1, WINTERS, gal, NULL), TH_OK);
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.price_usd_gal = 1.60;
    c.settle = TH_SETTLE_TAKE;
    c.take_share = 1.0;
    struct th_volume_cost costs[126];
    const struct th_market market = {&paths, winters, 0.0};
    ck_assert_int_eq(th_contract_costs(&c, &market, 126, volumes, costs, NULL, NULL), TH_OK);
    const struct th_volume_choice choice = th_contract_choose(126, costs);
    ck_assert_double_eq_tol(costs[choice.cheapest].volume_gal, 7737.6, 25.0);
    ck_assert(choice.flat_low_gal < 7700.0 && choice.flat_high_gal > 7800.0);
    th_price_paths_finish(&paths);
}
END_TEST

/* H2's case by the whole path from deliveries to costs: 400 lognormal winters (mean 9,000, CV 0.20)
   with all gallons in one month one year ahead would have σp 0.25; resale at the contract price
   less 0.40 is S4 with a fee of 0.40 / 1.65, no carry. Means of neighbours differ by less than a
   hundredth of a per cent, so the grid is coarse: the cheapest lies within 400 gal of the closed
   form. */
START_TEST(cheapest_volume_with_correlated_prices)
{
    enum { MANY = 400, VOLUMES = 31 };
    static struct th_delivery delivery[MANY];
    static struct th_winter winters[MANY];
    double gal[MANY], volumes[VOLUMES];
    const double s = sqrt(log(1.04));
    for (int w = 0; w < MANY; w++) {
        gal[w] = 9000.0 * exp(s * gsl_cdf_ugaussian_Pinv((w + 0.5) / MANY) - 0.5 * s * s);
        delivery[w] = (struct th_delivery){th_day_number(1901 + w, 4, 10), gal[w]};
        winters[w] = (struct th_winter){1900 + w, 1, &delivery[w]};
    }
    for (int v = 0; v < VOLUMES; v++)
        volumes[v] = 6000.0 + 100.0 * v;
    struct th_price_model price = sample_price();
    price.margin_usd_gal = 0.0;
    price.posted_usd_gal = 1.75;
    price.today_month = 4;
    price.sigma_year = 0.25;
    price.rho = 0.5;
    struct th_price_paths paths;
    ck_assert_int_eq(th_price_paths_init(&paths, &price, PATHS / 4, 3, MANY, gal, NULL), TH_OK);
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_PREPAID);
    c.price_usd_gal = 1.65;
    c.settle = TH_SETTLE_REFUND;
    c.refund_fee_share = 0.40 / 1.65;
    c.carry_rate = 0.0;
    c.to_month = 5;
    struct th_volume_cost costs[VOLUMES];
    const struct th_market market = {&paths, winters, 0.0};
    ck_assert_int_eq(th_contract_costs(&c, &market, VOLUMES, volumes, costs, NULL, NULL), TH_OK);
    const struct th_volume_choice choice = th_contract_choose(VOLUMES, costs);
    const struct th_booking_terms terms = {1.75, 0.25, 1.65, 1.25, 0.5};
    double closed_gal;
    th_booking_lognormal(9000.0, 0.20, &terms, &closed_gal, NULL);
    ck_assert_double_eq_tol(costs[choice.cheapest].volume_gal, closed_gal, 400.0);
    ck_assert_double_ge(costs[choice.cautious].volume_gal, costs[choice.cheapest].volume_gal);
    th_price_paths_finish(&paths);
}
END_TEST

/* Ten winters and more carry percentiles, in their order. */
static void check_cost(const struct th_volume_cost *cost)
{
    ck_assert_int_eq(cost->winters.kind, TH_SPREAD_PERCENTILES);
    ck_assert(isfinite(cost->mean_usd) && isfinite(cost->cvar95_usd));
    ck_assert_double_le(cost->p50_usd, cost->p90_usd);
    ck_assert_double_le(cost->p90_usd, cost->cvar95_usd);
    ck_assert_double_eq_tol(cost->winters.mean, cost->mean_usd, 1e-6);
}

/* Volume 0 is the posted price; tight supply makes it dearer and leaves a full booking alone. */
START_TEST(volumes_and_tight_supply)
{
    enum { TEN = 10 };
    struct th_winter winters[TEN];
    double gal[TEN];
    for (int w = 0; w < TEN; w++) {
        winters[w] = (struct th_winter){2017, w % 2 ? 4 : 3, sample_deliveries + 1};
        gal[w] = w % 2 ? 1150 : 1100;
    }
    const double volumes[3] = {0, 600, 1200};
    struct th_price_model price = sample_price();
    struct th_price_paths paths;
    ck_assert_int_eq(th_price_paths_init(&paths, &price, PATHS, 1, TEN, gal, NULL), TH_OK);
    const struct th_market calm_market = {&paths, winters, 0.0};
    const struct th_market tight_market = {&paths, winters, 1.0};
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.price_usd_gal = 1.75;
    struct th_volume_cost calm[3], tight[3], spot;
    th_contract_costs(&c, &calm_market, 3, volumes, calm, NULL, NULL);
    th_contract_costs(&c, &tight_market, 3, volumes, tight, NULL, NULL);
    for (int v = 0; v < 3; v++) {
        check_cost(&calm[v]);
        check_cost(&tight[v]);
    }
    ck_assert_double_gt(tight[0].mean_usd, calm[0].mean_usd + 400.0);
    ck_assert_double_eq_tol(tight[2].mean_usd, calm[2].mean_usd, 1e-9);
    th_contract_defaults(&c, TH_CONTRACT_SPOT);
    ck_assert_int_eq(th_contract_costs(&c, &calm_market, 1, NULL, &spot, NULL, NULL), TH_OK);
    ck_assert_double_eq_tol(spot.mean_usd, calm[0].mean_usd, 1e-9);
    th_price_paths_finish(&paths);
}
END_TEST

/* Hand-worked: winters of 600, 1,000 and 1,400 gal at a sure 2.00 $/gal, booked at 1.60 with all to
   be taken. Unbooked 1,200, 2,000 and 2,800 $, mean 2,000; 1,000 gal booked 1,600, 1,600 and 2,400,
   mean 1,866.67; 1,400 gal booked 2,240 whatever comes: the least in the dearest winter. */
START_TEST(few_winters_carry_no_percentile)
{
    const double gal[3] = {1000, 600, 1400}, volumes[3] = {0, 1000, 1400};
    struct th_delivery delivery[3];
    struct th_winter winters[3];
    for (int w = 0; w < 3; w++) {
        delivery[w] = (struct th_delivery){th_day_number(2017 + w, 12, 5), gal[w]};
        winters[w] = (struct th_winter){2017 + w, 1, &delivery[w]};
    }
    struct th_price_model price = sample_price();
    price.posted_usd_gal = 2.0;
    price.sigma_year = 0.0;
    price.month_index[11] = price.month_index[price.today_month - 1];
    struct th_price_paths paths;
    ck_assert_int_eq(th_price_paths_init(&paths, &price, 8, 1, 3, gal, NULL), TH_OK);
    const struct th_market market = {&paths, winters, 0.0};
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.price_usd_gal = 1.60;
    c.settle = TH_SETTLE_TAKE;
    c.take_share = 1.0;
    struct th_volume_cost costs[3];
    double winter_usd[9];
    ck_assert_int_eq(th_contract_costs(&c, &market, 3, volumes, costs, winter_usd, NULL), TH_OK);
    const double wanted[9] = {2000, 1200, 2800, 1600, 1600, 2400, 2240, 2240, 2240};
    for (int i = 0; i < 9; i++)
        ck_assert_double_eq_tol(winter_usd[i], wanted[i], 1e-9);
    for (int v = 0; v < 3; v++) {
        ck_assert_int_eq(costs[v].winters.kind, TH_SPREAD_RANGE);
        ck_assert(costs[v].p50_usd == 0.0 && costs[v].p90_usd == 0.0 && costs[v].cvar95_usd == 0.0);
    }
    ck_assert_double_eq_tol(costs[1].mean_usd, 5600.0 / 3.0, 1e-9);
    ck_assert_double_eq_tol(costs[0].winters.lowest, 1200.0, 1e-9);
    ck_assert_double_eq_tol(costs[0].winters.middle, 2000.0, 1e-9);
    const struct th_volume_choice choice = th_contract_choose(3, costs);
    ck_assert_uint_eq(choice.cheapest, 1);
    ck_assert_uint_eq(choice.cautious, 2);
    th_price_paths_finish(&paths);
}
END_TEST

/* Formula and sweep by two ways: 200 lognormal winters (mean 9,000, CV 0.20) delivered on the last
   day of the window, so that the formula's price is the sweep's, booked with settlement S1 at 1.75
   and $0.20/gal down. The formula's worth of a gallon left over leaves out that mild winters end
   cheap, so it may book a little more than the sweep on a 100-gal grid finds cheapest: 5 %. */
START_TEST(formula_agrees_with_the_sweep)
{
    enum { VOLUMES = 61 };
    static struct th_delivery delivery[WINTERS];
    static struct th_winter winters[WINTERS];
    double gal[WINTERS], taken[WINTERS], volumes[VOLUMES], formula_gal;
    const double s = sqrt(log(1.04));
    for (int w = 0; w < WINTERS; w++) {
        gal[w] = 9000.0 * exp(s * gsl_cdf_ugaussian_Pinv((w + 0.5) / WINTERS) - 0.5 * s * s);
        delivery[w] = (struct th_delivery){th_day_number(2000 + w, 3, 31), gal[w]};
        winters[w] = (struct th_winter){1999 + w, 1, &delivery[w]};
    }
    for (int v = 0; v < VOLUMES; v++)
        volumes[v] = 6000.0 + 100.0 * v;
    struct th_price_model price = sample_price();
    price.posted_usd_gal = 1.85;
    struct th_price_paths paths;
    ck_assert_int_eq(th_price_paths_init(&paths, &price, PATHS / 4, 3, WINTERS, gal, NULL), TH_OK);
    const struct th_market market = {&paths, winters, 0.0};
    struct th_contract c;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    c.price_usd_gal = 1.75;
    c.deposit_usd_gal = 0.20;
    c.settle = TH_SETTLE_MARKET;
    struct th_booking_terms terms;
    struct th_volume_cost costs[VOLUMES];
    ck_assert_int_eq(th_booking_terms(&c, &market, &terms, taken, NULL), TH_OK);
    ck_assert_int_eq(th_booking_best(WINTERS, taken, &terms, &formula_gal, NULL), TH_OK);
    ck_assert_int_eq(th_contract_costs(&c, &market, VOLUMES, volumes, costs, NULL, NULL), TH_OK);
    const struct th_volume_choice choice = th_contract_choose(VOLUMES, costs);
    ck_assert_double_eq_tol(formula_gal / costs[choice.cheapest].volume_gal, 1.0, 0.05);
    for (int w = 0; w < WINTERS; w++)
        ck_assert_double_eq(taken[w], gal[w]);
    c.settle = TH_SETTLE_TAKE;
    ck_assert_int_eq(th_booking_terms(&c, &market, &terms, taken, NULL), TH_ERR_MODEL);
    /* Retail never falls below its margin of 0.90, so at 0.50 a gallon too many costs nothing. */
    c.settle = TH_SETTLE_MARKET;
    c.price_usd_gal = 0.50;
    c.deposit_usd_gal = 0.0;
    ck_assert_int_eq(th_booking_terms(&c, &market, &terms, taken, NULL), TH_ERR_MODEL);
    th_price_paths_finish(&paths);
}
END_TEST

START_TEST(refuses_terms_that_do_not_fit)
{
    struct th_contract c;
    struct th_error err;
    th_contract_defaults(&c, TH_CONTRACT_BOOKED);
    ck_assert_int_eq(th_contract_check(&c, &err), TH_ERR_RANGE); /* no price */
    c.price_usd_gal = 1.60;
    ck_assert_int_eq(th_contract_check(&c, &err), TH_OK);
    c.deposit_usd_gal = 1.70;
    ck_assert_int_eq(th_contract_check(&c, &err), TH_ERR_RANGE);
    c.deposit_usd_gal = 0.0;
    c.settle = TH_SETTLE_REFUND;
    ck_assert_int_eq(th_contract_check(&c, &err), TH_ERR_INPUT);
    c.settle = TH_SETTLE_NONE;
    c.to_day = 32;
    ck_assert_int_eq(th_contract_check(&c, &err), TH_ERR_RANGE);
    c.to_day = 31;
    c.volume_gal = NAN;
    ck_assert_int_eq(th_contract_check(&c, &err), TH_ERR_RANGE);
}
END_TEST

/* By hand, one delivery a month and one price: 100 gal in December, 200 in January, 2 $/gal posted.
   Prepaid at 1.50, 500 gal, refunded less a fifth: 200 gal are bought again, 400 $, and the refund
   of the 200 gal left, 0.8 x 1.50 x 200 = 240 $, does not come. Booked at 1.60 with 0.30 down, to
   be taken whole: 200 gal at 2.00 in place of 1.30, 140 $; 200 gal not taken are no longer owed. */
START_TEST(a_supplier_may_fail)
{
    struct th_contract prepaid, booked;
    struct th_delivery two[2] = {{th_day_number(2001, 12, 10), 100.0},
                                 {th_day_number(2002, 1, 10), 200.0}};
    struct th_draw draw;
    struct th_bill bill;
    struct th_price_model model;
    double posted[TH_PRICE_PERIODS];
    for (int p = 0; p < TH_PRICE_PERIODS; p++)
        posted[p] = 2.0;
    th_price_defaults(&model);
    th_contract_defaults(&prepaid, TH_CONTRACT_PREPAID);
    prepaid.price_usd_gal = 1.50;
    prepaid.settle = TH_SETTLE_REFUND;
    th_contract_defaults(&booked, TH_CONTRACT_BOOKED);
    booked.price_usd_gal = 1.60;
    booked.settle = TH_SETTLE_TAKE;
    prepaid.volume_gal = booked.volume_gal = 500.0;
    booked.deposit_usd_gal = 0.30;
    booked.take_share = 1.0;
    th_contract_draw(&prepaid, &model, 2001, 2, two, &draw);
    th_contract_bill(&prepaid, &draw, posted, &bill);
    ck_assert_double_eq_tol(th_contract_fails_usd(&prepaid, &draw, posted, &bill), 640.0, 1e-9);
    th_contract_draw(&booked, &model, 2001, 2, two, &draw);
    th_contract_bill(&booked, &draw, posted, &bill);
    /* 200 gal not taken cost 1.60 each, of which 0.30 are paid already. */
    ck_assert_double_eq_tol(th_contract_fails_usd(&booked, &draw, posted, &bill),
                            140.0 - 200.0 * 1.30, 1e-9);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("contract");
    TCase *tc = tcase_create("contract");
    tcase_set_timeout(tc, 30);
    tcase_add_loop_test(tc, settlement_rules, 0, (int)(sizeof settle_rows / sizeof *settle_rows));
    tcase_add_test(tc, contract_gallons_are_drawn_first);
    tcase_add_test(tc, bills_by_kind);
    tcase_add_test(tc, windows_fall_in_their_season);
    tcase_add_test(tc, cheapest_volume_is_the_fractile);
    tcase_add_test(tc, cheapest_volume_with_correlated_prices);
    tcase_add_test(tc, volumes_and_tight_supply);
    tcase_add_test(tc, few_winters_carry_no_percentile);
    tcase_add_test(tc, formula_agrees_with_the_sweep);
    tcase_add_test(tc, refuses_terms_that_do_not_fit);
    tcase_add_test(tc, a_supplier_may_fail);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
