/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What holds of every season that is given out, whatever the room. */
#ifndef TURNHEAT_TESTS_SOUND_SEASON_H
#define TURNHEAT_TESTS_SOUND_SEASON_H

#include "sample_room.h"
#include "turnheat/season.h"

/** Its sums are finite, its balances close, and it burns no less than nothing. */
static inline bool season_is_sound(const struct th_season *season)
{
    for (int i = 0; i < TH_TALLY_COUNT; i++)
        if (!isfinite(season->total.sum[i]))
            return false;
    return fabs(th_tally_heat_gap(&season->total)) < 1e-6 &&
           fabs(th_tally_water_gap(&season->total)) < 1e-6 &&
           fabs(th_tally_co2_gap(&season->total)) < 1e-6 && th_tally_gas_j(&season->total) >= 0.0;
}

/** Simulates a season of invented weather; false when one is given out that is not sound. */
static inline bool room_is_sound(const struct th_room *room)
{
    static struct th_engine engine;
    static struct th_season season;
    static struct th_climate climate;
    struct th_error err;
    if (!climate.hours)
        climate = sample_climate(2015, 2);
    if (!climate.hours || th_engine_init(&engine, room, &err) != TH_OK)
        return true;
    const enum th_code code = th_season_run(&engine, &climate, 2015, NULL, &season, &err);
    th_engine_finish(&engine);
    return code != TH_OK || !season.counted || season_is_sound(&season);
}

#endif
