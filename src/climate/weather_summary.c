/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/weather_summary.h"

#include "quantile.h"
#include "turnheat/calendar.h"
#include "turnheat/season.h"
#include <math.h>
#include <stdlib.h>

#define DAY_H 24

struct span {
    long first, end;
};

static struct span span_of(const struct th_climate *climate)
{
    return (struct span){climate->first_hour, climate->first_hour + (long)climate->n};
}

static struct span season_of(int year)
{
    return (struct span){th_season_first_day(year) * DAY_H, th_season_first_day(year + 1) * DAY_H};
}

static void read_month(const struct th_climate *climate, struct th_month_cover *month,
                       double base_c)
{
    const long first = th_day_number(month->year, month->month, 1) * DAY_H;
    const bool last = month->month == 12;
    const long end = th_day_number(month->year + last, last ? 1 : month->month + 1, 1) * DAY_H;
    double sum = 0.0;
    month->hours = end - first;
    month->low_c = INFINITY;
    month->high_c = -INFINITY;
    for (long h = first; h < end; h++) {
        const struct th_climate_hour *hour = th_climate_at(climate, h);
        if (!hour) {
            month->missing++;
            continue;
        }
        month->observed += hour->state == TH_HOUR_OBSERVED;
        month->filled += hour->state == TH_HOUR_FILLED;
        month->low_c = fmin(month->low_c, hour->out_c);
        month->high_c = fmax(month->high_c, hour->out_c);
        sum += hour->out_c;
    }
    const long known = month->observed + month->filled;
    month->has_temp = known > 0;
    month->mean_c = known ? sum / (double)known : 0.0;
    month->degree_days = th_degree_days_count(climate, first, month->hours, base_c);
}

static enum th_code list_months(const struct th_climate *climate, struct th_weather_summary *s,
                                struct th_error *err)
{
    const struct span span = span_of(climate);
    const struct th_date from = th_date_of(th_day_of_hour(span.first));
    const struct th_date to = th_date_of(th_day_of_hour(span.end - 1));
    s->n_months = (size_t)((to.year - from.year) * 12 + to.month - from.month + 1);
    s->months = calloc(s->n_months, sizeof *s->months);
    if (!s->months)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t i = 0; i < s->n_months; i++) {
        const int months = from.month - 1 + (int)i;
        s->months[i].year = from.year + months / 12;
        s->months[i].month = months % 12 + 1;
        read_month(climate, &s->months[i], s->base_c);
    }
    return TH_OK;
}

static enum th_code list_seasons(const struct th_climate *climate, struct th_weather_summary *s,
                                 struct th_error *err)
{
    int first, last;
    th_season_range(climate, &first, &last);
    s->n_seasons = (size_t)(last - first + 1);
    s->seasons = calloc(s->n_seasons, sizeof *s->seasons);
    if (!s->seasons)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (int year = first; year <= last; year++) {
        struct th_season_cover *season = &s->seasons[year - first];
        const struct span span = season_of(year);
        const long hours = span.end - span.first;
        season->year = year;
        season->span = th_climate_coverage(climate, span.first, hours);
        season->degree_days = th_degree_days_count(climate, span.first, hours, s->base_c);
    }
    return TH_OK;
}

static enum th_code add_odd(struct th_weather_summary *s, struct th_odd odd, struct th_error *err)
{
    struct th_odd *list = realloc(s->odd, (s->n_odd + 1) * sizeof *list);
    if (!list)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    s->odd = list;
    list[s->n_odd++] = odd;
    *(odd.kind == TH_ODD_STUCK ? &s->stuck : &s->spikes) += 1;
    return TH_OK;
}

static const struct th_climate_hour *observed_at(const struct th_climate *climate, size_t i)
{
    if (i >= climate->n || climate->hours[i].state != TH_HOUR_OBSERVED)
        return NULL;
    return &climate->hours[i];
}

/* Length of the stretch of observed hours from `i` on that read the same. */
static size_t same_from(const struct th_climate *climate, size_t i)
{
    const struct th_climate_hour *first = observed_at(climate, i);
    size_t length = 0;
    for (const struct th_climate_hour *hour = first; hour && hour->out_c == first->out_c;
         hour = observed_at(climate, i + length))
        length++;
    return length;
}

static enum th_code find_stuck(const struct th_climate *climate, struct th_weather_summary *s,
                               struct th_error *err)
{
    enum th_code code = TH_OK;
    for (size_t i = 0; i < climate->n && !code;) {
        const size_t length = same_from(climate, i);
        if (length >= TH_STUCK_HOURS)
            code = add_odd(s,
                           (struct th_odd){.kind = TH_ODD_STUCK,
                                           .first_hour = climate->first_hour + (long)i,
                                           .hours = (long)length,
                                           .temp_c = climate->hours[i].out_c},
                           err);
        i += length ? length : 1;
    }
    return code;
}

