/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/design.h"

#include "turnheat/calendar.h"
#include "turnheat/units.h"
#include "turnheat/weather_summary.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>

#define BASE_C ((65.0 - 32.0) * TH_K_PER_F)

/* A year without 29 February. */
#define PLAIN_YEAR 2001
#define AROUND_DAYS 15
#define DATE_STEP 5

int th_design_date(int month, int day)
{
    const int in_month = month == 2 && day == 29 ? 28 : day;
    return (int)(th_day_number(PLAIN_YEAR, month, in_month) - th_day_number(PLAIN_YEAR, 1, 1));
}

static bool near(int date, int other)
{
    const int off = abs(date - other);
    return off <= AROUND_DAYS || off >= TH_DESIGN_DATES_N - AROUND_DAYS;
}

/* Temperatures of the hours around a date; returns how many. */
static size_t gather(const struct th_climate *climate, int date, double *temps)
{
    size_t n = 0;
    bool within = false;
    for (size_t i = 0; i < climate->n; i++) {
        const long number = climate->first_hour + (long)i;
        if (i == 0 || th_hour_of_day(number) == 0) {
            const struct th_date d = th_date_of(th_day_of_hour(number));
            within = near(th_design_date(d.month, d.day), date);
        }
        const struct th_climate_hour *hour = within ? th_climate_at(climate, number) : NULL;
        if (hour)
            temps[n++] = hour->out_c;
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
        if (n == 0)
            continue;
        gsl_sort(temps, 1, n);
        out_c[date] = gsl_stats_quantile_from_sorted_data(temps, 1, n, 0.01);
    }
    free(temps);
    return TH_OK;
}

enum th_code th_design_of(const struct th_case *one, struct th_design *design, struct th_error *err)
{
    const struct th_site *site = &one->room->site;
    struct th_weather_summary summary;
    const enum th_code code = th_weather_summarise(one->climate, BASE_C, &summary, err);
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
        .out_99_c = summary.design_99_c,
        .out_996_c = summary.design_996_c,
        .has_99 = true,
        .has_996 = true};
    th_weather_summary_finish(&summary);
    return TH_OK;
}
