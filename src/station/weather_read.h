/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Hourly weather files in. The form is recognised from the content; each form has its own file and
 * its own missing codes.
 */
#ifndef TURNHEAT_WEATHER_READ_H
#define TURNHEAT_WEATHER_READ_H

#include "files.h"
#include "turnheat/weather.h"

enum th_unit_choice { TH_UNITS_AUTO, TH_UNITS_US, TH_UNITS_SI };

/** What the user says about the files; all zero lets the files decide. */
struct th_weather_options {
    const char *form; /**< the name of a form, or NULL: recognised from the content */
    enum th_unit_choice units;
    enum th_clock clock; /**< TH_CLOCK_UNKNOWN lets the file decide */
    bool has_utc_offset; /**< given for the files: those that name no clock are then on UTC */
    double utc_offset_h; /**< local standard time minus UTC */
    const char *station; /**< the station to take from a file that holds several, or NULL */
};

/** The first lines of a file, for recognising its form. */
struct th_weather_head {
    char first[8192];  /**< first line */
    char second[8192]; /**< second line */
    char names[8192];  /**< first line that is neither blank nor a # comment, case-folded */
};

/** "auto", "us", "si" → choice. False for another word. */
bool th_unit_choice_from(const char *word, enum th_unit_choice *units);

/** "utc", "standard", "daylight" → clock. False for another word. */
bool th_clock_from(const char *word, enum th_clock *clock);

/** The name of form `i` in the order in which they are tried, "isd-lite" first; NULL after the last
 * one. */
const char *th_weather_form_name(int i);

/** Whether a form has this name. */
bool th_weather_form_known(const char *name);

#define TH_WEATHER_FORM_NAMES_MAX 256

/** All names: "isd-lite, epw … or plain"; returns `text`. */
const char *th_weather_form_names(char text[TH_WEATHER_FORM_NAMES_MAX]);

/**
 * Reads `n` ≥ 1 files of one station into `weather`, in order of time; on error `weather` is empty.
 * A path may also be a folder, whose weather files are read, or a pattern such as "2*.gz".
 * TH_ERR_READ (file, line, what was found, what was expected) for a file that cannot be opened or
 * understood, has no data row, or of whose rows more than 1 % (and more than 3) were refused;
 * TH_ERR_INPUT for files that do not belong together or units that cannot be told; TH_ERR_MEMORY.
 */
enum th_code th_weather_read(struct th_files *files, const char *const *paths, int n,
                             const struct th_weather_options *options, struct th_weather *weather,
                             struct th_error *err);

/** The name of the form that the file begins as; NULL for none, or when it cannot be read. */
const char *th_weather_looks_like(struct th_files *files, const char *path);

#define TH_WEATHER_WARNING_MAX 640

/** What is to be told of a file some of whose rows were refused; false when none were. */
bool th_weather_file_warning(const struct th_weather_file *file, char text[TH_WEATHER_WARNING_MAX]);

#endif