static enum th_code find_spikes(const struct th_climate *climate, struct th_weather_summary *s,
                                struct th_error *err)
{
    enum th_code code = TH_OK;
    for (size_t i = 1; i < climate->n && !code; i++) {
        const struct th_climate_hour *before = observed_at(climate, i - 1);
        const struct th_climate_hour *hour = observed_at(climate, i);
        if (!before || !hour || fabs(hour->out_c - before->out_c) <= TH_SPIKE_K)
            continue;
        code = add_odd(s,
                       (struct th_odd){.kind = TH_ODD_SPIKE,
                                       .first_hour = climate->first_hour + (long)i,
                                       .hours = 1,
                                       .temp_c = hour->out_c,
                                       .change_k = hour->out_c - before->out_c},
                       err);
    }
    return code;
}

static void find_extremes(const struct th_climate *climate, struct th_weather_summary *s)
{
    s->low_c = INFINITY;
    s->high_c = -INFINITY;
    for (size_t i = 0; i < climate->n; i++) {
        const struct th_climate_hour *hour = &climate->hours[i];
        if (hour->state == TH_HOUR_MISSING || hour->state == TH_HOUR_BORROWED)
            continue;
        s->high_c = fmax(s->high_c, hour->out_c);
        if (hour->out_c >= s->low_c)
            continue;
        s->low_c = hour->out_c;
        s->low_hour = climate->first_hour + (long)i;
    }
}

static bool has_temps(const struct th_climate *climate, struct th_error *err)
{
    if (climate->n > 0 && climate->fill[TH_PART_TEMP].observed > 0)
        return true;
    th_fail(err, TH_ERR_COVERAGE, "no hour has a temperature");
    return false;
}

/* A year cut short in summer would make the winter's share too large, so whole seasons are used
   where there are any. ASHRAE's percentages are of the hours of the year. */
enum th_code th_weather_dry_bulbs(const struct th_climate *climate, struct th_dry_bulbs *bulbs,
                                  struct th_error *err)
{
    *bulbs = (struct th_dry_bulbs){0};
    if (!has_temps(climate, err))
        return TH_ERR_COVERAGE;
    double *temps = malloc(climate->n * sizeof *temps);
    size_t n = 0;
    int first, last;
    if (!temps)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_season_range(climate, &first, &last);
    for (int year = first; year <= last; year++) {
        const struct span season = season_of(year);
        if (!th_climate_coverage(climate, season.first, season.end - season.first).usable)
            continue;
        n += th_climate_temps(climate, season.first, season.end, temps + n);
        bulbs->years++;
    }
    bulbs->whole_years = bulbs->years > 0;
    if (!bulbs->whole_years)
        n = th_climate_temps(climate, climate->first_hour, climate->first_hour + (long)climate->n,
                             temps);
    bulbs->out_99_c = th_quantile(temps, n, 0.01);
    bulbs->out_996_c = th_quantile(temps, n, 0.004);
    free(temps);
    return TH_OK;
}

static void count_all(const struct th_climate *climate, struct th_weather_summary *s)
{
    const long first = th_day_of_hour(climate->first_hour) * DAY_H;
    const struct span span = span_of(climate);
    const size_t hours = climate->fill[TH_PART_TEMP].observed;
    s->degree_days = th_degree_days_count(climate, first, span.end - first, s->base_c);
    s->mean_reports = (double)(hours + climate->extra_reports) / (double)hours;
}

enum th_code th_weather_summarise(const struct th_climate *climate, double base_c,
                                  struct th_weather_summary *summary, struct th_error *err)
{
    *summary = (struct th_weather_summary){.base_c = base_c};
    if (!has_temps(climate, err))
        return TH_ERR_COVERAGE;
    enum th_code code = list_months(climate, summary, err);
    if (!code)
        code = list_seasons(climate, summary, err);
    if (!code)
        code = find_stuck(climate, summary, err);
    if (!code)
        code = find_spikes(climate, summary, err);
    if (!code)
        code = th_weather_dry_bulbs(climate, &summary->dry_bulbs, err);
    if (code) {
        th_weather_summary_finish(summary);
        return code;
    }
    find_extremes(climate, summary);
    count_all(climate, summary);
    return TH_OK;
}

void th_weather_summary_finish(struct th_weather_summary *summary)
{
    if (!summary)
        return;
    free(summary->months);
    free(summary->seasons);
    free(summary->odd);
    *summary = (struct th_weather_summary){0};
}
