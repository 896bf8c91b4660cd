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

static double share_in(const struct th_fuel_year *year, const struct th_record *record)
{
    double gal = 0.0;
    const long end = place_of(year, record->last_day);
    for (long day = place_of(year, record->first_day); day <= end; day++)
        gal += year->day_gal[day];
    return year->barns_gal > 0.0 ? gal / year->barns_gal : 0.0;
}

/* Of its own season, else of all. */
static double share_of(const struct th_demand *demand, const struct th_record *record)
{
    double sum = 0.0;
    for (int y = 0; y < demand->n; y++) {
        const struct th_fuel_year *year = &demand->years[y];
        if (!year->usable)
            continue;
        if (year->year == record->year && !demand->typical)
            return share_in(year, record);
        sum += share_in(year, record) / demand->n_usable;
    }
    return sum;
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
    record->share = share_of(&demand, record);
    th_demand_finish(&demand);
    if (record->share < TH_RECORD_SHARE_LEAST)
        return th_fail(err, TH_ERR_INPUT,
                       "[record %s]: its days take %.0f %% of a season's gas, too little to tell "
                       "of it; expected days that take at least %.0f %%",
                       record->name, 100.0 * record->share, 100.0 * TH_RECORD_SHARE_LEAST);
    return TH_OK;
}
