/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/payback.h"

#include "run_suite.h"
#include "validation/validate.h"
#include <gsl/gsl_rng.h>
#include <math.h>

static struct th_study plain_study(int years, double discount)
{
    return (struct th_study){
        .years = years, .discount = discount, .price_usd_unit = 1.0, .payer_share = 1.0};
}

static struct th_return compare(const struct th_outlay *base, const struct th_outlay *better,
                                const struct th_study *study)
{
    struct th_return result;
    struct th_error err = {0};
    ck_assert_msg(th_payback_compare(base, better, study, &result, &err) == TH_OK, "%s", err.text);
    return result;
}

/* H4. Tables of the NIST Handbook 135 family (annual supplement), printed to four figures. */
START_TEST(factors_match_printed_tables)
{
    const char *const source = "NIST Handbook 135 family";
    validate("H4", VALIDATE_CHECK, source, "UPV 3 %, 10 years", 8.530, th_payback_upv(0.03, 10),
             0.0005, "-");
    validate("H4", VALIDATE_CHECK, source, "UPV 7 %, 10 years", 7.024, th_payback_upv(0.07, 10),
             0.0005, "-");
    validate("H4", VALIDATE_CHECK, source, "SPV 5 %, 15 years", 0.4810, th_payback_spv(0.05, 15),
             0.00005, "-");
    validate("H4", VALIDATE_CHECK, source, "UPV* 3 %, growth 2 %, 20 years", 18.081,
             th_payback_upv_growing(0.03, 0.02, 20), 0.0005, "-");
    ck_assert_double_eq_tol(th_payback_upv(0.0, 12), 12.0, 1e-12);
}
END_TEST

static struct th_study sample_study(void)
{
    static const double index[15] = {.9738, .9589, .9523, .9491, .9545, .9629, .9676, .9683,
                                     .9669, .9647, .9632, .9625, .9629, .9640, .9640};
    struct th_study study = plain_study(15, 0.03);
    study.has_index = true;
    for (int i = 0; i < 15; i++)
        study.fuel_index[i] = index[i];
    return study;
}

static const struct th_outlay sample_base = {.first_usd = 1500,
                                             .residual_usd = 150 + 300,
                                             .fuel_units_year = 1200,
                                             .upkeep_usd_year = 50,
                                             .n_upkeep = 1,
                                             .upkeep = {{10, 200}},
                                             .n_replacements = 1,
                                             .replacements = {{10, 600}}};
static const struct th_outlay sample_better = {.first_usd = 3000,
                                               .residual_usd = 750,
                                               .fuel_units_year = 820,
                                               .upkeep_usd_year = 100,
                                               .n_upkeep = 1,
                                               .upkeep = {{8, 600}}};

/* H3. NIST federal sample project: LCC and NS printed to the dollar, SIR to 0.01, AIRR to 0.01 %.
 */
START_TEST(federal_sample_project)
{
    const char *const source = "NIST federal sample project";
    const struct th_study study = sample_study();
    double base_usd = 0.0, better_usd = 0.0;
    ck_assert_int_eq(th_payback_lcc(&sample_base, &study, &base_usd, NULL), TH_OK);
    ck_assert_int_eq(th_payback_lcc(&sample_better, &study, &better_usd, NULL), TH_OK);
    const struct th_return r = compare(&sample_base, &sample_better, &study);
    validate("H3", VALIDATE_CHECK, source, "life-cycle cost, base", 16187, base_usd, 0.5, "$");
    validate("H3", VALIDATE_CHECK, source, "life-cycle cost, alternative", 13605, better_usd, 0.5,
             "$");
    validate("H3", VALIDATE_CHECK, source, "net savings", 2582, r.net_usd, 0.5, "$");
    validate("H3", VALIDATE_CHECK, source, "savings-to-investment ratio", 4.00, r.sir.value, 0.005,
             "-");
    validate("H3", VALIDATE_CHECK, source, "adjusted internal rate of return", 12.97,
             100.0 * r.airr.value, 0.005, "%");
    validate("H3", VALIDATE_CHECK, source, "simple payback, in year", 5, r.simple.in_year.value,
             0.0, "year");
    validate("H3", VALIDATE_CHECK, source, "discounted payback, in year", 6,
             r.discounted.in_year.value, 0.0, "year");
    ck_assert_double_eq_tol(r.net_usd, base_usd - better_usd, 1e-8);
    ck_assert(r.simple.interpolated.value > 4.0 && r.simple.interpolated.value <= 5.0);
    ck_assert(r.discounted.interpolated.value > 5.0 && r.discounted.interpolated.value <= 6.0);
}
END_TEST

