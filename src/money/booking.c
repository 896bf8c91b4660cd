/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/booking.h"

#include "root.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum th_code th_booking_fractile(double under_usd, double over_usd, double *fractile,
                                 struct th_error *err)
{
    if (!th_in_range(under_usd, 0.0, 1e9) || !th_in_range(over_usd, 0.0, 1e9) ||
        under_usd + over_usd <= 0.0)
        return th_fail(err, TH_ERR_MODEL,
                       "there is no best volume unless booking too few or too many costs money");
    *fractile = under_usd / (under_usd + over_usd);
    return TH_OK;
}

enum th_code th_booking_normal(double mean_gal, double sd_gal, double under_usd, double over_usd,
                               double *volume_gal, double *cost_usd, struct th_error *err)
{
    if (!isfinite(mean_gal) || !th_in_range(sd_gal, 0.0, 1e12) || !(under_usd > 0.0) ||
        !(over_usd > 0.0))
        return th_fail(err, TH_ERR_MODEL, "booking by a normal need takes both costs above 0");
    double fractile = 0.0;
    const enum th_code code = th_booking_fractile(under_usd, over_usd, &fractile, err);
    if (code)
        return code;
    const double z = gsl_cdf_ugaussian_Pinv(fractile);
    *volume_gal = mean_gal + sd_gal * z;
    *cost_usd = (under_usd + over_usd) * sd_gal * gsl_ran_ugaussian_pdf(z);
    return TH_OK;
}

static enum th_code check_terms(const struct th_booking_terms *terms, struct th_error *err)
{
    if (!th_in_range(terms->posted_usd_gal, 1e-6, 1e6))
        return th_fail(err, TH_ERR_RANGE, "the expected posted price must be above 0");
    if (!th_in_range(terms->posted_sigma, 0.0, 3.0))
        return th_fail(err, TH_ERR_RANGE, "the spread of the posted price must be 0 to 3");
    if (!th_in_range(terms->resale_usd_gal, 0.0, 1e6))
        return th_fail(err, TH_ERR_RANGE, "the worth of a gallon left over must not be negative");
    if (!th_in_range(terms->price_usd_gal, 0.0, 1e6) ||
        terms->price_usd_gal <= terms->resale_usd_gal)
        return th_fail(err, TH_ERR_RANGE,
                       "the contract price must be above the worth of a gallon left over");
    if (!th_in_range(terms->rho, -1.0, 1.0))
        return th_fail(err, TH_ERR_RANGE, "the correlation must be -1 to 1");
    return TH_OK;
}

/* Gain from one more gallon booked, at k standard deviations of the log of the need. */
static double marginal_gain_usd(double k, void *params)
{
    const struct th_booking_terms *terms = params;
    return terms->posted_usd_gal * gsl_cdf_ugaussian_P(terms->rho * terms->posted_sigma - k) -
           terms->price_usd_gal * gsl_cdf_ugaussian_P(-k) -
           (terms->price_usd_gal - terms->resale_usd_gal) * gsl_cdf_ugaussian_P(k);
}

enum th_code th_booking_lognormal(double mean_gal, double cv, const struct th_booking_terms *terms,
                                  double *volume_gal, struct th_error *err)
{
    if (!th_in_range(mean_gal, 1e-6, 1e12) || !th_in_range(cv, 0.0, 10.0))
        return th_fail(err, TH_ERR_RANGE,
                       "the mean need must be above 0 and its variation 0 to 10");
    enum th_code code = check_terms(terms, err);
    if (code)
        return code;
    *volume_gal = 0.0;
    if (terms->posted_usd_gal <= terms->price_usd_gal)
        return TH_OK;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    struct th_booking_terms copy = *terms;
    gsl_function gain = {.function = marginal_gain_usd, .params = &copy};
    double k = 0.0;
    code = th_root(solver, &gain, -30.0, 30.0, 1e-12, &k);
    gsl_root_fsolver_free(solver);
    if (code)
        return th_fail(err, code, "the best volume was not found");
    const double s = sqrt(log1p(cv * cv));
    *volume_gal = mean_gal * exp(s * k - 0.5 * s * s);
    return TH_OK;
}

