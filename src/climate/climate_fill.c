/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/calendar.h"
#include "turnheat/psychro.h"
#include "turnheat/weather.h"

#include <limits.h>
#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#define DAY_H 24
#define SHORT_GAP_H 3
#define LONG_GAP_H 24
#define LONGEST_SERIES_H (150L * 8766L)

/* One quantity of the hours of a series, filled where it stands. */
struct series {
    long n;
    bool wraps;
    struct th_climate_hour *hours;
    size_t member;         /* where in an hour the quantity stands */
    signed char *distance; /* minutes from the full hour of the report taken, or one of these */
};

enum { NOT_KNOWN = SCHAR_MAX, INTERPOLATED = SCHAR_MAX - 1, NEIGHBOUR = SCHAR_MAX - 2 };

static double *value_at(const struct series *s, long i)
{
    return (double *)(void *)((char *)&s->hours[i] + s->member);
}

static bool observed(const struct series *s, long i)
{
    return s->distance[i] < NEIGHBOUR;
}

static bool inside(const struct series *s, long i)
{
    return s->wraps || (i >= 0 && i < s->n);
}

/* Index of hour i, which must be inside: brought round the year when the series wraps. */
static long wrapped(const struct series *s, long i)
{
    return s->wraps ? ((i % s->n) + s->n) % s->n : i;
}

static bool observed_at(const struct series *s, long i)
{
    return inside(s, i) && observed(s, wrapped(s, i));
}

static void interpolate(struct series *s, long start, long length)
{
    const double before = *value_at(s, wrapped(s, start - 1));
    const double after = *value_at(s, wrapped(s, start + length));
    for (long k = 0; k < length; k++) {
        const long i = wrapped(s, start + k);
        *value_at(s, i) = before + (after - before) * (double)(k + 1) / (double)(length + 1);
        s->distance[i] = INTERPOLATED;
    }
}

static void from_neighbour_days(struct series *s, long start, long length)
{
    for (long k = start; k < start + length; k++) {
        if (!observed_at(s, k - DAY_H) || !observed_at(s, k + DAY_H))
            continue;
        const long i = wrapped(s, k);
        *value_at(s, i) =
            0.5 * (*value_at(s, wrapped(s, k - DAY_H)) + *value_at(s, wrapped(s, k + DAY_H)));
        s->distance[i] = NEIGHBOUR;
    }
}

static long first_observed(const struct series *s)
{
    long i = 0;
    while (i < s->n && !observed(s, i))
        i++;
    return i;
}

/* Gaps are looked for from the first observed hour on, once round when the series wraps. */
static void fill_gaps(struct series *s)
{
    const long first = first_observed(s);
    const long end = s->wraps ? first + s->n : s->n;
    for (long i = first; i < end;) {
        long length = 0;
        while (i + length < end && !observed_at(s, i + length))
            length++;
        const bool closed = i + length < end || s->wraps;
        if (length > 0 && length <= SHORT_GAP_H && closed)
            interpolate(s, i, length);
        else if (length > 0 && length <= LONG_GAP_H && closed)
            from_neighbour_days(s, i, length);
        i += length ? length : 1;
    }
}

static struct th_fill count(const struct series *s)
{
    struct th_fill fill = {0};
    for (long i = 0; i < s->n; i++) {
        const signed char distance = s->distance[i];
        fill.observed += distance < NEIGHBOUR;
        fill.interpolated += distance == INTERPOLATED;
        fill.neighbour += distance == NEIGHBOUR;
        fill.missing += distance == NOT_KNOWN;
    }
    return fill;
}

/* A reading within what can be; anything else counts as not observed. */
static bool within(const struct th_observation *report, enum th_quantity quantity, double low,
                   double high, double *value)
{
    *value = report->value[quantity];
    return th_observation_has(report, quantity) && *value >= low && *value <= high;
}

static bool pick_temp(const struct th_observation *report, double *value)
{
    return within(report, TH_TEMP_C, TH_IMPOSSIBLE_LOW_C, TH_IMPOSSIBLE_HIGH_C, value);
}

static bool pick_dew(const struct th_observation *report, double *value)
{
    return within(report, TH_DEW_C, TH_IMPOSSIBLE_LOW_C, TH_IMPOSSIBLE_HIGH_C, value);
}

static bool pick_pressure(const struct th_observation *report, double *value)
{
    return within(report, TH_PRESSURE_PA, TH_IMPOSSIBLE_LOW_PA, TH_IMPOSSIBLE_HIGH_PA, value);
}

static bool pick_wind(const struct th_observation *report, double *value)
{
    return within(report, TH_WIND_M_S, 0.0, TH_IMPOSSIBLE_WIND_M_S, value);
}

/* The dew point is preferred: files give it more finely than RH. */
static bool pick_rh(const struct th_observation *report, double *value)
{
    double temp_c, dew_c;
    if (pick_dew(report, &dew_c) && pick_temp(report, &temp_c))
        *value = th_psy_saturation_pressure(dew_c) / th_psy_saturation_pressure(temp_c);
    else if (th_observation_has(report, TH_RH))
        *value = report->value[TH_RH];
    else
        return false;
    *value = fmin(fmax(*value, 0.0), 1.0);
    return true;
}

