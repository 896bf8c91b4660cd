/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/risk.h"

#include <gsl/gsl_qrng.h>
#include <math.h>

static enum th_code season_gas(const struct th_room *room, const struct th_climate *climate,
                               int year, double *gas_j, struct th_error *err)
{
    struct th_winters winters;
    enum th_code code = th_winters_run(&winters, room, climate, year, year, NULL, err);
    if (code != TH_OK)
        return code;
    if (winters.n_counted == 0)
        code = th_fail(err, TH_ERR_COVERAGE, "the season of %d is not covered", year);
    *gas_j = th_winters_mean_gas_j(&winters);
    th_winters_finish(&winters);
    return code;
}

enum th_code th_risk_one_by_one(const struct th_room *room, const struct th_climate *climate,
                                int year, struct th_risk_range ranges[TH_UNKNOWNS],
                                struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int kind = 0; kind < TH_UNKNOWNS && code == TH_OK; kind++) {
        struct th_room low = *room, high = *room;
        th_unknown_move(&low, (enum th_unknown)kind, -TH_UNKNOWN_EDGE_SD);
        th_unknown_move(&high, (enum th_unknown)kind, TH_UNKNOWN_EDGE_SD);
        code = season_gas(&low, climate, year, &ranges[kind].low_j, err);
        if (code == TH_OK)
            code = season_gas(&high, climate, year, &ranges[kind].high_j, err);
    }
    return code;
}

enum th_code th_risk_together(const struct th_room *room, const struct th_climate *climate,
                              int year, int n, double *gas_j, struct th_error *err)
{
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, TH_UNKNOWNS);
    if (!sequence)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = TH_OK;
    for (int i = 0; i < n && code == TH_OK; i++) {
        double at[TH_UNKNOWNS];
        struct th_room drawn = *room;
        gsl_qrng_get(sequence, at);
        for (int kind = 0; kind < TH_UNKNOWNS; kind++)
            th_unknown_move(&drawn, (enum th_unknown)kind, th_unknown_deviate(at[kind]));
        code = season_gas(&drawn, climate, year, &gas_j[i], err);
    }
    gsl_qrng_free(sequence);
    return code;
}
