/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/payback.h"

#include <gsl/gsl_math.h>
#include <math.h>

double th_payback_spv(double discount, int year)
{
    return gsl_pow_int(1.0 + discount, -year);
}

double th_payback_upv(double discount, int years)
{
    return th_payback_upv_growing(discount, 0.0, years);
}

double th_payback_upv_growing(double discount, double growth, int years)
{
    double sum = 0.0;
    for (int year = 1; year <= years; year++)
        sum += gsl_pow_int((1.0 + growth) / (1.0 + discount), year);
    return sum;
}

double th_payback_fuel_upv(const struct th_study *study)
{
    if (!study->has_index)
        return th_payback_upv_growing(study->discount, study->fuel_growth, study->years);
    double sum = 0.0;
    for (int year = 1; year <= study->years; year++)
        sum += study->fuel_index[year - 1] * th_payback_spv(study->discount, year);
    return sum;
}

static enum th_code check_loan_and_tax(const struct th_study *study, struct th_error *err)
{
    if (!th_in_range(study->payer_share, 0.0, 1.0))
        return th_fail(err, TH_ERR_RANGE, "payer_share must be 0 to 1");
    if (!th_in_range(study->loan_share, 0.0, 1.0))
        return th_fail(err, TH_ERR_RANGE, "loan_share must be 0 to 1");
    if (!th_in_range(study->loan_rate, 0.0, 1.0))
        return th_fail(err, TH_ERR_RANGE, "loan_rate must be 0 to 100 %% a year");
    if (study->loan_share > 0.0 && (study->loan_years < 1 || study->loan_years > study->years))
        return th_fail(err, TH_ERR_RANGE, "loan_years must be 1 to the %d years of the study",
                       study->years);
    if (!th_in_range(study->inflation, -0.4, 1.0))
        return th_fail(err, TH_ERR_RANGE, "inflation must be -40 to 100 %% a year");
    if (!th_in_range(study->tax_rate, 0.0, 0.9))
        return th_fail(err, TH_ERR_RANGE, "tax_rate must be 0 to 90 %%");
    return TH_OK;
}

enum th_code th_study_check(const struct th_study *study, struct th_error *err)
{
    if (study->years < 1 || study->years > TH_PAYBACK_YEARS_MAX)
        return th_fail(err, TH_ERR_RANGE, "the study has %d years; 1 to %d are allowed",
                       study->years, TH_PAYBACK_YEARS_MAX);
    if (!th_in_range(study->discount, -0.4, 1.0))
        return th_fail(err, TH_ERR_RANGE, "discount must be -40 to 100 %% a year");
    if (!th_in_range(study->price_usd_unit, 0.0, 1e6))
        return th_fail(err, TH_ERR_RANGE, "the fuel price must be 0 to 1,000,000 $ a unit");
    if (!th_in_range(study->fuel_growth, -0.4, 0.5))
        return th_fail(err, TH_ERR_RANGE, "fuel_growth must be -40 to 50 %% a year");
    for (int i = 0; study->has_index && i < study->years; i++)
        if (!th_in_range(study->fuel_index[i], 0.0, 1000.0))
            return th_fail(err, TH_ERR_RANGE, "the fuel price index of year %d must be 0 to 1000",
                           i + 1);
    return check_loan_and_tax(study, err);
}

static enum th_code check_once(int n, const struct th_once *list, const char *what, int years,
                               struct th_error *err)
{
    if (n < 0 || n > TH_PAYBACK_ONCE_MAX)
        return th_fail(err, TH_ERR_RANGE, "%d %s amounts; at most %d are allowed", n, what,
                       TH_PAYBACK_ONCE_MAX);
    for (int i = 0; i < n; i++)
        if (list[i].year < 1 || list[i].year > years || !th_in_range(list[i].usd, -1e12, 1e12))
            return th_fail(err, TH_ERR_RANGE,
                           "%s amount %d must be a number in years 1 to %d of the study", what,
                           i + 1, years);
    return TH_OK;
}

enum th_code th_outlay_check(const struct th_outlay *outlay, const struct th_study *study,
                             struct th_error *err)
{
    if (!th_in_range(outlay->first_usd, -1e12, 1e12))
        return th_fail(err, TH_ERR_RANGE, "the first cost must be a number");
    if (!th_in_range(outlay->residual_usd, -1e12, 1e12))
        return th_fail(err, TH_ERR_RANGE, "the residual must be a number");
    if (!th_in_range(outlay->fuel_units_year, 0.0, 1e12))
        return th_fail(err, TH_ERR_RANGE, "the fuel of a year must be 0 or more");
    if (!th_in_range(outlay->electricity_usd_year, -1e12, 1e12) ||
        !th_in_range(outlay->upkeep_usd_year, -1e12, 1e12))
        return th_fail(err, TH_ERR_RANGE, "electricity and upkeep must be numbers");
    const enum th_code code =
        check_once(outlay->n_upkeep, outlay->upkeep, "upkeep", study->years, err);
    return code ? code
                : check_once(outlay->n_replacements, outlay->replacements, "replacement",
                             study->years, err);
}

static double present_value(int n, const struct th_once *list, double discount)
{
    double sum = 0.0;
    for (int i = 0; i < n; i++)
        sum += list[i].usd * th_payback_spv(discount, list[i].year);
    return sum;
}

enum th_code th_payback_lcc(const struct th_outlay *outlay, const struct th_study *study,
                            double *usd, struct th_error *err)
{
    enum th_code code = th_study_check(study, err);
    if (!code)
        code = th_outlay_check(outlay, study, err);
    if (code)
        return code;
    const double d = study->discount;
    const double fuel = study->payer_share * study->price_usd_unit * outlay->fuel_units_year;
    *usd =
        outlay->first_usd + present_value(outlay->n_replacements, outlay->replacements, d) -
        outlay->residual_usd * th_payback_spv(d, study->years) + fuel * th_payback_fuel_upv(study) +
        (outlay->electricity_usd_year + outlay->upkeep_usd_year) * th_payback_upv(d, study->years) +
        present_value(outlay->n_upkeep, outlay->upkeep, d);
    return TH_OK;
}