static bool pick(enum th_climate_part part, const struct th_observation *report, double *value)
{
    switch (part) {
    case TH_PART_TEMP:
        return pick_temp(report, value);
    case TH_PART_HUMIDITY:
        return pick_rh(report, value);
    case TH_PART_PRESSURE:
        return pick_pressure(report, value);
    default:
        return pick_wind(report, value);
    }
}

static long nearest_hour(long minute)
{
    return (minute + 30) / 60 - ((minute + 30) % 60 < 0);
}

/* Takes for each hour and part the report nearest to it; of two equally near the later one. */
static void select_reports(struct th_climate *climate, const struct th_weather *weather,
                           struct series parts[TH_PARTS])
{
    for (size_t r = 0; r < weather->n; r++) {
        const struct th_observation *report = &weather->reports[r];
        const long minute = report->minute + climate->shift_min;
        const long hour = nearest_hour(minute);
        if (!inside(parts, hour - climate->first_hour))
            continue;
        const long i = wrapped(parts, hour - climate->first_hour);
        const long distance = labs(minute - hour * 60);
        for (int part = 0; part < TH_PARTS; part++) {
            double value;
            if (distance > parts[part].distance[i] ||
                !pick((enum th_climate_part)part, report, &value))
                continue;
            *value_at(&parts[part], i) = value;
            parts[part].distance[i] = (signed char)distance;
        }
    }
}

static double mean_known(const struct series *s)
{
    double sum = 0.0;
    size_t known = 0;
    for (long i = 0; i < s->n; i++) {
        if (s->distance[i] == NOT_KNOWN)
            continue;
        sum += *value_at(s, i);
        known++;
    }
    return known ? sum / (double)known : 0.0;
}

/* What stands in for what is not known, and humidity as the hours have it. */
static void settle(const struct series parts[TH_PARTS], double standard_pa)
{
    const double wind_m_s = mean_known(&parts[TH_PART_WIND]);
    for (long i = 0; i < parts->n; i++) {
        struct th_climate_hour *hour = &parts->hours[i];
        hour->state = parts[TH_PART_TEMP].distance[i] == NOT_KNOWN ? TH_HOUR_MISSING
                      : observed(&parts[TH_PART_TEMP], i)          ? TH_HOUR_OBSERVED
                                                                   : TH_HOUR_FILLED;
        if (hour->state == TH_HOUR_MISSING)
            hour->out_c = 0.0;
        if (parts[TH_PART_PRESSURE].distance[i] == NOT_KNOWN)
            hour->pressure_pa = standard_pa;
        if (parts[TH_PART_WIND].distance[i] == NOT_KNOWN)
            hour->wind_m_s = wind_m_s;
        const double rh =
            parts[TH_PART_HUMIDITY].distance[i] == NOT_KNOWN ? TH_DEFAULT_RH : hour->w_kg_kg;
        hour->w_kg_kg = hour->state == TH_HOUR_MISSING
                            ? 0.0
                            : th_psy_humidity_ratio(hour->out_c, rh, hour->pressure_pa);
    }
}

static void count_reports(struct th_climate *climate, const struct th_weather *weather)
{
    double ignored;
    size_t believable = 0;
    for (size_t r = 0; r < weather->n; r++) {
        if (!th_observation_has(&weather->reports[r], TH_TEMP_C))
            continue;
        if (pick_temp(&weather->reports[r], &ignored))
            believable++;
        else
            climate->impossible++;
    }
    climate->extra_reports = believable - climate->fill[TH_PART_TEMP].observed;
}

static void add_to_mean(const struct th_climate_hour *hour, int sign, double *sum, int *known)
{
    if (hour->state == TH_HOUR_MISSING)
        return;
    *sum += sign * hour->out_c;
    *known += sign;
}

/* In a typical year the first hours look back at the last ones. */
static void store_running_mean(struct th_climate *climate)
{
    const long n = (long)climate->n;
    double sum = 0.0;
    int known = 0;
    for (long i = n - DAY_H + 1; climate->typical && i < n; i++)
        add_to_mean(&climate->hours[i], 1, &sum, &known);
    for (long i = 0; i < n; i++) {
        add_to_mean(&climate->hours[i], 1, &sum, &known);
        climate->hours[i].mean24_c = known > 0 ? sum / known : 0.0;
        const long oldest = i - DAY_H + 1;
        if (oldest >= 0 || climate->typical)
            add_to_mean(&climate->hours[oldest >= 0 ? oldest : oldest + n], -1, &sum, &known);
    }
}

/* `distances` are of the hours of every part. Until they are settled hours hold RH in place of
 * humidity ratio. */
