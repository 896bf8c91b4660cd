/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/record_share.h"

#include "turnheat/calendar.h"

#include <stdlib.h>

/* Place in the fuel year of a date that may be of another one. */
static long place_of(const struct th_fuel_year *year, long day)
{
    const struct th_date d = th_date_of(day);
    const int own = year->year + (d.month < TH_SEASON_MONTH);
    const int last = th_date_valid(own, d.month, d.day) ? d.day : 28;
    return th_day_number(own, d.month, last) - year->first_day;
}

/* Of the season's gallons, those of the days from `first_day` to `last_day`. */
static double share_in(const struct th_fuel_year *year, long first_day, long last_day)
{
    double gal = 0.0;
    const long end = place_of(year, last_day);
    for (long day = place_of(year, first_day); day <= end; day++)
        gal += year->day_gal[day];
    return year->barns_gal > 0.0 ? gal / year->barns_gal : 0.0;
}

/* Of their own season, which starts in `own`, else the mean of all. */
static double share_of(const struct th_demand *demand, int own, long first_day, long last_day)
{
    double sum = 0.0;
    for (int y = 0; y < demand->n; y++) {
        const struct th_fuel_year *year = &demand->years[y];
        if (!year->usable)
            continue;
        const double share = share_in(year, first_day, last_day);
        if (year->year == own && !demand->typical)
            return share;
        sum += share / demand->n_usable;
    }
    return sum;
}

static void set_shares(const struct th_demand *demand, struct th_record *record)
{
    const long turn_of_year = th_season_first_day(record->year + 1);
    const bool on = record->last_day >= turn_of_year;
    record->share =
        share_of(demand, record->year, record->first_day, on ? turn_of_year - 1 : record->last_day);
    record->next_share =
        on ? share_of(demand, record->year + 1, turn_of_year, record->last_day) : 0.0;
}

enum th_code th_record_find_share(struct th_runs *runs, const struct th_case *cases, int n,
                                  struct th_record *record, struct th_error *err)
{
    struct th_demand demand;
    struct th_case *own = calloc((size_t)n, sizeof *own);
    int n_own = 0;
    if (!own)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int b = 0; b < n; b++)
        if (record->barns == 0 || (record->barns >> b & 1ul))
            own[n_own++] = cases[b];
    const enum th_code code = th_demand_run(runs, own, n_own, NULL, 0, &demand, err);
    free(own);
    if (code != TH_OK)
        return code;
    set_shares(&demand, record);
    th_demand_finish(&demand);
    const double seasons = record->share + record->next_share;
    if (seasons < TH_RECORD_SHARE_LEAST)
        return th_fail(err, TH_ERR_INPUT,
                       "[record %s]: its days take %.0f %% of a season's gas, too little to tell "
                       "of it; expected days that take at least %.0f %%",
                       record->name, 100.0 * seasons, 100.0 * TH_RECORD_SHARE_LEAST);
    return TH_OK;
}
