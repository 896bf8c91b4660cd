/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "payback_flows.h"

#include <gsl/gsl_math.h>
#include <math.h>

/* An amount this small against those it was summed from is rounding, not money. */
#define ROUNDING 1e-10

static double fuel_index(const struct th_study *study, int year)
{
    return study->has_index ? study->fuel_index[year - 1]
                            : gsl_pow_int(1.0 + study->fuel_growth, year);
}

static void add_once(double *years, int n, const struct th_once *list, double factor)
{
    for (int i = 0; i < n; i++)
        years[list[i].year] += factor * list[i].usd;
}

static void fill_savings(const struct th_outlay *base, const struct th_outlay *better,
                         const struct th_study *study, struct th_flows *flows)
{
    const double keep = 1.0 - study->tax_rate;
    const double fuel_usd = study->payer_share * study->price_usd_unit *
                            (base->fuel_units_year - better->fuel_units_year);
    const double other_usd = base->electricity_usd_year - better->electricity_usd_year +
                             base->upkeep_usd_year - better->upkeep_usd_year;
    for (int year = 1; year <= study->years; year++)
        flows->saving_usd[year] = keep * (fuel_usd * fuel_index(study, year) + other_usd);
    add_once(flows->saving_usd, base->n_upkeep, base->upkeep, keep);
    add_once(flows->saving_usd, better->n_upkeep, better->upkeep, -keep);
}

static void fill_investment(const struct th_outlay *base, const struct th_outlay *better,
                            const struct th_study *study, struct th_flows *flows)
{
    const double first_usd = better->first_usd - base->first_usd;
    flows->invest_usd[0] = first_usd;
    for (int year = 1; year <= study->years; year++)
        flows->invest_usd[year] = -study->tax_rate * first_usd / study->years *
                                  gsl_pow_int(1.0 + study->inflation, -year);
    add_once(flows->invest_usd, better->n_replacements, better->replacements, 1.0);
    add_once(flows->invest_usd, base->n_replacements, base->replacements, -1.0);
    flows->residual_usd = better->residual_usd - base->residual_usd;
    flows->invest_usd[study->years] -= flows->residual_usd;
}

/* What borrowing adds to the investment: level payments, less the money lent. */
static double loan_usd(double first_usd, const struct th_study *study)
{
    const double lent_usd = study->loan_share * first_usd;
    if (lent_usd == 0.0)
        return 0.0;
    const double payment_usd = lent_usd / th_payback_upv(study->loan_rate, study->loan_years);
    double paid_usd = 0.0;
    for (int year = 1; year <= study->loan_years; year++)
        paid_usd += payment_usd * gsl_pow_int(1.0 + study->inflation, -year) *
                    th_payback_spv(study->discount, year);
    return paid_usd - lent_usd;
}

/* Present value of a row of years; exactly 0 when only rounding is left. */
static double sum_years(const double *usd, int years, double discount, double extra_usd)
{
    double sum = extra_usd, gross = fabs(extra_usd);
    for (int year = 0; year <= years; year++) {
        const double value = usd[year] * th_payback_spv(discount, year);
        sum += value;
        gross += fabs(value);
    }
    return fabs(sum) <= ROUNDING * gross ? 0.0 : sum;
}

static struct th_measure state_only(enum th_measure_state state)
{
    return (struct th_measure){state, 0.0};
}

static struct th_measure number(double value)
{
    return isfinite(value) ? (struct th_measure){TH_MEASURE_DEFINED, value}
                           : state_only(TH_MEASURE_NONE);
}

static struct th_payback payback_state(enum th_measure_state state)
{
    return (struct th_payback){state_only(state), state_only(state)};
}

/* What year `year` brings in but for the residual, which is worth and no cash. */
static double cash_usd(const struct th_flows *flows, int year)
{
    const double worth_usd = year == flows->years ? flows->residual_usd : 0.0;
    return th_flows_net_usd(flows, year) - worth_usd;
}

static struct th_payback payback_of(const struct th_flows *flows, double discount)
{
    const double slack = ROUNDING * fabs(flows->invest_usd[0]);
    double sum = th_flows_net_usd(flows, 0);
    for (int year = 1; year <= flows->years; year++) {
        const double before = sum;
        const double gain = cash_usd(flows, year) * th_payback_spv(discount, year);
        sum += gain;
        if (sum >= -slack)
            return (struct th_payback){number(year - 1 + fmin(1.0, -before / gain)), number(year)};
    }
    return payback_state(TH_MEASURE_NEVER);
}

static void fill_paybacks(const struct th_flows *flows, double discount, struct th_return *result)
{
    const bool paid_first = flows->invest_usd[0] > 0.0;
    const bool saves = result->savings_usd > 0.0;
    enum th_measure_state state = TH_MEASURE_NONE;
    if (result->investment_usd > 0.0 && !saves)
        state = TH_MEASURE_NEVER;
    else if (result->investment_usd <= 0.0 && result->savings_usd >= 0.0 && !paid_first &&
             (saves || result->investment_usd < 0.0))
        state = TH_MEASURE_BETTER_AT_ONCE;
    result->simple = result->discounted = payback_state(state);
    if (state != TH_MEASURE_NONE || !paid_first || !saves)
        return;
    result->simple = payback_of(flows, 0.0);
    result->discounted = payback_of(flows, discount);
}

