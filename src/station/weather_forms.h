/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What the readers of the single forms share; used by src/station/weather_*.c only. */
#ifndef TURNHEAT_WEATHER_FORMS_H
#define TURNHEAT_WEATHER_FORMS_H

#include "csv_rows.h"
#include "weather_read.h"

extern const struct th_weather_reader th_reader_isd_lite;
extern const struct th_weather_reader th_reader_epw;
extern const struct th_weather_reader th_reader_tmy3;
extern const struct th_weather_reader th_reader_lcd;
extern const struct th_weather_reader th_reader_mesonet;
extern const struct th_weather_reader th_reader_plain;

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

/** Counts a row of the last file. */
void th_weather_count_row(struct th_weather *weather);

/** Fails with TH_ERR_READ at a line of the file being read. */
enum th_code th_weather_fail(const struct th_lines *lines, long line, struct th_error *err,
                             const char *format, ...) __attribute__((format(printf, 4, 5)));

/** A decimal number that fills `text`, finite. */
bool th_field_number(const char *text, double *value);

/** A whole number that fills `text`. */
bool th_field_whole(const char *text, long *value);

/** Sets `quantity` to scale × number unless the field is empty or reads `missing` or beyond. */
enum th_row th_field_reading(const char *text, const char *what, struct th_observation *report,
                             enum th_quantity quantity, double scale, char *why);

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