/* The definition of the rate: at the IRR the flows' net present value is 0 (10 CFR 436, from
   memory). Hand-worked: 1,000 out, 1,210 back in year 2 is 10 % a year. */
START_TEST(rate_of_return)
{
    const struct th_outlay base = {.n_upkeep = 1, .upkeep = {{2, 1210}}};
    const struct th_outlay better = {.first_usd = 1000};
    const struct th_study study = plain_study(2, 0.03);
    struct th_return result = compare(&base, &better, &study);
    ck_assert_int_eq(result.irr.state, TH_MEASURE_DEFINED);
    ck_assert_double_eq_tol(result.irr.value, 0.10, 1e-10);

    struct th_study at_irr = sample_study();
    at_irr.discount = compare(&sample_base, &sample_better, &at_irr).irr.value;
    ck_assert_double_eq_tol(compare(&sample_base, &sample_better, &at_irr).net_usd, 0.0, 1e-6);
}
END_TEST

/* Textbook flows −1,600, +10,000, −10,000: rates 25 % and 400 % both fit (Lorie & Savage 1955, J.
   Business 28:229, from memory). With one rate only, several sign changes do no harm. */
START_TEST(rate_not_unique_or_none)
{
    struct th_study study = plain_study(2, 0.30);
    const struct th_outlay gain = {.n_upkeep = 1, .upkeep = {{1, 10000}}};
    struct th_outlay repaired = {
        .first_usd = 1600, .n_replacements = 1, .replacements = {{2, 10000}}};
    ck_assert_int_eq(compare(&gain, &repaired, &study).irr.state, TH_MEASURE_NOT_UNIQUE);

    study = plain_study(3, 0.03);
    const struct th_outlay saves = {.electricity_usd_year = 800};
    repaired =
        (struct th_outlay){.first_usd = 1000, .n_replacements = 1, .replacements = {{2, 900}}};
    const struct th_return once = compare(&saves, &repaired, &study);
    ck_assert_int_eq(once.irr.state, TH_MEASURE_DEFINED);
    study.discount = once.irr.value;
    ck_assert_double_eq_tol(compare(&saves, &repaired, &study).net_usd, 0.0, 1e-7);

    const struct th_outlay costly = {.first_usd = 1000, .upkeep_usd_year = 10};
    const struct th_outlay nothing = {0};
    ck_assert_int_eq(compare(&nothing, &costly, &study).irr.state, TH_MEASURE_NONE);
}
END_TEST

/* The table of signs printed in the header; each row one alternative against the same base. */
static const struct sign_row {
    const char *what;
    double first_usd, residual_usd, fuel_units;
    enum th_measure_state sir, airr, irr, payback;
} sign_rows[] = {
    {"pays back", 1000, 0, 500, TH_MEASURE_DEFINED, TH_MEASURE_DEFINED, TH_MEASURE_DEFINED,
     TH_MEASURE_DEFINED},
    {"too dear", 9000, 0, 900, TH_MEASURE_DEFINED, TH_MEASURE_DEFINED, TH_MEASURE_DEFINED,
     TH_MEASURE_NEVER},
    {"saves nothing", 1000, 0, 1000, TH_MEASURE_DEFINED, TH_MEASURE_NONE, TH_MEASURE_NONE,
     TH_MEASURE_NEVER},
    {"burns more", 1000, 0, 1200, TH_MEASURE_DEFINED, TH_MEASURE_NONE, TH_MEASURE_NONE,
     TH_MEASURE_NEVER},
    {"cheaper and saves", -500, 0, 800, TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE,
     TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE},
    {"free and saves", 0, 0, 800, TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE,
     TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE},
    {"cheaper, burns the same", -500, 0, 1000, TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE,
     TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE},
    {"cheaper, burns more", -500, 0, 1100, TH_MEASURE_NONE, TH_MEASURE_NONE, TH_MEASURE_NONE,
     TH_MEASURE_NONE},
    {"the same", 0, 0, 1000, TH_MEASURE_NONE, TH_MEASURE_NONE, TH_MEASURE_NONE, TH_MEASURE_NONE},
    {"dearer now, worth more later", 1000, 3000, 800, TH_MEASURE_BETTER_AT_ONCE,
     TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_BETTER_AT_ONCE, TH_MEASURE_DEFINED},
};

