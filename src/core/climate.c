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

const struct th_climate_hour *th_climate_at(const struct th_climate *climate, long hour_number)
{
    const long i = place_of(climate, hour_number);
    const bool inside = i >= 0 && i < (long)climate->n;
    return inside && climate->hours[i].state != TH_HOUR_MISSING ? &climate->hours[i] : NULL;
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

/* The hours from `hour_number` on that lie side by side, NULL for those outside the series, and how
 * many there are before `end_hour`. */
static const struct th_climate_hour *side_by_side(const struct th_climate *climate,
                                                  long hour_number, long end_hour, long *n)
{
    const long all = (long)climate->n;
    const long i = place_of(climate, hour_number);
    const bool inside = i >= 0 && i < all;
    *n = end_hour - hour_number;
    if (inside && *n > all - i)
        *n = all - i;
    if (i < 0 && *n > -i)
        *n = -i;
    return inside ? &climate->hours[i] : NULL;
}

static void count_missing(struct th_span_cover *cover, long hour_number, long n)
{
    if (cover->missing == 0)
        cover->first_missing = hour_number;
    cover->last_missing = hour_number + n - 1;
    cover->missing += n;
}

struct th_span_cover th_climate_coverage(const struct th_climate *climate, long first_hour,
                                         long hours)
{
    struct th_span_cover cover = {.first_hour = first_hour, .hours = hours};
    const long end = first_hour + hours;
    for (long h = first_hour, n = 0; h < end; h += n) {
        const struct th_climate_hour *hour = side_by_side(climate, h, end, &n);
        if (!hour)
            count_missing(&cover, h, n);
        for (long k = 0; hour && k < n; k++) {
            if (hour[k].state == TH_HOUR_OBSERVED)
                continue;
            cover.filled += hour[k].state == TH_HOUR_FILLED;
            cover.borrowed += hour[k].state == TH_HOUR_BORROWED;
            if (hour[k].state == TH_HOUR_MISSING)
                count_missing(&cover, h + k, 1);
        }
    }
    cover.usable =
        cover.missing == 0 && (double)cover.filled <= TH_FILLED_SHARE_MAX * (double)hours;
    return cover;
}
