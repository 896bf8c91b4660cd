/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/risk.h"

enum th_code th_risk_one_by_one(struct th_runs *runs, const struct th_room *room,
                                const struct th_climate *climate, int year,
                                struct th_risk_range ranges[TH_UNKNOWNS], struct th_error *err)
{
    int low[TH_UNKNOWNS], high[TH_UNKNOWNS];
    for (int kind = 0; kind < TH_UNKNOWNS; kind++) {
        struct th_room low_room = *room, high_room = *room;
        th_unknown_move(&low_room, (enum th_unknown)kind, -TH_UNKNOWN_EDGE_SD);
        th_unknown_move(&high_room, (enum th_unknown)kind, TH_UNKNOWN_EDGE_SD);
        low[kind] = th_runs_add(runs, &low_room, climate, year, year);
        high[kind] = th_runs_add(runs, &high_room, climate, year, year);
    }
    enum th_code code = th_runs_do(runs, "what is not known of the barn", err);
    for (int kind = 0; kind < TH_UNKNOWNS && code == TH_OK; kind++) {
        code = th_runs_gas(runs, low[kind], &ranges[kind].low_j, err);
        if (code == TH_OK)
            code = th_runs_gas(runs, high[kind], &ranges[kind].high_j, err);
    }
    return code;
}