START_TEST(sign_rules)
{
    const struct sign_row *row = &sign_rows[_i];
    const struct th_study study = plain_study(10, 0.03);
    const struct th_outlay base = {.first_usd = 2000, .fuel_units_year = 1000};
    const struct th_outlay better = {.first_usd = 2000 + row->first_usd,
                                     .residual_usd = row->residual_usd,
                                     .fuel_units_year = row->fuel_units};
    const struct th_return result = compare(&base, &better, &study);
    ck_assert_msg(result.sir.state == row->sir, "%s: SIR", row->what);
    ck_assert_msg(result.airr.state == row->airr, "%s: AIRR", row->what);
    ck_assert_msg(result.irr.state == row->irr, "%s: IRR", row->what);
    ck_assert_msg(result.simple.in_year.state == row->payback, "%s: simple", row->what);
    ck_assert_msg(result.discounted.in_year.state == row->payback, "%s: discounted", row->what);
    if (row->payback != TH_MEASURE_DEFINED)
        ck_assert(result.simple.in_year.value == 0.0 && result.simple.interpolated.value == 0.0);
}
END_TEST

/* Hand-worked: insulation of $6,800 with 25 years of life saves $270 a year. After 10 years it is
   worth 15/25 of its cost, $4,080: at 0 % it comes to 2,700 + 4,080 - 6,800 = -$20, and the savings
   alone would be back after 25.2 years, within no study of 10. */
START_TEST(what_is_left_pays_nothing_back)
{
    const struct th_outlay base = {.fuel_units_year = 1000};
    const struct th_outlay better = {
        .first_usd = 6800, .residual_usd = 4080, .fuel_units_year = 730};
    struct th_study study = plain_study(10, 0.0);
    struct th_return result = compare(&base, &better, &study);
    ck_assert_double_eq_tol(result.net_usd, -20.0, 1e-9);
    ck_assert_int_eq(result.simple.interpolated.state, TH_MEASURE_NEVER);
    ck_assert_int_eq(result.discounted.in_year.state, TH_MEASURE_NEVER);
    study.years = 26;
    result = compare(&base, &better, &study);
    ck_assert_double_eq_tol(result.simple.interpolated.value, 6800.0 / 270.0, 1e-9);
}
END_TEST

/* Hand-worked, 0 % discount, 10 years: 1,000 $ saves 200 gal a year at 1.00 $/gal: back after 5
   years exactly; NS 1,000 $; flips at 0.50 $/gal or at 100 gal a year. */
START_TEST(break_even)
{
    const struct th_study study = plain_study(10, 0.0);
    const struct th_outlay base = {.fuel_units_year = 1000};
    const struct th_outlay better = {.first_usd = 1000, .fuel_units_year = 800};
    const struct th_return result = compare(&base, &better, &study);
    ck_assert_double_eq_tol(result.net_usd, 1000.0, 1e-9);
    ck_assert_double_eq_tol(result.simple.interpolated.value, 5.0, 1e-9);
    ck_assert_double_eq(result.simple.in_year.value, 5.0);
    ck_assert_double_eq_tol(result.break_even_price.value, 0.50, 1e-12);
    ck_assert_double_eq_tol(result.break_even_savings.value, 100.0, 1e-9);

    const struct th_outlay same_fuel = {.first_usd = 1000, .fuel_units_year = 1000};
    ck_assert_int_eq(compare(&base, &same_fuel, &study).break_even_price.state, TH_MEASURE_NEVER);
    const struct th_outlay cheaper = {.fuel_units_year = 900, .electricity_usd_year = -10};
    ck_assert_int_eq(compare(&base, &cheaper, &study).break_even_price.state,
                     TH_MEASURE_BETTER_AT_ONCE);
}
END_TEST

/* Hand-worked: 1,000 $ saves 300 $ of fuel a year over 4 years at 0 %. The buyer pays 0.5 of the
   fuel: savings 600. Tax 20 %: savings 0.8 · 1,200 = 960, write-off 250 a year gives back 200 in
   all: investment 800, NS 160. A loan at 0 % and no inflation changes nothing at 0 %. */
