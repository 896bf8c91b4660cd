/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/climate.h"

#include "same_date.h"
#include "turnheat/calendar.h"
#include <stdlib.h>
#include <string.h>

enum th_code th_climate_slice(struct th_climate *slice, const struct th_climate *climate,
                              long first_hour, long end_hour, struct th_error *err)
{
    const long end = climate->first_hour + (long)climate->n;
    const long first = first_hour > climate->first_hour ? first_hour : climate->first_hour;
    const long n = (end_hour < end ? end_hour : end) - first;
    *slice = *climate;
    slice->first_hour = first;
    slice->n = n > 0 ? (size_t)n : 0;
    slice->hours = malloc((slice->n + 1) * sizeof *slice->hours);
    if (!slice->hours) {
        *slice = (struct th_climate){0};
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    }
    if (slice->n > 0)
        memcpy(slice->hours, climate->hours + (first - climate->first_hour),
               slice->n * sizeof *slice->hours);
    return TH_OK;
}

/* Makes the series reach from `first_hour` to before `end_hour`; new hours are missing. */
static enum th_code reach(struct th_climate *climate, long first_hour, long end_hour,
                          struct th_error *err)
{
    const long old_end = climate->first_hour + (long)climate->n;
    const long first = first_hour < climate->first_hour ? first_hour : climate->first_hour;
    const long end = end_hour > old_end ? end_hour : old_end;
    const size_t n = (size_t)(end - first);
    if (n == climate->n)
        return TH_OK;
    struct th_climate_hour *hours = calloc(n, sizeof *hours);
    if (!hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    memcpy(hours + (climate->first_hour - first), climate->hours, climate->n * sizeof *hours);
    free(climate->hours);
    climate->hours = hours;
    climate->first_hour = first;
    climate->n = n;
    return TH_OK;
}

enum th_code th_climate_borrow(struct th_climate *climate, const struct th_climate *from,
                               long first_hour, long end_hour, int years_back, struct th_error *err)
{
    if (climate->typical || climate->n == 0 || end_hour < first_hour)
        return th_fail(err, TH_ERR_RANGE, "hours are borrowed only within series of real years");
    const enum th_code code = reach(climate, first_hour, end_hour, err);
    for (long hour = first_hour; hour < end_hour && code == TH_OK;) {
        const long back_h = hour - th_same_date_hour(hour, years_back); /* all day long */
        const long midnight = 24 * (th_day_of_hour(hour) + 1);
        for (; hour < midnight && hour < end_hour; hour++) {
            struct th_climate_hour *own = &climate->hours[hour - climate->first_hour];
            const struct th_climate_hour *lent =
                own->state == TH_HOUR_MISSING ? th_climate_own(from, hour - back_h) : NULL;
            if (!lent)
                continue;
            *own = *lent;
            own->state = TH_HOUR_BORROWED;
        }
    }
    return code;
}
