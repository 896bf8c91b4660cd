/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/climate.h"

#include <stdlib.h>

/* The place of an hour in the list, or one outside it. */
static long place_of(const struct th_climate *climate, long hour_number)
{
    const long n = (long)climate->n;
    const long i = hour_number - climate->first_hour;
    return climate->typical && n > 0 ? ((i % n) + n) % n : i;
}

static enum th_hour_state state_of(const struct th_climate *climate, long place)
{
    const bool inside = place >= 0 && place < (long)climate->n;
    return inside ? climate->hours[place].state : TH_HOUR_MISSING;
}

const struct th_climate_hour *th_climate_at(const struct th_climate *climate, long hour_number)
{
    const long i = place_of(climate, hour_number);
    return state_of(climate, i) == TH_HOUR_MISSING ? NULL : &climate->hours[i];
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
    long i = place_of(climate, first_hour);
    for (long h = first_hour; h < first_hour + hours; h++, i++) {
        if (climate->typical && i == (long)climate->n)
            i = 0;
        const enum th_hour_state state = state_of(climate, i);
        cover.filled += state == TH_HOUR_FILLED;
        cover.borrowed += state == TH_HOUR_BORROWED;
        if (state != TH_HOUR_MISSING)
            continue;
        if (cover.missing++ == 0)
            cover.first_missing = h;
        cover.last_missing = h;
    }
    cover.usable =
        cover.missing == 0 && (double)cover.filled <= TH_FILLED_SHARE_MAX * (double)hours;
    return cover;
}
