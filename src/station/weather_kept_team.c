/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For WebAssembly: the worker that runs the module keeps weather beside the files it was made of
 * (src/page/wasi.js). */
#include "weather_kept.h"

#include <stdlib.h>

#define FROM_OUTSIDE(name) __attribute__((import_module("team"), import_name(name)))

/* A stretch of memory, as WASI has them. */
struct stretch {
    void *at;
    size_t size;
};

/* What is kept is the struct, its files and its reports. Fills `n` of these, the first being
 * `from`. */
FROM_OUTSIDE("weather_recall")
int team_weather_recall(const char *path, const char *how, int from, struct stretch *parts, int n);
FROM_OUTSIDE("weather_keep")
void team_weather_keep(const char *path, const char *how, const struct stretch *parts, int n);

/* The name of its form, which the struct points to, stands at the same place in every run. */
bool th_weather_recall(const char *path, const char *how, struct th_weather *weather)
{
    struct stretch whole = {weather, sizeof *weather};
    if (!team_weather_recall(path, how, 0, &whole, 1))
        return false;
    weather->capacity = weather->n;
    weather->files = malloc(weather->n_files * sizeof *weather->files);
    weather->reports = malloc(weather->n * sizeof *weather->reports);
    if (!weather->files || !weather->reports) {
        th_weather_finish(weather);
        return false;
    }
    struct stretch parts[] = {{weather->files, weather->n_files * sizeof *weather->files},
                              {weather->reports, weather->n * sizeof *weather->reports}};
    return team_weather_recall(path, how, 1, parts, 2);
}

void th_weather_keep(const char *path, const char *how, const struct th_weather *weather)
{
    const struct stretch parts[] = {
        {(void *)weather, sizeof *weather},
        {weather->files, weather->n_files * sizeof *weather->files},
        {weather->reports, weather->n * sizeof *weather->reports},
    };
    team_weather_keep(path, how, parts, 3);
}