enum th_code th_booking_ordered(size_t n, const double *season_gal, double fractile,
                                double *volume_gal, struct th_error *err)
{
    if (n == 0 || !th_in_range(fractile, 0.0, 1.0))
        return th_fail(err, TH_ERR_INPUT, "a booking needs seasons and a fractile of 0 to 1");
    double *sorted = malloc(n * sizeof *sorted);
    if (!sorted)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    memcpy(sorted, season_gal, n * sizeof *sorted);
    gsl_sort(sorted, 1, n);
    /* A fractile that is a whole number of seasons stays one in spite of rounding. */
    const double place = ceil(fractile * (double)n - 1e-9);
    *volume_gal = sorted[place < 1.0 ? 0 : (size_t)place - 1];
    free(sorted);
    return TH_OK;
}

enum th_code th_booking_best(size_t n, const double *season_gal,
                             const struct th_booking_terms *terms, double *volume_gal,
                             struct th_error *err)
{
    const enum th_code code = check_terms(terms, err);
    if (code)
        return code;
    if (n >= TH_BOOKING_FIT_FROM) {
        const double mean = gsl_stats_mean(season_gal, 1, n);
        const double sd = gsl_stats_sd_m(season_gal, 1, n, mean);
        return th_booking_lognormal(mean, mean > 0.0 ? sd / mean : 0.0, terms, volume_gal, err);
    }
    *volume_gal = 0.0;
    if (terms->posted_usd_gal <= terms->price_usd_gal)
        return TH_OK;
    const double under_usd = terms->posted_usd_gal - terms->price_usd_gal;
    const double over_usd = terms->price_usd_gal - terms->resale_usd_gal;
    return th_booking_ordered(n, season_gal, under_usd / (under_usd + over_usd), volume_gal, err);
}

/* Sums over the posted prices of a window's last day. */
struct end_prices {
    double n, usd, over_usd, log, log_squared;
};

static void add_end_price(struct end_prices *sums, double usd_gal, double price_usd_gal)
{
    sums->n += 1.0;
    sums->usd += usd_gal;
    sums->over_usd += fmax(0.0, price_usd_gal - usd_gal);
    sums->log += log(usd_gal);
    sums->log_squared += log(usd_gal) * log(usd_gal);
}

static struct end_prices gather(const struct th_contract *contract, const struct th_market *market,
                                double *taken_gal)
{
    const struct th_price_paths *paths = market->paths;
    struct end_prices sums = {0};
    for (size_t w = 0; w < paths->n_winters; w++) {
        const struct th_winter *winter = &market->winters[w];
        struct th_draw draw;
        th_contract_draw(contract, &paths->model, winter->season_year, winter->n,
                         winter->deliveries, &draw);
        taken_gal[w] = draw.taken_gal;
        for (size_t path = 0; path < paths->n_paths; path++) {
            double posted_usd_gal[TH_PRICE_PERIODS];
            th_price_posted(paths, path, w, market->tight_chance, posted_usd_gal);
            add_end_price(&sums, posted_usd_gal[draw.end_period], contract->price_usd_gal);
        }
    }
    return sums;
}

enum th_code th_booking_terms(const struct th_contract *contract, const struct th_market *market,
                              struct th_booking_terms *terms, double *taken_gal,
                              struct th_error *err)
{
    if (contract->kind != TH_CONTRACT_BOOKED || contract->settle != TH_SETTLE_MARKET)
        return th_fail(err, TH_ERR_MODEL, "%s: the formula is for bookings settled at market",
                       contract->name);
    const struct end_prices sums = gather(contract, market, taken_gal);
    const double mean_log = sums.log / sums.n;
    const double early_usd =
        contract->deposit_usd_gal * contract->carry_rate * contract->carry_days / 365.0 +
        contract->fee_usd_gal;
    *terms = (struct th_booking_terms){
        .posted_usd_gal = sums.usd / sums.n,
        .posted_sigma = sqrt(fmax(0.0, sums.log_squared / sums.n - mean_log * mean_log)),
        .price_usd_gal = contract->price_usd_gal + early_usd,
        .resale_usd_gal = contract->price_usd_gal - sums.over_usd / sums.n,
        .rho = market->paths->model.rho};
    if (terms->price_usd_gal <= terms->resale_usd_gal)
        return th_fail(err, TH_ERR_MODEL, "%s: a gallon booked too many costs nothing",
                       contract->name);
    return TH_OK;
}
