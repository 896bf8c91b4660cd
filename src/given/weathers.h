/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The weather that barns of one run share: read or generated once, however many use it. */
#ifndef TURNHEAT_WEATHERS_H
#define TURNHEAT_WEATHERS_H

#include "barn.h"
#include "options.h"
#include "turnheat/weather.h"

/** Owns what it keeps; all zero is empty. */
struct th_weathers {
    struct th_kept_weather **kept;
    size_t n;
    unsigned long clock; /**< counts what was asked for */
    bool again;          /**< other barns, of other sites, will ask for it again */
};

/**
 * The weather of a barn: the files of --weather, else those it names, else winters generated for
 * its place. It stays valid until th_weathers_trim(). Warnings go to the shared issues of
 * `arguments`. TH_ERR_INPUT where there is neither weather nor place; errors as th_weather_read()
 * and th_place_weather_make().
 */
enum th_code th_weathers_take(struct th_weathers *weathers, const struct th_arguments *arguments,
                              const struct th_barn *barn, const struct th_weather **weather,
                              struct th_error *err);

/** Frees the reports, which take more memory than the hours made of them, unless they are asked for
 * `again`. */
void th_weathers_made(struct th_weathers *weathers);

/** Forgets all but the `most` that were asked for last. */
void th_weathers_trim(struct th_weathers *weathers, size_t most);

/** Frees everything; a second call is allowed. */
void th_weathers_finish(struct th_weathers *weathers);

#endif
