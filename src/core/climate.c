/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/climate.h"

#include <stdlib.h>

const struct th_climate_hour *th_climate_at(const struct th_climate *climate, long hour_number)
{
    const long n = (long)climate->n;
    long i = hour_number - climate->first_hour;
    if (climate->typical && n > 0)
        i = ((i % n) + n) % n;
    if (i < 0 || i >= n || climate->hours[i].state == TH_HOUR_MISSING)
        return NULL;
    return &climate->hours[i];
}

const struct th_climate_hour *th_climate_own(const struct th_climate *climate, long hour_number)
{
    const struct th_climate_hour *hour = th_climate_at(climate, hour_number);
    return hour && hour->state != TH_HOUR_BORROWED ? hour : NULL;
}

size_t th_climate_temps(const struct th_climate *climate, long first_hour, long end_hour,
                        double *temps_c)
{
    size_t n = 0;
    for (long h = first_hour; h < end_hour; h++) {
        const struct th_climate_hour *hour = th_climate_at(climate, h);
        if (hour)
            temps_c[n++] = hour->out_c;
    }
    return n;
}

void th_climate_finish(struct th_climate *climate)
{
    if (!climate)
        return;
    free(climate->hours);
    *climate = (struct th_climate){0};
}

struct th_span_cover th_climate_coverage(const struct th_climate *climate, long first_hour,
                                         long hours)
{
    struct th_span_cover cover = {.first_hour = first_hour, .hours = hours};
    for (long h = first_hour; h < first_hour + hours; h++) {
        const struct th_climate_hour *hour = th_climate_at(climate, h);
        if (hour) {
            cover.filled += hour->state == TH_HOUR_FILLED;
            cover.borrowed += hour->state == TH_HOUR_BORROWED;
            continue;
        }
        if (cover.missing++ == 0)
            cover.first_missing = h;
        cover.last_missing = h;
    }
    cover.usable =
        cover.missing == 0 && (double)cover.filled <= TH_FILLED_SHARE_MAX * (double)hours;
    return cover;
}
