/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "commands.h"
#include "display.h"
#include "utf8.h"
#include "normals_read.h"
#include "output.h"
#include "place_weather.h"
#include "deliver.h"
#include "turnheat/places.h"
#include "turnheat/units.h"
#include "weather_options.h"
#include "weather_report.h"
#include "weather_write.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const struct th_option own_options[] = {
    {"base", "DEGREES", "base of the degree-days, °F; 65 without it", false, 0, false},
    {"normals", "FILE", "make the weather from monthly statistics instead of reading files", false,
     0, false},
    {"place", "TOWN,STATE",
     "make the weather of one of the places turnheat knows instead of reading files", false, 0,
     false},
    {"places", NULL,
     "list the places turnheat knows: all, those of a WORD or the nearest to LATITUDE,LONGITUDE",
     false, 0, false},
    {"seasons", "N", "how many seasons to make; 30 without it", false, 0, false},
    {"seed", "N", "which of the possible series to make; 1 without it", false, 0, false},
    {"out", "FILE", "write what was made as an hourly table that other commands read", false, 0,
     false},
};

/* Files are operands here; --weather means the same. The list is to be freed. */
static const char **list_paths(const struct th_arguments *arguments, size_t *n)
{
    const size_t named = th_given_count(arguments, "weather");
    const char **paths = calloc(arguments->n_operands + named + 1, sizeof *paths);
    *n = 0;
    for (size_t i = 0; paths && i < arguments->n_operands; i++)
        paths[(*n)++] = arguments->operands[i];
    for (size_t i = 0; paths && i < named; i++)
        paths[(*n)++] = th_given_nth(arguments, "weather", i);
    return paths;
}

/* Description must not fail for want of a clock or an offset: the files' own times are used. */
static void settle_clock(struct th_weather *weather, struct th_report *report)
{
    if (weather->clock == TH_CLOCK_UNKNOWN) {
        weather->clock = TH_CLOCK_STANDARD;
        th_report_warning(report, "The files do not say what clock their times follow. They are "
                                  "shown as written; other commands need --clock.");
    } else if (weather->clock == TH_CLOCK_UTC && !weather->station.has_utc_offset) {
        weather->station.has_utc_offset = true;
        weather->station.utc_offset_h = 0.0;
        th_report_warning(report, "Hours in UTC: without --utc-offset days and seasons begin at "
                                  "00:00 UTC. A budget needs the site's offset.");
    }
}

static enum th_code describe(const struct th_arguments *arguments, struct th_weather *weather,
                             struct th_report *report, struct th_error *err)
{
    struct th_climate climate;
    struct th_weather_summary summary;
    double base_f = 65.0;
    enum th_code code = th_given_number(arguments, "base", 0.0, 100.0, &base_f, err);
    if (code)
        return code;
    const double elevation_m = weather->station.has_elevation ? weather->station.elevation_m : 0.0;
    settle_clock(weather, report);
    code = th_climate_init(&climate, weather, elevation_m, NAN, err);
    if (code)
        return code;
    code = th_weather_summarise(&climate, th_c_from_f(base_f), &summary, err);
    if (!code) {
        th_weather_report(report, weather, &climate, &summary);
        code = th_deliver(arguments, report, err);
    }
    th_weather_summary_finish(&summary);
    th_climate_finish(&climate);
    return code;
}

static enum th_code read_files(const struct th_arguments *arguments, struct th_weather *weather,
                               struct th_error *err)
{
    struct th_weather_options options;
    size_t n;
    enum th_code code = th_weather_options_given(arguments, &options, err);
    if (code)
        return code;
    const char **paths = list_paths(arguments, &n);
    if (!paths)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    if (n == 0)
        code = th_fail(err, TH_ERR_USAGE, "which weather files?");
    else
        code = th_weather_read(arguments->files, paths, (int)n, &options, weather, err);
    free(paths);
    return code;
}

static enum th_code make_series(const struct th_arguments *arguments, struct th_weather *weather,
                                struct th_error *err)
{
    struct th_normals normals;
    long long seasons = 30, seed = 1;
    if (arguments->n_operands || th_given_count(arguments, "weather"))
        return th_fail(err, TH_ERR_USAGE, "either weather files or --normals");
    enum th_code code =
        th_given_whole(arguments, "seasons", 1, TH_NORMAL_SEASONS_MAX, &seasons, err);
    if (!code)
        code = th_given_whole(arguments, "seed", 0, TH_SEED_MOST, &seed, err);
    if (!code)
        code =
            th_normals_read(arguments->files, th_given_text(arguments, "normals"), &normals, err);
    if (!code && normals.spread_of_places)
        th_issues_warning(th_shared_issues(arguments), NULL,
                          "%s gives means alone: spread, correlation and range are those of the "
                          "nearest known places",
                          th_given_text(arguments, "normals"));
    return code ? code
                : th_normals_generate(&normals, (int)seasons, (unsigned long)seed, weather, err);
}

