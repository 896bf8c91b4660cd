/* SPDX-License-Identifier: GPL-3.0-or-later */
/** What the column names of a plain weather table mean, and in what units. */
#ifndef TURNHEAT_WEATHER_COLUMNS_H
#define TURNHEAT_WEATHER_COLUMNS_H

#include "csv_rows.h"
#include "weather_read.h"

enum th_weather_column {
    TH_COLUMN_TIME, /**< date and time, or the date when there is an hour column */
    TH_COLUMN_HOUR, /**< time of day */
    TH_COLUMN_YEAR, /**< with month and day in place of the date */
    TH_COLUMN_MONTH,
    TH_COLUMN_DAY,
    TH_COLUMN_TEMP,
    TH_COLUMN_DEW,
    TH_COLUMN_RH,
    TH_COLUMN_WIND,
    TH_COLUMN_PRESSURE,
    TH_COLUMNS
};

enum th_unit {
    TH_UNIT_NONE,
    TH_UNIT_F,
    TH_UNIT_C,
    TH_UNIT_K,
    TH_UNIT_PERCENT,
    TH_UNIT_SHARE,
    TH_UNIT_MPH,
    TH_UNIT_M_S,
    TH_UNIT_KNOT,
    TH_UNIT_KM_H,
    TH_UNIT_PA,
    TH_UNIT_HPA,
    TH_UNIT_KPA,
    TH_UNIT_INHG,
    TH_UNIT_COUNT
};

struct th_column_use {
    bool present;
    int index;
    enum th_quantity quantity;
    enum th_unit unit;
    bool assumed; /**< the unit was not in the name */
};

struct th_weather_columns {
    struct th_column_use use[TH_COLUMNS];
    bool date_parts; /**< the date stands in columns of year, month and day */
    bool utc;        /**< the name of the time column says UTC */
};

/** A column's name in messages: "temperature", "dew point" … */
const char *th_column_name(enum th_weather_column column);

/** A unit as people write it: "°F", "knots". */
const char *th_unit_name(enum th_unit unit);

/** A quantity in messages, with its article: "a dew point". */
const char *th_quantity_name(enum th_quantity quantity);

/** A value in `unit` → °C, share, Pa, m/s; without a unit it is returned as it is. */
double th_unit_to_si(enum th_unit unit, double value);

/**
 * Finds the columns among the names `csv` has read. `units` decides where a name has no unit.
 * TH_ERR_READ with file and line when time or temperature is absent, when two columns mean the
 * same, or when the unit of the temperature is not known.
 */
enum th_code th_columns_find(struct th_weather_columns *columns, const struct th_csv *csv,
                             enum th_unit_choice units, struct th_error *err);

/** Whether a folded line of names has a time and a temperature column. */
bool th_columns_from_line(const char *names, struct th_weather_columns *columns);

/** Writes the units found and which of them were assumed. */
void th_columns_describe(const struct th_weather_columns *columns, char *text, size_t size);

#endif