START_TEST(payer_tax_and_loan)
{
    const struct th_outlay base = {.fuel_units_year = 1000};
    const struct th_outlay better = {.first_usd = 1000, .fuel_units_year = 700};
    struct th_study study = plain_study(4, 0.0);
    study.payer_share = 0.5;
    ck_assert_double_eq_tol(compare(&base, &better, &study).savings_usd, 600.0, 1e-9);
    study.payer_share = 1.0;
    study.tax_rate = 0.2;
    const struct th_return taxed = compare(&base, &better, &study);
    ck_assert_double_eq_tol(taxed.investment_usd, 800.0, 1e-9);
    ck_assert_double_eq_tol(taxed.net_usd, 160.0, 1e-9);
    study.tax_rate = 0.0;
    study.loan_share = 1.0;
    study.loan_years = 2;
    ck_assert_double_eq_tol(compare(&base, &better, &study).investment_usd, 1000.0, 1e-9);
}
END_TEST

/* A loan at the nominal rate (1 + real)(1 + inflation) − 1 costs what cash does (Fisher's equation,
   from memory); below it helps, above it hurts; paybacks are the equipment's own. */
START_TEST(loan_at_the_discount_rate_is_neutral)
{
    const struct th_outlay base = {.fuel_units_year = 1000};
    const struct th_outlay better = {.first_usd = 1000, .fuel_units_year = 700};
    struct th_study study = plain_study(10, 0.04);
    study.inflation = 0.025;
    const struct th_return cash = compare(&base, &better, &study);
    study.loan_share = 0.8;
    study.loan_years = 7;
    study.loan_rate = 1.04 * 1.025 - 1.0;
    ck_assert_double_eq_tol(compare(&base, &better, &study).net_usd, cash.net_usd, 1e-8);
    study.loan_rate = 0.02;
    ck_assert(compare(&base, &better, &study).net_usd > cash.net_usd);
    study.loan_rate = 0.12;
    const struct th_return dear = compare(&base, &better, &study);
    ck_assert(dear.net_usd < cash.net_usd);
    ck_assert_double_eq_tol(dear.simple.interpolated.value, cash.simple.interpolated.value, 1e-12);
}
END_TEST

/* Hand-worked: 1,000 $ over 10 years at 0 %: NS > 0 iff price × gallons saved > 100 $ a year. With
   50, 100, 150 gal saved and 0.5, 1, 2.5 $/gal: 125; 250; 150, 375 → 4 of 9 (100 × 1 is not > 0).
 */
START_TEST(chance_counts_cases)
{
    const struct th_study study = plain_study(10, 0.0);
    const struct th_outlay base = {0}, better = {.first_usd = 1000};
    const double before[] = {500, 600, 700}, after[] = {450, 500, 550}, prices[] = {0.5, 1.0, 2.5};
    double share;
    ck_assert_int_eq(
        th_payback_chance(&base, &better, &study, 3, before, after, 3, prices, &share, NULL),
        TH_OK);
    ck_assert_double_eq_tol(share, 4.0 / 9.0, 1e-12);
    ck_assert_int_eq(
        th_payback_chance(&base, &better, &study, 0, before, after, 3, prices, &share, NULL),
        TH_ERR_INPUT);
}
END_TEST

static void check_measure(struct th_measure measure)
{
    ck_assert(isfinite(measure.value));
    ck_assert(measure.state == TH_MEASURE_DEFINED || measure.value == 0.0);
}

static double pick(gsl_rng *rng, const double *values, size_t n)
{
    return values[gsl_rng_uniform_int(rng, n)];
}

