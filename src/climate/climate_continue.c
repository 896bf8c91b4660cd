/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/climate.h"

#include "same_date.h"
#include "turnheat/calendar.h"
#include <stdlib.h>
#include <string.h>

long th_same_date_hour(long hour_number, int years_back)
{
    struct th_date d = th_date_of(th_day_of_hour(hour_number));
    d.year -= years_back;
    if (!th_date_valid(d.year, d.month, d.day))
        d.day--;
    return 24 * th_day_number(d.year, d.month, d.day) + th_hour_of_day(hour_number);
}

enum th_code th_climate_continue(struct th_climate *out, const struct th_climate *actual,
                                 long from_hour, long end_hour, int years_back,
                                 struct th_error *err)
{
    const long kept = from_hour - actual->first_hour;
    *out = (struct th_climate){.first_hour = actual->first_hour};
    if (actual->typical || years_back < 1 || kept < 0 || kept > (long)actual->n ||
        end_hour < from_hour)
        return th_fail(err, TH_ERR_RANGE, "a series can be continued only from an hour it holds");
    out->n = (size_t)(end_hour - actual->first_hour);
    out->hours = calloc(out->n > 0 ? out->n : 1, sizeof *out->hours);
    if (!out->hours)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    memcpy(out->hours, actual->hours, (size_t)kept * sizeof *out->hours);
    for (long hour = from_hour; hour < end_hour; hour++) {
        const struct th_climate_hour *donor =
            th_climate_at(actual, th_same_date_hour(hour, years_back));
        if (donor)
            out->hours[hour - actual->first_hour] = *donor;
    }
    return TH_OK;
}
