/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/design.h"

#include "quantile.h"
#include "turnheat/calendar.h"
#include "turnheat/weather_summary.h"

#include <math.h>
#include <stdlib.h>

/* A year without 29 February. */
#define PLAIN_YEAR 2001
#define AROUND_DAYS 15
#define DATE_STEP 5

int th_design_date(int month, int day)
{
    const int in_month = month == 2 && day == 29 ? 28 : day;
    return (int)(th_day_number(PLAIN_YEAR, month, in_month) - th_day_number(PLAIN_YEAR, 1, 1));
}

/* First hour of a date in a year; dates before 0 lie in the year before, and so on. */
static long hour_of(int year, int date)
{
    const struct th_date d = th_date_of(th_day_number(PLAIN_YEAR, 1, 1) + date);
    return 24 * th_day_number(year + d.year - PLAIN_YEAR, d.month, d.day);
}

/* Temperatures of the hours around a date; returns how many. */
static size_t gather(const struct th_climate *climate, int date, double *temps_c)
{
    const long begin = climate->first_hour;
    const long end = begin + (long)climate->n;
    const int last_year = th_date_of(th_day_of_hour(end)).year + 1;
    size_t n = 0;
    for (int year = th_date_of(th_day_of_hour(begin)).year - 1; year <= last_year; year++) {
        const long first = hour_of(year, date - AROUND_DAYS);
        const long stop = hour_of(year, date + AROUND_DAYS + 1);
        n += th_climate_temps(climate, first > begin ? first : begin, stop < end ? stop : end,
                              temps_c + n);
    }
    return n;
}

enum th_code th_design_dates(const struct th_climate *climate, double out_c[TH_DESIGN_DATES_N],
                             struct th_error *err)
{
    double *temps = malloc((climate->n + 1) * sizeof *temps);
    if (!temps)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int date = 0; date < TH_DESIGN_DATES_N; date++) {
        out_c[date] = date % DATE_STEP ? out_c[date - 1] : NAN;
        const size_t n = date % DATE_STEP ? 0 : gather(climate, date, temps);
        if (n > 0)
            out_c[date] = th_quantile(temps, n, 0.01);
    }
    free(temps);
    return TH_OK;
}

enum th_code th_design_of(const struct th_case *one, struct th_design *design, struct th_error *err)
{
    const struct th_site *site = &one->room->site;
    struct th_dry_bulbs bulbs;
    const enum th_code code = th_weather_dry_bulbs(one->climate, &bulbs, err);
    if (code != TH_OK)
        return code;
    design->n = 0;
    if (site->has_design_99 || site->has_design_996)
        design->days[design->n++] = (struct th_design_day){
            .from = TH_DESIGN_GIVEN,
            .out_99_c = site->has_design_99 ? site->design_99_c : site->design_996_c,
            .out_996_c = site->design_996_c,
            .has_99 = site->has_design_99,
            .has_996 = site->has_design_996};
    design->days[design->n++] = (struct th_design_day){
        .from = th_climate_generated(one->climate) ? TH_DESIGN_GENERATED : TH_DESIGN_WEATHER,
        .out_99_c = bulbs.out_99_c,
        .out_996_c = bulbs.out_996_c,
        .has_99 = true,
        .has_996 = true};
    return TH_OK;
}
