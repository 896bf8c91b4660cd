/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The sample barns on real winters of two stations, from the folder TURNHEAT_WEATHER. */
#ifndef TURNHEAT_TESTS_SAMPLE_BARN_H
#define TURNHEAT_TESTS_SAMPLE_BARN_H

#include "barn.h"
#include "validation/validate.h"
#include "weather_fixture.h"
#include "weather_read.h"

#include <check.h>

#define FIRST 2017
#define LAST 2019

/* A sample room and the winters of one station. */
struct sample {
    struct th_room room;
    struct th_weather weather;
    struct th_climate climate;
};

static inline bool open_weather(struct sample *s, const char *station, int last, const char *test)
{
    const char *paths[4];
    const struct th_weather_options none = {0};
    struct th_error err = {0};
    for (int year = FIRST; year <= last; year++) {
        char name[64];
        snprintf(name, sizeof name, "%s-%d.txt", station, year);
        paths[year - FIRST] = real_file(name, test);
        if (!paths[year - FIRST])
            return false;
    }
    ck_assert_int_eq(th_weather_read(NULL, paths, last - FIRST + 1, &none, &s->weather, &err),
                     TH_OK);
    ck_assert_int_eq(
        th_climate_init(&s->climate, &s->weather, s->room.site.elevation_m, -6.0, &err), TH_OK);
    return true;
}

static inline void read_room(struct sample *s, const char *path)
{
    struct th_barn barn;
    struct th_issues issues = {0};
    ck_assert_int_eq(th_barn_read(NULL, path, NULL, NULL, 0, &barn, &issues), TH_OK);
    s->room = barn.room;
    th_issues_finish(&issues);
    th_barn_finish(&barn);
}

static inline void close_sample(struct sample *s)
{
    th_climate_finish(&s->climate);
    th_weather_finish(&s->weather);
}

static const char *const files[] = {"samples/curtain.barn", "samples/solid.barn"};
static const char *const names[] = {"curtain", "solid"};
static const char *const stations[] = {"725500-14942", "726580-14922"};
static const char *const cities[] = {"Omaha", "Minneapolis"};
/* Minneapolis has no hourly winter 2019-20. */
static const int last_file[] = {2020, 2019};

/* Opens room `room` at station `station`; skips `ids` when the weather is not there. */
static inline bool open_sample(struct sample *s, int room, int station, const char *id)
{
    read_room(s, files[room]);
    if (open_weather(s, stations[station], last_file[station], id))
        return true;
    validate_skip(id, "TURNHEAT_WEATHER is not set");
    return false;
}

#endif
