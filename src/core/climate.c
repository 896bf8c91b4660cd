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

void th_climate_finish(struct th_climate *climate)
{
    if (!climate)
        return;
    free(climate->hours);
    *climate = (struct th_climate){0};
}
