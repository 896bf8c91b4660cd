/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_sums.h"

#include "turnheat/calendar.h"

#include <math.h>

static void add_month(struct th_weather_sum *sum, const struct th_month_cover *month)
{
    const double known = (double)(month->observed + month->filled);
    sum->hours += (double)month->hours;
    sum->observed += (double)month->observed;
    sum->filled += (double)month->filled;
    sum->missing += (double)month->missing;
    sum->temp_c_h += month->mean_c * known;
    sum->known += known;
    sum->low_c = fmin(sum->low_c, month->low_c);
    sum->high_c = fmax(sum->high_c, month->high_c);
    sum->degree_days.hourly_k_d += month->degree_days.hourly_k_d;
    sum->degree_days.mean_k_d += month->degree_days.mean_k_d;
    sum->degree_days.midrange_k_d += month->degree_days.midrange_k_d;
    sum->degree_days.nws_f_d += month->degree_days.nws_f_d;
}

static const struct th_weather_sum nothing = {.low_c = INFINITY, .high_c = -INFINITY};

struct th_weather_sum th_months_sum(const struct th_weather_summary *summary, int month)
{
    struct th_weather_sum sum = nothing;
    for (size_t i = 0; i < summary->n_months; i++)
        if (summary->months[i].month == month)
            add_month(&sum, &summary->months[i]);
    return sum;
}

struct th_weather_sum th_year_sum(const struct th_weather_summary *summary, int year)
{
    struct th_weather_sum sum = nothing;
    for (size_t i = 0; i < summary->n_months; i++)
        if (summary->months[i].year == year)
            add_month(&sum, &summary->months[i]);
    return sum;
}

struct th_weather_sum th_season_sum(const struct th_weather_summary *summary, int year)
{
    struct th_weather_sum sum = nothing;
    for (size_t i = 0; i < summary->n_months; i++) {
        const struct th_month_cover *month = &summary->months[i];
        if (th_season_of_month(month->year, month->month) == year)
            add_month(&sum, month);
    }
    return sum;
}
