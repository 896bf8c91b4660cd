/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/risk.h"

#include "turnheat/units.h"
#include <gsl/gsl_qrng.h>
#include <math.h>

const char *th_risk_text(enum th_risk_kind kind)
{
    static const char *const texts[TH_RISK_COUNT] = {"share of pig heat felt as warmth",
                                                     "total heat of the pigs",
                                                     "day and night activity",
                                                     "minimum air",
                                                     "leakage",
                                                     "set point",
                                                     "how far the room overshoots"};
    return texts[kind];
}

const char *th_risk_range(enum th_risk_kind kind)
{
    static const char *const ranges[TH_RISK_COUNT] = {
        "0.75 to 0.95",  "-10 % to +10 %", "0 to 0.43",    "-10 % to +10 %",
        "half to twice", "-1 to +1 °F",    "half to twice"};
    return ranges[kind];
}

/* From `low` through `now` to `high` as place goes from -1 through 0 to 1. */
static double between(double low, double now, double high, double place)
{
    return place < 0.0 ? now + place * (now - low) : now + place * (high - now);
}

void th_risk_apply(struct th_room *room, enum th_risk_kind kind, double place)
{
    switch (kind) {
    case TH_RISK_SENSIBLE:
        room->pigs.k_s += 0.10 * place;
        break;
    case TH_RISK_PIG_HEAT:
        room->pigs.heat_factor *= 1.0 + 0.10 * place;
        break;
    case TH_RISK_ACTIVITY:
        room->pigs.activity = between(0.0, room->pigs.activity, 0.43, place);
        break;
    case TH_RISK_AIR:
        room->calibration.air_factor *= 1.0 + 0.10 * place;
        break;
    case TH_RISK_LEAKAGE:
        room->air.leak_cm2 *= pow(2.0, place);
        break;
    case TH_RISK_SET_POINT:
        room->calibration.set_shift_k += TH_K_PER_F * place;
        break;
    case TH_RISK_RESPONSE:
        room->response.factor *= pow(2.0, place);
        break;
    case TH_RISK_COUNT:
        break;
    }
}

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
                                int year, struct th_risk_range ranges[TH_RISK_COUNT],
                                struct th_error *err)
{
    enum th_code code = TH_OK;
    for (int kind = 0; kind < TH_RISK_COUNT && code == TH_OK; kind++) {
        struct th_room low = *room, high = *room;
        th_risk_apply(&low, (enum th_risk_kind)kind, -1.0);
        th_risk_apply(&high, (enum th_risk_kind)kind, 1.0);
        code = season_gas(&low, climate, year, &ranges[kind].low_j, err);
        if (code == TH_OK)
            code = season_gas(&high, climate, year, &ranges[kind].high_j, err);
    }
    return code;
}

enum th_code th_risk_together(const struct th_room *room, const struct th_climate *climate,
                              int year, int n, double *gas_j, struct th_error *err)
{
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, TH_RISK_COUNT);
    if (!sequence)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = TH_OK;
    for (int i = 0; i < n && code == TH_OK; i++) {
        double at[TH_RISK_COUNT];
        struct th_room drawn = *room;
        gsl_qrng_get(sequence, at);
        for (int kind = 0; kind < TH_RISK_COUNT; kind++)
            th_risk_apply(&drawn, (enum th_risk_kind)kind, 2.0 * at[kind] - 1.0);
        code = season_gas(&drawn, climate, year, &gas_j[i], err);
    }
    gsl_qrng_free(sequence);
    return code;
}
