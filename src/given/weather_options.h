/* SPDX-License-Identifier: GPL-3.0-or-later */
/** --form, --units, --clock, --station and --utc-offset of the command line. */
#ifndef TURNHEAT_WEATHER_OPTIONS_H
#define TURNHEAT_WEATHER_OPTIONS_H

#include "options.h"
#include "weather_read.h"

/** Reads them; TH_ERR_USAGE for a word that is none of those expected. */
enum th_code th_weather_options_given(const struct th_arguments *arguments,
                                      struct th_weather_options *options, struct th_error *err);

#endif