static void fill_hours(struct th_climate *climate, const struct th_weather *weather,
                       double elevation_m, signed char *distances)
{
    static const size_t members[TH_PARTS] = {
        [TH_PART_TEMP] = offsetof(struct th_climate_hour, out_c),
        [TH_PART_HUMIDITY] = offsetof(struct th_climate_hour, w_kg_kg),
        [TH_PART_PRESSURE] = offsetof(struct th_climate_hour, pressure_pa),
        [TH_PART_WIND] = offsetof(struct th_climate_hour, wind_m_s)};
    struct series parts[TH_PARTS];
    for (int part = 0; part < TH_PARTS; part++)
        parts[part] = (struct series){.n = (long)climate->n,
                                      .wraps = climate->typical,
                                      .hours = climate->hours,
                                      .member = members[part],
                                      .distance = distances + part * climate->n};
    memset(distances, NOT_KNOWN, climate->n * TH_PARTS);
    select_reports(climate, weather, parts);
    for (int part = 0; part < TH_PARTS; part++) {
        climate->fill[part] = count(&parts[part]);
        if (climate->fill[part].missing == 0)
            continue;
        fill_gaps(&parts[part]);
        climate->fill[part] = count(&parts[part]);
    }
    settle(parts, th_psy_pressure(elevation_m));
    count_reports(climate, weather);
    store_running_mean(climate);
}

static enum th_code find_shift(const struct th_weather *weather, double utc_offset_h,
                               long *shift_min, struct th_error *err)
{
    *shift_min = 0;
    if (!isnan(utc_offset_h) && !(utc_offset_h >= -12.0 && utc_offset_h <= 14.0))
        return th_fail(err, TH_ERR_RANGE, "a UTC offset of %g h; -12 to 14 h are allowed",
                       utc_offset_h);
    if (weather->clock == TH_CLOCK_UNKNOWN)
        return th_fail(err, TH_ERR_COVERAGE,
                       "%s does not say what clock its times follow; say which with --clock",
                       weather->files[0].name);
    if (weather->clock != TH_CLOCK_UTC)
        return TH_OK;
    if (isnan(utc_offset_h) && !weather->station.has_utc_offset)
        return th_fail(err, TH_ERR_COVERAGE,
                       "the hours of %s are in UTC; give the site's utc_offset (local standard "
                       "time minus UTC, as -6)",
                       weather->files[0].name);
    const double offset_h = isnan(utc_offset_h) ? weather->station.utc_offset_h : utc_offset_h;
    *shift_min = lround(offset_h * 60.0);
    return TH_OK;
}

/* First hour and number of hours from the first to the last believable temperature. */
static enum th_code find_span(struct th_climate *climate, const struct th_weather *weather,
                              struct th_error *err)
{
    if (weather->typical) {
        climate->first_hour = th_day_number(TH_TYPICAL_YEAR, 1, 1) * DAY_H;
        climate->n = 8760;
        return TH_OK;
    }
    long first = LONG_MAX;
    long last = LONG_MIN;
    double ignored;
    for (size_t i = 0; i < weather->n; i++) {
        if (!pick_temp(&weather->reports[i], &ignored))
            continue;
        const long minute = weather->reports[i].minute;
        first = minute < first ? minute : first;
        last = minute > last ? minute : last;
    }
    first = nearest_hour(first + climate->shift_min);
    last = nearest_hour(last + climate->shift_min);
    if (last - first >= LONGEST_SERIES_H)
        return th_fail(err, TH_ERR_COVERAGE,
                       "the weather spans more than 150 years; a date in it "
                       "must be wrong");
    climate->first_hour = first;
    climate->n = (size_t)(last - first + 1);
    return TH_OK;
}

static bool any_temp(const struct th_weather *weather)
{
    double ignored;
    for (size_t i = 0; i < weather->n; i++)
        if (pick_temp(&weather->reports[i], &ignored))
            return true;
    return false;
}

enum th_code th_climate_init(struct th_climate *climate, const struct th_weather *weather,
                             double elevation_m, double utc_offset_h, struct th_error *err)
{
    *climate = (struct th_climate){.typical = weather->typical};
    if (!any_temp(weather))
        return th_fail(err, TH_ERR_COVERAGE,
                       "no temperature from -70 to 125 °F among the readings of %s",
                       weather->n_files ? weather->files[0].name : "the weather");
    if (!(elevation_m >= -500.0 && elevation_m <= 6000.0))
        return th_fail(err, TH_ERR_RANGE, "an elevation of %g m; -500 to 6000 m are allowed",
                       elevation_m);
    enum th_code code = find_shift(weather, utc_offset_h, &climate->shift_min, err);
    if (!code)
        code = find_span(climate, weather, err);
    if (code)
        return code;
    signed char *distances = malloc(climate->n * TH_PARTS);
    climate->hours = malloc(climate->n * sizeof *climate->hours);
    if (distances && climate->hours)
        fill_hours(climate, weather, elevation_m, distances);
    else
        code = th_fail(err, TH_ERR_MEMORY, "out of memory");
    free(distances);
    if (code)
        th_climate_finish(climate);
    return code;
}
