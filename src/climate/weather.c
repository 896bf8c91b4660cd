/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/daylight.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_CAPACITY 1024

void th_weather_init(struct th_weather *weather)
{
    *weather = (struct th_weather){0};
}

void th_weather_finish(struct th_weather *weather)
{
    if (!weather)
        return;
    free(weather->files);
    free(weather->reports);
    th_weather_init(weather);
}

void th_weather_drop_reports(struct th_weather *weather)
{
    free(weather->reports);
    weather->reports = NULL;
    weather->n = weather->capacity = 0;
}

enum th_code th_weather_add_file(struct th_weather *weather, const char *name, struct th_error *err)
{
    struct th_weather_file *files =
        realloc(weather->files, (weather->n_files + 1) * sizeof *weather->files);
    if (!files)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    weather->files = files;
    files[weather->n_files] = (struct th_weather_file){0};
    snprintf(files[weather->n_files].name, sizeof files->name, "%s", name);
    weather->n_files++;
    return TH_OK;
}

struct th_weather_file *th_weather_last_file(struct th_weather *weather)
{
    return &weather->files[weather->n_files - 1];
}

static enum th_code reserve(struct th_weather *weather, size_t wanted, struct th_error *err)
{
    if (wanted <= weather->capacity)
        return TH_OK;
    size_t capacity = weather->capacity ? weather->capacity : FIRST_CAPACITY;
    while (capacity < wanted)
        capacity += capacity / 2;
    struct th_observation *reports = realloc(weather->reports, capacity * sizeof *reports);
    if (!reports)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    weather->reports = reports;
    weather->capacity = capacity;
    return TH_OK;
}

static void widen_span(struct th_weather_file *file, long minute)
{
    if (!file->has_span || minute < file->first_minute)
        file->first_minute = minute;
    if (!file->has_span || minute > file->last_minute)
        file->last_minute = minute;
    file->has_span = true;
}

enum th_code th_weather_add(struct th_weather *weather, const struct th_observation *report,
                            struct th_error *err)
{
    const enum th_code code = reserve(weather, weather->n + 1, err);
    if (code)
        return code;
    if (weather->n > 0 && report->minute < weather->reports[weather->n - 1].minute)
        weather->counts.out_of_order++;
    if (th_observation_has(report, TH_TEMP_C))
        widen_span(th_weather_last_file(weather), report->minute);
    else
        weather->counts.no_temp++;
    weather->reports[weather->n] = *report;
    weather->reports[weather->n].order = (unsigned)weather->n;
    weather->n++;
    return TH_OK;
}

void th_weather_refuse_row(struct th_weather *weather, long line, const char *why)
{
    struct th_weather_file *file = th_weather_last_file(weather);
    weather->counts.refused++;
    file->refused++;
    if (file->bad_line)
        return;
    file->bad_line = line;
    snprintf(file->bad_why, sizeof file->bad_why, "%s", why);
}

static bool same_station(const struct th_station *a, const struct th_station *b)
{
    if (a->id[0] && b->id[0])
        return strcmp(a->id, b->id) == 0;
    return !a->name[0] || !b->name[0] || strcmp(a->name, b->name) == 0;
}

static const char *station_label(const struct th_station *station)
{
    if (station->id[0])
        return station->id;
    return station->name[0] ? station->name : "unnamed";
}

static enum th_code check_join(const struct th_weather *a, const struct th_weather *b,
                               struct th_error *err)
{
    const char *first = a->files[0].name;
    const char *other = b->files[0].name;
    if (a->typical && b->typical)
        return th_fail(err, TH_ERR_INPUT, "%s and %s are two typical years; use one of them", first,
                       other);
    if (a->typical || b->typical)
        return th_fail(err, TH_ERR_INPUT,
                       "%s is a typical year and %s holds actual weather; use one kind in a run",
                       a->typical ? first : other, a->typical ? other : first);
    if (!same_station(&a->station, &b->station))
        return th_fail(err, TH_ERR_INPUT,
                       "two stations in one run: %s in %s and %s in %s; use files of one station",
                       station_label(&a->station), first, station_label(&b->station), other);
    if (a->form && b->form && strcmp(a->form, b->form) != 0)
        return th_fail(err, TH_ERR_INPUT, "two forms in one run: %s is %s and %s is %s", first,
                       a->form, other, b->form);
    if (a->clock != b->clock)
        return th_fail(err, TH_ERR_INPUT, "%s and %s do not run on the same clock", first, other);
    return TH_OK;
}

static void add_counts(struct th_weather_counts *sum, const struct th_weather_counts *more)
{
    sum->rows += more->rows;
    sum->refused += more->refused;
    sum->duplicates += more->duplicates;
    sum->other_type += more->other_type;
    sum->no_temp += more->no_temp;
    sum->suspect += more->suspect;
    sum->out_of_order += more->out_of_order;
    sum->leap_rows += more->leap_rows;
}

static enum th_code append(struct th_weather *weather, const struct th_weather *more,
                           struct th_error *err)
{
    struct th_weather_file *files =
        realloc(weather->files, (weather->n_files + more->n_files) * sizeof *files);
    if (!files)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    weather->files = files;
    const enum th_code code = reserve(weather, weather->n + more->n, err);
    if (code)
        return code;
    memcpy(files + weather->n_files, more->files, more->n_files * sizeof *files);
    weather->n_files += more->n_files;
    for (size_t i = 0; i < more->n; i++) {
        weather->reports[weather->n] = more->reports[i];
        weather->reports[weather->n].order = (unsigned)weather->n;
        weather->n++;
    }
    add_counts(&weather->counts, &more->counts);
    return TH_OK;
}

enum th_code th_weather_join(struct th_weather *weather, struct th_weather *more,
                             struct th_error *err)
{
    enum th_code code = TH_OK;
    if (weather->n_files == 0) {
        th_weather_finish(weather);
        *weather = *more;
        th_weather_init(more);
        return TH_OK;
    }
    code = check_join(weather, more, err);
    if (!code)
        code = append(weather, more, err);
    if (!code)
        th_weather_finish(more);
    return code;
}

static int by_time(const void *left, const void *right)
{
    const struct th_observation *a = left;
    const struct th_observation *b = right;
    if (a->minute != b->minute)
        return a->minute < b->minute ? -1 : 1;
    return (a->order > b->order) - (a->order < b->order);
}

static bool in_order(const struct th_weather *weather)
{
    for (size_t i = 1; i < weather->n; i++)
        if (weather->reports[i].minute < weather->reports[i - 1].minute)
            return false;
    return true;
}

/* Of one minute the last report wins, unless only an earlier one has a temperature. */
static void drop_repeats(struct th_weather *weather)
{
    size_t kept = 0;
    for (size_t i = 0; i < weather->n; i++) {
        const struct th_observation *report = &weather->reports[i];
        struct th_observation *last = kept ? &weather->reports[kept - 1] : NULL;
        if (!last || last->minute != report->minute) {
            if (kept != i)
                weather->reports[kept] = *report;
            kept++;
            continue;
        }
        weather->counts.duplicates++;
        if (th_observation_has(report, TH_TEMP_C) || !th_observation_has(last, TH_TEMP_C))
            *last = *report;
    }
    weather->n = kept;
}

void th_weather_order(struct th_weather *weather)
{
    if (weather->typical || weather->n == 0)
        return;
    if (weather->clock == TH_CLOCK_DAYLIGHT)
        th_weather_standard_time(weather);
    if (!in_order(weather))
        qsort(weather->reports, weather->n, sizeof *weather->reports, by_time);
    drop_repeats(weather);
}
