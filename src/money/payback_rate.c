/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "payback_flows.h"
#include "root.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_poly.h>
#include <math.h>

#define LOWEST_RATE (-0.99)
#define HIGHEST_RATE 1e6

/* Flows from the first to the last that is not 0. */
struct run {
    int n;
    double usd[TH_PAYBACK_YEARS_MAX + 1];
};

static struct run trimmed(const struct th_flows *flows)
{
    struct run run = {.n = 0};
    int last = -1;
    for (int year = 0; year <= flows->years; year++) {
        const double usd = th_flows_net_usd(flows, year);
        if (run.n == 0 && usd == 0.0)
            continue;
        run.usd[run.n++] = usd;
        if (usd != 0.0)
            last = run.n - 1;
    }
    run.n = last + 1;
    return run;
}

static int sign_changes(int n, const double *values)
{
    int changes = 0;
    double previous = 0.0;
    for (int i = 0; i < n; i++) {
        if (values[i] == 0.0)
            continue;
        changes += previous * values[i] < 0.0;
        previous = values[i] > 0.0 ? 1.0 : -1.0;
    }
    return changes;
}

static double present_value(double rate, void *params)
{
    const struct run *run = params;
    return gsl_poly_eval(run->usd, run->n, 1.0 / (1.0 + rate));
}

static struct th_measure rate_above(struct run *run, double low)
{
    const struct th_measure none = {TH_MEASURE_NONE, 0.0};
    gsl_function value = {.function = present_value, .params = run};
    const double at_low = present_value(low, run);
    double high = 1.0;
    while (high < HIGHEST_RATE && at_low * present_value(high, run) > 0.0)
        high *= 10.0;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return none;
    double rate = 0.0;
    const enum th_code code = th_root(solver, &value, low, high, 1e-12, &rate);
    gsl_root_fsolver_free(solver);
    return code ? none : (struct th_measure){TH_MEASURE_DEFINED, rate};
}

/* Money goes out first, and what has come in by then passes zero once and stays above: one rate
   above 0 (Norstrom 1972, J. Financial and Quantitative Analysis 7:1835, from memory). */
static bool pays_back_once(const struct run *run)
{
    double sum[TH_PAYBACK_YEARS_MAX + 1];
    double total = 0.0;
    for (int i = 0; i < run->n; i++)
        sum[i] = total += run->usd[i];
    return total > 0.0 && sign_changes(run->n, sum) == 1;
}

/* Counts the distinct rates by the roots x = 1 / (1 + rate) of the flows as a polynomial. */
static int count_rates(const struct run *run)
{
    double roots[2 * TH_PAYBACK_YEARS_MAX];
    gsl_poly_complex_workspace *work = gsl_poly_complex_workspace_alloc((size_t)run->n);
    if (!work)
        return 2;
    const int status = gsl_poly_complex_solve(run->usd, (size_t)run->n, work, roots);
    gsl_poly_complex_workspace_free(work);
    if (status != GSL_SUCCESS)
        return 2;
    int count = 0;
    for (int i = 0; i < run->n - 1; i++) {
        const double re = roots[2 * i], im = roots[2 * i + 1];
        count += re > 1.0 / (1.0 + HIGHEST_RATE) && re < 1.0 / (1.0 + LOWEST_RATE) &&
                 fabs(im) <= 1e-6 * re;
    }
    return count;
}

struct th_measure th_flows_rate(const struct th_flows *flows)
{
    struct run run = trimmed(flows);
    if (run.n < 2 || run.usd[0] > 0.0)
        return (struct th_measure){TH_MEASURE_NONE, 0.0};
    const int changes = sign_changes(run.n, run.usd);
    if (changes == 0)
        return (struct th_measure){TH_MEASURE_NONE, 0.0};
    if (changes == 1)
        return rate_above(&run, LOWEST_RATE);
    if (pays_back_once(&run))
        return rate_above(&run, 0.0);
    const int count = count_rates(&run);
    if (count == 1)
        return rate_above(&run, LOWEST_RATE);
    return (struct th_measure){count ? TH_MEASURE_NOT_UNIQUE : TH_MEASURE_NONE, 0.0};
}
