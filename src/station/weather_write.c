/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_write.h"

#include "turnheat/calendar.h"

static void write_value(const struct th_observation *o, enum th_quantity quantity, FILE *out)
{
    if (th_observation_has(o, quantity))
        fprintf(out, ",%.1f", o->value[quantity]);
    else
        fputc(',', out);
}

void th_weather_write(const struct th_weather *weather, const char *remark, FILE *out)
{
    fprintf(out, "# %s\n%s,temp_c,dew_point_c,wind_m_s\n", remark,
            weather->clock == TH_CLOCK_UTC ? "time_utc" : "time");
    for (size_t i = 0; i < weather->n; i++) {
        const struct th_observation *o = &weather->reports[i];
        const long hour = o->minute / 60 - (o->minute % 60 < 0);
        const struct th_date d = th_date_of(th_day_of_hour(hour));
        fprintf(out, "%d-%02d-%02d %02d:%02d", d.year, d.month, d.day, th_hour_of_day(hour),
                (int)(o->minute - hour * 60));
        write_value(o, TH_TEMP_C, out);
        write_value(o, TH_DEW_C, out);
        write_value(o, TH_WIND_M_S, out);
        fputc('\n', out);
    }
}