/* Awkward values at random: nothing may come out NaN or infinite, NS = savings − investment. */
START_TEST(never_not_a_number)
{
    static const double usd[] = {0, 0, 1e-300, 1e-9, 1, 100, 1000, 1e6, 1e12};
    static const double rates[] = {-0.4, -0.05, 0, 1e-12, 0.03, 0.1, 0.5};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (int i = 0; i < 5000; i++) {
        struct th_study study =
            plain_study(1 + (int)gsl_rng_uniform_int(rng, 60), pick(rng, rates, 7));
        study.price_usd_unit = pick(rng, usd, 6);
        study.fuel_growth = pick(rng, rates, 7);
        study.payer_share = pick(rng, usd, 5);
        study.tax_rate = gsl_rng_uniform_int(rng, 2) ? 0.3 : 0.0;
        study.inflation = pick(rng, rates, 7);
        study.loan_share = gsl_rng_uniform_int(rng, 2) ? 1.0 : 0.0;
        study.loan_years = 1;
        struct th_outlay pair[2];
        for (int k = 0; k < 2; k++)
            pair[k] = (struct th_outlay){
                .first_usd = pick(rng, usd, 9),
                .residual_usd = pick(rng, usd, 9),
                .fuel_units_year = pick(rng, usd, 9),
                .upkeep_usd_year = -pick(rng, usd, 9),
                .electricity_usd_year = pick(rng, usd, 9),
                .n_replacements = 1,
                .replacements = {{1 + (int)gsl_rng_uniform_int(rng, (unsigned long)study.years),
                                  pick(rng, usd, 9)}}};
        const struct th_return r = compare(&pair[0], &pair[1], &study);
        ck_assert(isfinite(r.investment_usd) && isfinite(r.savings_usd) && isfinite(r.net_usd));
        const struct th_measure all[] = {r.sir,
                                         r.airr,
                                         r.irr,
                                         r.simple.interpolated,
                                         r.simple.in_year,
                                         r.discounted.interpolated,
                                         r.discounted.in_year,
                                         r.break_even_price,
                                         r.break_even_savings};
        for (size_t k = 0; k < sizeof all / sizeof *all; k++)
            check_measure(all[k]);
    }
    gsl_rng_free(rng);
}
END_TEST

START_TEST(refuses_what_is_out_of_range)
{
    struct th_error err;
    struct th_return result;
    struct th_study study = plain_study(10, NAN);
    const struct th_outlay base = {0};
    struct th_outlay late = {.n_replacements = 1, .replacements = {{11, 5}}};
    ck_assert_int_eq(th_payback_compare(&base, &base, &study, &result, &err), TH_ERR_RANGE);
    study = plain_study(61, 0.03);
    ck_assert_int_eq(th_payback_compare(&base, &base, &study, &result, &err), TH_ERR_RANGE);
    study = plain_study(10, 0.03);
    ck_assert_int_eq(th_payback_compare(&base, &late, &study, &result, &err), TH_ERR_RANGE);
    late = (struct th_outlay){.fuel_units_year = INFINITY};
    ck_assert_int_eq(th_payback_compare(&base, &late, &study, &result, &err), TH_ERR_RANGE);
    study.loan_share = 0.5;
    ck_assert_int_eq(th_payback_compare(&base, &base, &study, &result, &err), TH_ERR_RANGE);
}
END_TEST

/* A rebate: less paid at the start is better at once when nothing else is worse. */
START_TEST(a_rebate_is_allowed)
{
    const struct th_study study = plain_study(10, 0.05);
    const struct th_outlay base = {.fuel_units_year = 1000};
    const struct th_outlay better = {.first_usd = -500, .fuel_units_year = 1000};
    struct th_return result;
    ck_assert_int_eq(th_payback_compare(&base, &better, &study, &result, NULL), TH_OK);
    ck_assert_double_eq_tol(result.net_usd, 500.0, 1e-9);
    ck_assert_int_eq(result.sir.state, TH_MEASURE_BETTER_AT_ONCE);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("payback");
    TCase *tc = tcase_create("payback");
    tcase_add_test(tc, a_rebate_is_allowed);
    tcase_add_test(tc, factors_match_printed_tables);
    tcase_add_test(tc, federal_sample_project);
    tcase_add_test(tc, rate_of_return);
    tcase_add_test(tc, rate_not_unique_or_none);
    tcase_add_loop_test(tc, sign_rules, 0, (int)(sizeof sign_rows / sizeof *sign_rows));
    tcase_add_test(tc, what_is_left_pays_nothing_back);
    tcase_add_test(tc, break_even);
    tcase_add_test(tc, payer_tax_and_loan);
    tcase_add_test(tc, loan_at_the_discount_rate_is_neutral);
    tcase_add_test(tc, chance_counts_cases);
    tcase_add_test(tc, never_not_a_number);
    tcase_add_test(tc, refuses_what_is_out_of_range);
    suite_add_tcase(suite, tc);
    return run_suite(suite);
}
