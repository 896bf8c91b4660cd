/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weathers.h"

#include "place_weather.h"
#include "weather_options.h"
#include "turnheat/places.h"
#include "weather_read.h"

#include <stdlib.h>
#include <string.h>

#define M_PER_MILE 1609.344

#define PATHS_MAX 256

struct th_kept_weather {
    char **paths; /* owned; without any the winters are generated */
    int n_paths;
    struct th_site site;
    struct th_weather weather;
    unsigned long asked; /* when, by the clock */
};

/* The weather files of one room: those of --weather, else its own. */
static int paths_of(const struct th_arguments *arguments, const struct th_barn *barn,
                    const char *paths[PATHS_MAX])
{
    const size_t given = th_given_count(arguments, "weather");
    int n = 0;
    for (size_t i = 0; i < given && n < PATHS_MAX; i++)
        paths[n++] = th_given_nth(arguments, "weather", i);
    for (int i = 0; given == 0 && i < barn->n_weather && n < PATHS_MAX; i++)
        paths[n++] = barn->weather[i];
    return n;
}

/* The same files, or the same generated winters. */
static bool is_same(const struct th_kept_weather *kept, const char *const *paths, int n,
                    const struct th_site *site)
{
    if (kept->n_paths != n)
        return false;
    if (n == 0)
        return th_place_weather_same(&kept->site, site);
    for (int i = 0; i < n; i++)
        if (strcmp(kept->paths[i], paths[i]) != 0)
            return false;
    return true;
}

static void forget(struct th_kept_weather *kept)
{
    for (int i = 0; i < kept->n_paths; i++)
        free(kept->paths[i]);
    free(kept->paths);
    th_weather_finish(&kept->weather);
    free(kept);
}

/* An entry without its weather, or NULL. */
static struct th_kept_weather *new_entry(const char *const *paths, int n,
                                         const struct th_site *site)
{
    struct th_kept_weather *const kept = calloc(1, sizeof *kept);
    if (!kept)
        return NULL;
    kept->site = *site;
    kept->paths = calloc((size_t)n + 1, sizeof *kept->paths);
    for (int i = 0; kept->paths && i < n; i++, kept->n_paths++)
        if (!(kept->paths[i] = strdup(paths[i])))
            break;
    if (kept->paths && kept->n_paths == n)
        return kept;
    forget(kept);
    return NULL;
}

static struct th_kept_weather *add_entry(struct th_weathers *weathers, const char *const *paths,
                                         int n, const struct th_site *site)
{
    struct th_kept_weather **const more =
        realloc(weathers->kept, (weathers->n + 1) * sizeof(struct th_kept_weather *));
    if (!more)
        return NULL;
    weathers->kept = more;
    struct th_kept_weather *const kept = new_entry(paths, n, site);
    if (kept)
        weathers->kept[weathers->n++] = kept;
    return kept;
}

static void warn_of_rows(struct th_issues *issues, const struct th_weather *weather)
{
    char text[TH_WEATHER_WARNING_MAX];
    for (size_t i = 0; i < weather->n_files; i++)
        if (th_weather_file_warning(&weather->files[i], text))
            th_issues_warning(issues, NULL, "%s", text);
}

/* Files of another region's station are as easily named as those of the next town. */
static void warn_of_distance(struct th_issues *issues, const struct th_weather *weather,
                             const struct th_site *site)
{
    const struct th_station *const station = &weather->station;
    if (!station->has_place || !site->has_latitude || !site->has_longitude)
        return;
    const double apart_m = th_places_distance_m(site->latitude_deg, site->longitude_deg,
                                                station->lat_deg, station->lon_deg);
    if (apart_m > TH_PLACES_FAR_M)
        th_issues_warning(issues, NULL,
                          "%s: the station%s%s lies about %.0f miles from the barn, whose winters "
                          "may be others: is it the right file?",
                          weather->files[0].name, station->name[0] ? " " : "", station->name,
                          apart_m / M_PER_MILE);
}

static enum th_code fill(struct th_weather *weather, const struct th_arguments *arguments,
                         const char *const *paths, int n, const struct th_site *site,
                         struct th_error *err)
{
    struct th_weather_options options;
    enum th_code code = th_weather_options_given(arguments, &options, err);
    if (code != TH_OK)
        return code;
    if (n == 0)
        return th_place_weather_make(site, TH_PLACE_SEASONS, TH_PLACE_SEED, weather,
                                     th_shared_issues(arguments), err);
    code = th_weather_read(arguments->files, paths, n, &options, weather, err);
    warn_of_rows(th_shared_issues(arguments), weather);
    if (code == TH_OK)
        warn_of_distance(th_shared_issues(arguments), weather, site);
    return code;
}

enum th_code th_weathers_take(struct th_weathers *weathers, const struct th_arguments *arguments,
                              const struct th_barn *barn, const struct th_weather **weather,
                              struct th_error *err)
{
    const char *paths[PATHS_MAX];
    const int n = paths_of(arguments, barn, paths);
    const struct th_site *const site = &barn->room.site;
    struct th_kept_weather *kept = NULL;
    for (size_t i = 0; i < weathers->n && !kept; i++)
        if (is_same(weathers->kept[i], paths, n, site))
            kept = weathers->kept[i];
    const bool is_new = !kept;
    if (is_new && n == 0 && !site->has_latitude)
        return th_fail(
            err, TH_ERR_INPUT,
            "%s: no weather. Say where the barn stands, as `place = Mason City, Iowa` in "
            "[site], or name hourly files with --weather or as `weather = FILE`",
            barn->path);
    if (is_new && !(kept = add_entry(weathers, paths, n, site)))
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code = is_new ? fill(&kept->weather, arguments, paths, n, site, err) : TH_OK;
    if (code != TH_OK) {
        forget(weathers->kept[--weathers->n]);
        return code;
    }
    kept->asked = weathers->clock++;
    *weather = &kept->weather;
    return TH_OK;
}

void th_weathers_made(struct th_weathers *weathers)
{
    for (size_t i = 0; i < weathers->n && !weathers->again; i++)
        th_weather_drop_reports(&weathers->kept[i]->weather);
}

void th_weathers_trim(struct th_weathers *weathers, size_t most)
{
    while (weathers->n > most) {
        size_t oldest = 0;
        for (size_t i = 1; i < weathers->n; i++)
            if (weathers->kept[i]->asked < weathers->kept[oldest]->asked)
                oldest = i;
        forget(weathers->kept[oldest]);
        weathers->kept[oldest] = weathers->kept[--weathers->n];
    }
}

void th_weathers_finish(struct th_weathers *weathers)
{
    th_weathers_trim(weathers, 0);
    free(weathers->kept);
    *weathers = (struct th_weathers){0};
}