static void fill_ratios(const struct th_flows *flows, const struct th_study *study,
                        struct th_return *result)
{
    const double investment = result->investment_usd, savings = result->savings_usd;
    if (investment > 0.0) {
        result->sir = number(savings / investment);
        result->airr =
            savings > 0.0
                ? number((1.0 + study->discount) * pow(savings / investment, 1.0 / study->years) -
                         1.0)
                : state_only(TH_MEASURE_NONE);
        result->irr = th_flows_rate(flows);
        return;
    }
    const bool differs = investment < 0.0 || savings > 0.0;
    const enum th_measure_state state =
        savings >= 0.0 && differs ? TH_MEASURE_BETTER_AT_ONCE : TH_MEASURE_NONE;
    result->sir = result->airr = result->irr = state_only(state);
}

/* Net savings are rest + slope · x; where are they 0? */
static struct th_measure break_even(double rest_usd, double slope_usd)
{
    if (rest_usd == 0.0 && slope_usd == 0.0)
        return state_only(TH_MEASURE_NONE);
    if (rest_usd > 0.0 && slope_usd >= 0.0)
        return state_only(TH_MEASURE_BETTER_AT_ONCE);
    if (rest_usd < 0.0 && slope_usd <= 0.0)
        return state_only(TH_MEASURE_NEVER);
    return number(rest_usd == 0.0 ? 0.0 : -rest_usd / slope_usd);
}

/* Present value of one dollar of fuel saved every year at today's price, after tax and share. */
static double fuel_dollar_usd(const struct th_study *study)
{
    return (1.0 - study->tax_rate) * study->payer_share * th_payback_fuel_upv(study);
}

static void fill_break_even(const struct th_outlay *base, const struct th_outlay *better,
                            const struct th_study *study, struct th_return *result)
{
    const double dollar = fuel_dollar_usd(study);
    const double saved_units = base->fuel_units_year - better->fuel_units_year;
    const double fuel_usd = dollar * study->price_usd_unit * saved_units;
    double rest_usd = result->net_usd - fuel_usd;
    if (fabs(rest_usd) <= ROUNDING * (fabs(result->net_usd) + fabs(fuel_usd)))
        rest_usd = 0.0;
    result->break_even_price = break_even(rest_usd, dollar * saved_units);
    result->break_even_savings = break_even(rest_usd, dollar * study->price_usd_unit);
}

static enum th_code check_all(const struct th_outlay *base, const struct th_outlay *better,
                              const struct th_study *study, struct th_error *err)
{
    enum th_code code = th_study_check(study, err);
    if (!code)
        code = th_outlay_check(base, study, err);
    return code ? code : th_outlay_check(better, study, err);
}

enum th_code th_payback_compare(const struct th_outlay *base, const struct th_outlay *better,
                                const struct th_study *study, struct th_return *result,
                                struct th_error *err)
{
    const enum th_code code = check_all(base, better, study, err);
    if (code)
        return code;
    struct th_flows flows = {.years = study->years};
    fill_savings(base, better, study, &flows);
    fill_investment(base, better, study, &flows);
    *result = (struct th_return){0};
    result->savings_usd = sum_years(flows.saving_usd, study->years, study->discount, 0.0);
    result->investment_usd = sum_years(flows.invest_usd, study->years, study->discount,
                                       loan_usd(flows.invest_usd[0], study));
    result->net_usd = result->savings_usd - result->investment_usd;
    fill_ratios(&flows, study, result);
    fill_paybacks(&flows, study->discount, result);
    fill_break_even(base, better, study, result);
    return TH_OK;
}

enum th_code th_payback_chance(const struct th_outlay *base, const struct th_outlay *better,
                               const struct th_study *study, size_t n_winters,
                               const double *base_units, const double *better_units,
                               size_t n_prices, const double *prices_usd_unit, double *share,
                               struct th_error *err)
{
    if (n_winters == 0 || n_prices == 0)
        return th_fail(err, TH_ERR_INPUT, "the chance of a saving needs winters and prices");
    struct th_outlay no_fuel_base = *base, no_fuel_better = *better;
    no_fuel_base.fuel_units_year = no_fuel_better.fuel_units_year = 0.0;
    struct th_return rest;
    const enum th_code code = th_payback_compare(&no_fuel_base, &no_fuel_better, study, &rest, err);
    if (code)
        return code;
    const double dollar = fuel_dollar_usd(study);
    size_t better_cases = 0;
    for (size_t w = 0; w < n_winters; w++)
        for (size_t p = 0; p < n_prices; p++) {
            const double fuel_usd = dollar * prices_usd_unit[p] * (base_units[w] - better_units[w]);
            if (!isfinite(fuel_usd))
                return th_fail(err, TH_ERR_INPUT, "a winter's fuel or a price is not a number");
            better_cases += rest.net_usd + fuel_usd > 0.0;
        }
    *share = (double)better_cases / ((double)n_winters * (double)n_prices);
    return TH_OK;
}