static enum th_code make_place(const struct th_arguments *arguments, struct th_weather *weather,
                               struct th_error *err)
{
    const struct th_places_row *row;
    long long seasons = TH_PLACE_SEASONS, seed = TH_PLACE_SEED;
    struct th_site site = {.has_latitude = true};
    if (arguments->n_operands || th_given_count(arguments, "weather") ||
        th_given_count(arguments, "normals"))
        return th_fail(err, TH_ERR_USAGE, "either weather files, --normals or --place");
    enum th_code code =
        th_given_whole(arguments, "seasons", 1, TH_NORMAL_SEASONS_MAX, &seasons, err);
    if (!code)
        code = th_given_whole(arguments, "seed", 0, TH_SEED_MOST, &seed, err);
    if (!code && th_places_find(th_given_text(arguments, "place"), &row, err))
        code = TH_ERR_USAGE;
    if (code)
        return code;
    site.latitude_deg = row->latitude_deg;
    site.longitude_deg = row->longitude_deg;
    site.elevation_m = row->elevation_m;
    snprintf(site.place, sizeof site.place, "%s, %s", row->name, row->state);
    return th_place_weather_make(&site, (int)seasons, (unsigned long)seed, weather,
                                 th_shared_issues(arguments), err);
}

/* A word may be several operands: --places north carolina. */
static enum th_code list_places(const struct th_arguments *arguments, struct th_error *err)
{
    char word[128] = "";
    char *end = word;
    size_t length = 0;
    for (size_t i = 0; i < arguments->n_operands && length < sizeof word - 1; i++)
        length += (size_t)snprintf(word + length, sizeof word - length, "%s%s", i ? " " : "",
                                   arguments->operands[i]);
    const double latitude_deg = strtod(word, &end);
    const bool point = end > word && *end == ',';
    const char *const second = point ? end + 1 : word;
    const double longitude_deg = point ? strtod(second, &end) : 0.0;
    if (point &&
        (end == second || *end || !(fabs(latitude_deg) <= 90.0) || !(fabs(longitude_deg) <= 180.0)))
        return th_fail(err, TH_ERR_USAGE,
                       "--places %.60s: a word or latitude,longitude was expected, such as "
                       "--places iowa or --places 35.0,-78.3",
                       word);
    struct th_report *const report = th_report_new("weather");
    if (point)
        th_places_report_near(report, latitude_deg, longitude_deg);
    else
        th_places_report_named(report, *word ? word : NULL);
    const enum th_code code = th_deliver(arguments, report, err);
    th_report_free(report);
    return code;
}

static enum th_code write_series(const struct th_arguments *arguments,
                                 const struct th_weather *weather, struct th_error *err)
{
    struct th_output output;
    char remark[256], harmless[3 * sizeof remark];
    const char *path = th_given_text(arguments, "out");
    if (!path)
        return TH_OK;
    const enum th_code code = th_output_open(&output, arguments->files, path, err);
    if (code)
        return code;
    snprintf(remark, sizeof remark, "%.120s; invented weather: %.120s", weather->station.name,
             weather->units_note);
    th_make_harmless(harmless, remark);
    th_weather_write(weather, harmless, output.file);
    return th_output_commit(&output, err);
}

static enum th_code run(const struct th_arguments *arguments, struct th_error *err)
{
    struct th_weather weather;
    const bool placed = th_given_count(arguments, "place") > 0;
    const bool made = placed || th_given_count(arguments, "normals") > 0;
    if (th_given_count(arguments, "places"))
        return list_places(arguments, err);
    th_weather_init(&weather);
    if (!made && (th_given_count(arguments, "out") || th_given_count(arguments, "seed") ||
                  th_given_count(arguments, "seasons")))
        return th_fail(err, TH_ERR_USAGE, "--seasons, --seed and --out need --place or --normals");
    enum th_code code = placed ? make_place(arguments, &weather, err)
                        : made ? make_series(arguments, &weather, err)
                               : read_files(arguments, &weather, err);
    if (!code)
        code = write_series(arguments, &weather, err);
    if (!code) {
        struct th_report *report = th_report_new("weather");
        code = describe(arguments, &weather, report, err);
        th_report_free(report);
    }
    th_weather_finish(&weather);
    return code;
}

const struct th_command th_cmd_weather = {
    .name = "weather",
    .operands = "FILE...",
    .operands_min = 0,
    .operands_max = TH_ANY_NUMBER,
    .summary = "describe hourly weather files: coverage, gaps, degree-days, cold",
    .about = "Reads hourly files of one station and tells what they hold: form, units, clock, "
             "coverage by month, gaps filled and left, odd readings, degree-days, the lowest hour "
             "and the temperatures that 99 and 99.6 % of all hours exceed, by which heaters are "
             "sized. Several yearly files are joined. With --place or --normals it makes "
             "invented winters from monthly statistics instead: good for a first number, not for "
             "sizing. --places lists the places it knows.",
    .example = "turnheat weather 725500-14942-2018.txt 725500-14942-2019.txt --utc-offset -6",
    .takes = TH_TAKES_WEATHER | TH_TAKES_REPORT,
    .options = own_options,
    .n_options = sizeof own_options / sizeof own_options[0],
    .run = run,
};
