/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The forms of weather files, and what their readers share; used in src/station only. */
#ifndef TURNHEAT_WEATHER_FORMS_H
#define TURNHEAT_WEATHER_FORMS_H

#include "csv_rows.h"
#include "weather_columns.h"
#include "weather_read.h"

/** Every form th_form_NAME of form_NAME.c, in the order in which they are tried: plain takes what
 * the others leave. */
#define TH_WEATHER_FORMS(FORM)                                                                     \
    FORM(isd_lite)                                                                                 \
    FORM(epw)                                                                                      \
    FORM(tmy3)                                                                                     \
    FORM(lcd)                                                                                      \
    FORM(mesonet)                                                                                  \
    FORM(plain)

#define TH_FORM_COLUMNS_MAX 8

/** Where a quantity stands: under a name, case-folded, or in the columns of a form without names
 * at a place counted from 0. */
struct th_form_column {
    enum th_quantity quantity;
    const char *name;
    int place;
    enum th_unit unit;
    double parts;   /**< 10 where tenths of the unit are written; 0 = 1 */
    double missing; /**< a number as written: readings this far from 0 and beyond are none; 0 = no
                       such code */
};

/** Fields of the first line that tell of the station, counted from 0; `fields` 0: no such line. */
struct th_form_station {
    size_t fields; /**< at least */
    int id, name, state, latitude, longitude, utc_offset, elevation;
};

/**
 * One form. Without a `read` of its own it is a table of rows with everything in its place, read by
 * th_weather_read_table() as the members after it say; members left out mean no.
 */
struct th_weather_form {
    const char *name; /**< as --form takes it */
    bool (*recognise)(const struct th_weather_head *head);
    enum th_code (*read)(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err);

    char delimiter; /**< a blank stands for any run of blanks */
    bool comments;  /**< lines that begin with # may stand between rows */
    long heading_lines;
    struct th_form_station station;
    void (*station_of_path)(const char *path, struct th_station *station);
    bool named; /**< a line of column names comes after the heading */
    size_t fields_min, fields_max;
    bool whole;                          /**< numbers have no decimals */
    const char *const *missing;          /**< words for nothing, NULL at the end */
    const char *station_column;          /**< where rows of several stations may stand */
    const char *time[2];                 /**< names of a date and a time column, or of one */
    const char *time_text;               /**< how the time looks, for messages */
    bool time_parts;                     /**< year, month, day and hour, in columns 0 to 3 */
    int first_hour;                      /**< 0 or 1 */
    bool ends_hour;                      /**< a label is the end of its hour, standard time;
                                              a year or less is then a typical year */
    enum th_clock clock;                 /**< otherwise */
    const char *clock_note, *units_note; /**< why */
    struct th_form_column columns[TH_FORM_COLUMNS_MAX]; /**< of one quantity the first there is */
};

/** Reads a table as `form` has it. Errors as th_weather_read(). */
enum th_code th_weather_read_table(const struct th_weather_form *form, struct th_lines *lines,
                                   const struct th_weather_options *options,
                                   struct th_weather *weather, struct th_error *err);

/** What a row turned out to be. */
enum th_row { TH_ROW_REPORT, TH_ROW_LEFT_OUT, TH_ROW_REFUSED };

/**
 * Turns the record in `csv` into a report. On TH_ROW_REFUSED `why` (96 bytes) says what was found
 * and expected.
 */
typedef enum th_row (*th_row_fn)(struct th_csv *csv, void *context, struct th_observation *report,
                                 char *why);

/** Reads all records through `row` into the last file of `weather`, counting rows and refusals. */
enum th_code th_weather_rows(struct th_csv *csv, struct th_weather *weather, th_row_fn row,
                             void *context, struct th_error *err);

/** Fails with TH_ERR_READ at a line of the file being read. */
enum th_code th_weather_fail(const struct th_lines *lines, long line, struct th_error *err,
                             const char *format, ...) __attribute__((format(printf, 4, 5)));

/** The station whose rows are taken from a file that may hold several. */
struct th_one_station {
    const char *wanted; /**< or NULL: the first */
    char other[32];     /**< a second one found */
};

/** Whether a row of station `id` is taken; the first one taken is remembered in `station`. */
bool th_one_station_takes(struct th_one_station *one, struct th_station *station, const char *id);

/** TH_ERR_READ, naming both, when a second station was found and none was asked for. */
enum th_code th_one_station_check(const struct th_one_station *one,
                                  const struct th_station *station, const struct th_lines *lines,
                                  struct th_error *err);

/** A decimal number that fills `text`, finite. */
bool th_field_number(const char *text, double *value);

/** A whole number of at most nine digits that fills `text`. */
bool th_field_whole(const char *text, long *value);

/** A date and time as written. */
struct th_stamp {
    long minute;       /**< since 1970-01-01 00:00 as written; 24:00 is 00:00 of the next day */
    bool has_zone;     /**< Z or ±hh[:mm] followed */
    long zone_minutes; /**< what was written minus UTC */
};

/**
 * Reads "2018-01-31T24:00", "2018-01-31 23:54:00Z", "20180131 2354", "1/31/2018 11:54 PM",
 * "2018/01/31 23" … Years 1850–2250. False when it is none of these or no such date exists.
 */
bool th_field_stamp(const char *text, struct th_stamp *stamp);

/** Minute of a date and a time of day given as minutes 0…1440; false if the date is not one. */
bool th_minute_of(long year, long month, long day, long minute_of_day, long *minute);

/**
 * For forms whose label is the end of the hour: reports were added one hour early, so that a label
 * of 24:00 carries its own date. Decides whether the file is a typical year (everything but a run
 * in order of time longer than a year), lays a typical year out in TH_TYPICAL_YEAR by month, day
 * and hour, leaving 29 February out, and moves all reports to the end of their hour.
 */
void th_weather_end_of_hour(struct th_weather *weather);

#endif
