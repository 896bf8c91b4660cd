/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Weather texts read as files, and the folder of real ones. */
#ifndef TURNHEAT_WEATHER_FIXTURE_H
#define TURNHEAT_WEATHER_FIXTURE_H

#include "run_suite.h"
#include "scratch.h"
#include "turnheat/calendar.h"
#include "turnheat/weather.h"
#include "weather_read.h"
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/** A text that grows by printf. */
struct text {
    char *at;
    size_t used, size;
};

static inline void text_add(struct text *t, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static inline void text_add(struct text *t, const char *format, ...)
{
    if (t->size - t->used < 4096) {
        t->size = 2 * t->size + 8192;
        t->at = realloc(t->at, t->size);
        ck_assert_ptr_nonnull(t->at);
    }
    va_list args;
    va_start(args, format);
    t->used += (size_t)vsnprintf(t->at + t->used, t->size - t->used, format, args);
    va_end(args);
}

/** Reads one file of ours and removes it. */
static inline enum th_code read_text(const char *name, const char *text,
                                     const struct th_weather_options *options,
                                     struct th_weather *weather, struct th_error *err)
{
    const struct th_weather_options none = {0};
    struct scratch f = scratch_text(name, text);
    const char *path = f.path;
    const enum th_code code =
        th_weather_read(NULL, &path, 1, options ? options : &none, weather, err);
    scratch_remove(&f);
    return code;
}

/** The path of a real file, or NULL with a SKIP line when TURNHEAT_WEATHER is not set. */
static inline const char *real_file(const char *name, const char *test)
{
    static char paths[8][512];
    static int next = 0;
    const char *dir = getenv("TURNHEAT_WEATHER");
    if (!dir || !dir[0]) {
        printf("# SKIP %s: TURNHEAT_WEATHER does not name the folder with %s\n", test, name);
        return NULL;
    }
    char *path = paths[next++ % 8];
    snprintf(path, sizeof paths[0], "%s/%s", dir, name);
    ck_assert_msg(access(path, R_OK) == 0, "%s is not there", path);
    return path;
}

/** Reads a text that must be readable. */
static inline void read_ok(const char *name, const char *text,
                           const struct th_weather_options *options, struct th_weather *weather)
{
    struct th_error err;
    const enum th_code code = read_text(name, text, options, weather, &err);
    ck_assert_msg(code == TH_OK, "%s:%ld: %s", err.file, err.line, err.text);
}

/** Reads a text that must be refused with `words` and the file's name in the error. */
static inline void read_refused(const char *name, const char *text,
                                const struct th_weather_options *options, const char *words)
{
    struct th_weather weather;
    struct th_error err;
    ck_assert_int_ne(read_text(name, text, options, &weather, &err), TH_OK);
    ck_assert_msg(strstr(err.text, words) != NULL, "got: %s", err.text);
    ck_assert_msg(strstr(err.file, name) != NULL, "no file in the error");
    ck_assert_uint_eq(weather.n, 0);
}

/** Minutes since 1970-01-01 00:00. */
static inline long minute_of(int year, int month, int day, int hour, int minute)
{
    return (th_day_number(year, month, day) * 24 + hour) * 60 + minute;
}

/** Two rows of ISD-Lite. */
#define ISD_ROWS                                                                                   \
    "2018 01 01 00   -17   -89 10142   220    15     0 -9999 -9999\n"                              \
    "2018 01 01 02 -9999   -94 10149   140 -9999     0     0 -9999\n"

/** The eight heading lines of an EPW file. */
#define EPW_HEAD                                                                                   \
    "LOCATION,Nowhere,ST,USA,made,999999,41.5,-93.7,-6.0,292.0\r\nDESIGN CONDITIONS,0\r\n"         \
    "TYPICAL/EXTREME PERIODS,0\r\nGROUND TEMPERATURES,0\r\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\r\n" \
    "COMMENTS 1,\"a, quoted\"\r\nCOMMENTS 2,\r\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\r\n"

/** Rows of a table-driven test. */
#define COUNT(list) ((int)(sizeof(list) / sizeof((list)[0])))

#endif
