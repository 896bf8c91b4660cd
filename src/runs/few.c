/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/few.h"

#include <gsl/gsl_fit.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

/* Winters whose gas differs by less than this share show no line over it. */
#define SAME_SHARE 1e-6

/* The winter that burns least of those that burn more than `above`, in the order of `years` among
 * equals; -1 without one. */
static int next_of(int n, const double *gas_j, int above)
{
    int best = -1;
    for (int i = 0; i < n; i++) {
        const bool after =
            above < 0 || gas_j[i] > gas_j[above] || (gas_j[i] == gas_j[above] && i > above);
        if (!isnan(gas_j[i]) && after && (best < 0 || gas_j[i] < gas_j[best]))
            best = i;
    }
    return best;
}

void th_few_of(struct th_few *few, int n, const int *years, const double *gas_j)
{
    int counted = 0, winter = -1;
    *few = (struct th_few){0};
    for (int i = 0; i < n; i++)
        if (!isnan(gas_j[i])) {
            few->mean_j += gas_j[i];
            counted++;
        }
    few->mean_j = counted > 0 ? few->mean_j / counted : 0.0;
    const int most = counted < TH_FEW_WINTERS ? counted : TH_FEW_WINTERS;
    for (int rank = 0; rank < counted; rank++) {
        winter = next_of(n, gas_j, winter);
        if (rank != (2 * few->n + 1) * counted / (2 * most))
            continue;
        few->years[few->n] = years[winter];
        few->gas_j[few->n++] = gas_j[winter];
    }
}

enum th_code th_few_of_winters(struct th_few *few, const struct th_winters *winters,
                               struct th_error *err)
{
    const size_t n = (size_t)winters->n;
    int *const years = calloc(n, sizeof *years);
    double *const gas_j = calloc(n, sizeof *gas_j);
    const bool enough = years && gas_j;
    *few = (struct th_few){0};
    for (size_t i = 0; i < n && enough; i++) {
        const struct th_season *season = &winters->seasons[i];
        years[i] = season->year;
        gas_j[i] = season->counted ? th_tally_gas_j(&season->total) : NAN;
    }
    if (enough)
        th_few_of(few, winters->n, years, gas_j);
    free(years);
    free(gas_j);
    return enough ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory");
}

void th_few_ask(const struct th_few *few, struct th_runs *runs, const struct th_room *changed,
                const struct th_climate *climate, struct th_few_asked *asked)
{
    for (int k = 0; k < few->n; k++)
        asked->requests[k] = th_runs_add(runs, changed, climate, few->years[k], few->years[k]);
}

/* Where the line through the winters stands at `mean_j`; where they are all alike, or one, as far
 * from the changed as they are from it. */
static double on_line_j(int n, const double *before_j, const double *after_j, double mean_j)
{
    double start, slope, cov00, cov01, cov11, squares;
    const double before = gsl_stats_mean(before_j, 1, (size_t)n);
    const double after = gsl_stats_mean(after_j, 1, (size_t)n);
    if (n < 2 || gsl_stats_sd(before_j, 1, (size_t)n) < SAME_SHARE * before)
        return after + mean_j - before;
    gsl_fit_linear(before_j, 1, after_j, 1, (size_t)n, &start, &slope, &cov00, &cov01, &cov11,
                   &squares);
    return after + slope * (mean_j - before);
}

enum th_code th_few_mean_j(const struct th_few *few, const struct th_runs *runs,
                           const struct th_few_asked *asked, double *mean_j, struct th_error *err)
{
    double before_j[TH_FEW_WINTERS], after_j[TH_FEW_WINTERS];
    enum th_code code = TH_ERR_COVERAGE;
    int n = 0;
    for (int k = 0; k < few->n; k++) {
        code = th_runs_gas(runs, asked->requests[k], &after_j[n], err);
        if (code != TH_OK && code != TH_ERR_COVERAGE)
            return code;
        before_j[n] = few->gas_j[k];
        n += code == TH_OK;
    }
    if (n == 0)
        return few->n > 0 ? code : th_fail(err, code, "no whole season is covered");
    *mean_j = on_line_j(n, before_j, after_j, few->mean_j);
    return TH_OK;
}
