/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A barn file, as for the target barn, whose room is then simulated over one season of invented
   weather. A season that is given out has finite sums and balances that close. */
#include "fuzz_file.h"

#include "../sample_room.h"
#include "barn.h"
#include "turnheat/season.h"

#include <math.h>
#include <stdlib.h>

static void check_season(const struct th_season *season)
{
    for (int i = 0; i < TH_TALLY_COUNT; i++)
        if (!isfinite(season->total.sum[i]))
            abort();
    if (!(fabs(th_tally_heat_gap(&season->total)) < 1e-6) ||
        !(fabs(th_tally_water_gap(&season->total)) < 1e-6) ||
        !(fabs(th_tally_co2_gap(&season->total)) < 1e-6) || th_tally_gas_j(&season->total) < 0.0)
        abort();
}

static void simulate(const struct th_room *room)
{
    static struct th_engine engine;
    static struct th_season season;
    static struct th_climate climate;
    struct th_error err;
    if (!climate.hours)
        climate = sample_climate(2015, 2);
    if (!climate.hours || th_engine_init(&engine, room, &err) != TH_OK)
        return;
    if (th_season_run(&engine, &climate, 2015, NULL, &season, &err) == TH_OK && season.counted)
        check_season(&season);
    th_engine_finish(&engine);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct th_barn barn;
    struct th_issues issues = {0};
    th_init();
    fuzz_file_set(data, size);
    if (th_barn_read(NULL, "room.barn", NULL, NULL, 0, &barn, &issues) == TH_OK)
        simulate(&barn.room);
    th_barn_finish(&barn);
    th_issues_finish(&issues);
    return 0;
}
