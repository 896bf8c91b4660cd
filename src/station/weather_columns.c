/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather_columns.h"

#include "turnheat/units.h"
#include <ctype.h>
#include <string.h>

#define KELVIN 273.15

/* Names are compared without blanks and signs: "Temperature (°F)" reads "temperaturef". Longer
   names come before those they begin with. */
struct base {
    const char *word;
    enum th_weather_column column;
};

static const struct base bases[] = {
    {"dateandtime", TH_COLUMN_TIME},
    {"datetime", TH_COLUMN_TIME},
    {"timestamp", TH_COLUMN_TIME},
    {"localtime", TH_COLUMN_TIME},
    {"valid", TH_COLUMN_TIME},
    {"date", TH_COLUMN_TIME},
    {"hour", TH_COLUMN_HOUR},
    {"hr", TH_COLUMN_HOUR},
    {"year", TH_COLUMN_YEAR},
    {"yr", TH_COLUMN_YEAR},
    {"month", TH_COLUMN_MONTH},
    {"mo", TH_COLUMN_MONTH},
    {"day", TH_COLUMN_DAY},
    {"dy", TH_COLUMN_DAY},
    {"time", TH_COLUMN_HOUR},
    {"dewpointtemperature", TH_COLUMN_DEW},
    {"dewpointtemp", TH_COLUMN_DEW},
    {"dewpoint", TH_COLUMN_DEW},
    {"dewpt", TH_COLUMN_DEW},
    {"dew", TH_COLUMN_DEW},
    {"drybulbtemperature", TH_COLUMN_TEMP},
    {"drybulbtemp", TH_COLUMN_TEMP},
    {"drybulb", TH_COLUMN_TEMP},
    {"outdoortemperature", TH_COLUMN_TEMP},
    {"outdoortemp", TH_COLUMN_TEMP},
    {"outsidetemperature", TH_COLUMN_TEMP},
    {"outsidetemp", TH_COLUMN_TEMP},
    {"airtemperature", TH_COLUMN_TEMP},
    {"airtemp", TH_COLUMN_TEMP},
    {"temperature", TH_COLUMN_TEMP},
    {"temp", TH_COLUMN_TEMP},
    {"relativehumidity", TH_COLUMN_RH},
    {"relhum", TH_COLUMN_RH},
    {"humidity", TH_COLUMN_RH},
    {"rh", TH_COLUMN_RH},
    {"windspeed", TH_COLUMN_WIND},
    {"wind", TH_COLUMN_WIND},
    {"stationpressure", TH_COLUMN_PRESSURE},
    {"pressure", TH_COLUMN_PRESSURE},
};
#define BASES (sizeof bases / sizeof bases[0])

struct unit_word {
    const char *word;
    enum th_unit unit;
};

static const struct unit_word temp_units[] = {
    {"f", TH_UNIT_F}, {"degf", TH_UNIT_F},   {"fahrenheit", TH_UNIT_F},
    {"c", TH_UNIT_C}, {"degc", TH_UNIT_C},   {"celsius", TH_UNIT_C},
    {"k", TH_UNIT_K}, {"kelvin", TH_UNIT_K}, {0}};
static const struct unit_word rh_units[] = {{"pct", TH_UNIT_PERCENT},
                                            {"percent", TH_UNIT_PERCENT},
                                            {"share", TH_UNIT_SHARE},
                                            {"fraction", TH_UNIT_SHARE},
                                            {0}};
static const struct unit_word wind_units[] = {
    {"mph", TH_UNIT_MPH},  {"ms", TH_UNIT_M_S},   {"mps", TH_UNIT_M_S},
    {"kt", TH_UNIT_KNOT},  {"kts", TH_UNIT_KNOT}, {"knots", TH_UNIT_KNOT},
    {"kmh", TH_UNIT_KM_H}, {"kph", TH_UNIT_KM_H}, {0}};
static const struct unit_word pressure_units[] = {{"pa", TH_UNIT_PA},
                                                  {"hpa", TH_UNIT_HPA},
                                                  {"mbar", TH_UNIT_HPA},
                                                  {"mb", TH_UNIT_HPA},
                                                  {"kpa", TH_UNIT_KPA},
                                                  {"inhg", TH_UNIT_INHG},
                                                  {0}};
static const struct unit_word time_suffixes[] = {{"utc", TH_UNIT_NONE},   {"gmt", TH_UNIT_NONE},
                                                 {"local", TH_UNIT_NONE}, {"lst", TH_UNIT_NONE},
                                                 {"hhmm", TH_UNIT_NONE},  {0}};

struct kind {
    const char *name;
    enum th_quantity quantity;
    const struct unit_word *units;
};

static const struct kind kinds[TH_COLUMNS] = {
    [TH_COLUMN_TIME] = {"time", TH_QUANTITIES, time_suffixes},
    [TH_COLUMN_HOUR] = {"time of day", TH_QUANTITIES, time_suffixes},
    [TH_COLUMN_YEAR] = {"year", TH_QUANTITIES, time_suffixes},
    [TH_COLUMN_MONTH] = {"month", TH_QUANTITIES, time_suffixes},
    [TH_COLUMN_DAY] = {"day", TH_QUANTITIES, time_suffixes},
    [TH_COLUMN_TEMP] = {"temperature", TH_TEMP_C, temp_units},
    [TH_COLUMN_DEW] = {"dew point", TH_DEW_C, temp_units},
    [TH_COLUMN_RH] = {"relative humidity", TH_RH, rh_units},
    [TH_COLUMN_WIND] = {"wind", TH_WIND_M_S, wind_units},
    [TH_COLUMN_PRESSURE] = {"station pressure", TH_PRESSURE_PA, pressure_units},
};

static const char *const unit_names[TH_UNIT_COUNT] = {"as given", "°F",  "°C",  "K",     "%",
                                                      "share",    "mph", "m/s", "knots", "km/h",
                                                      "Pa",       "hPa", "kPa", "inHg"};

const char *th_column_name(enum th_weather_column column)
{
    return kinds[column].name;
}

const char *th_unit_name(enum th_unit unit)
{
    return unit_names[unit];
}

const char *th_quantity_name(enum th_quantity quantity)
{
    static const char *const names[TH_QUANTITIES] = {"a temperature", "a dew point",
                                                     "a relative humidity", "a station pressure",
                                                     "a wind speed"};
    return names[quantity];
}

double th_unit_to_si(enum th_unit unit, double value)
{
    switch (unit) {
    case TH_UNIT_F:
        return th_c_from_f(value);
    case TH_UNIT_K:
        return value - KELVIN;
    case TH_UNIT_PERCENT:
        return value * 0.01;
    case TH_UNIT_MPH:
        return value * TH_M_S_PER_MPH;
    case TH_UNIT_KNOT:
        return value * TH_M_S_PER_KNOT;
    case TH_UNIT_KM_H:
        return value / 3.6;
    case TH_UNIT_HPA:
        return value * 100.0;
    case TH_UNIT_KPA:
        return value * 1000.0;
    case TH_UNIT_INHG:
        return value * TH_PA_PER_INHG;
    default:
        return value;
    }
}

static void squeeze(char *out, size_t size, const char *name, size_t length)
{
    size_t n = 0;
    for (size_t i = 0; i < length && n + 1 < size; i++) {
        if (name[i] == '%' && n + 4 < size) {
            memcpy(out + n, "pct", 3);
            n += 3;
        } else if (isalnum((unsigned char)name[i])) {
            out[n++] = (char)tolower((unsigned char)name[i]);
        }
    }
    out[n] = '\0';
}

static bool unit_of(const struct unit_word *words, const char *rest, enum th_unit *unit)
{
    *unit = TH_UNIT_NONE;
    if (rest[0] == '\0')
        return true;
    for (; words->word; words++) {
        if (strcmp(words->word, rest) == 0) {
            *unit = words->unit;
            return true;
        }
    }
    return false;
}

/* What a name means; TH_COLUMNS when it means nothing here. */
static enum th_weather_column meaning(const char *name, size_t length, enum th_unit *unit,
                                      bool *utc)
{
    char word[TH_CSV_NAME_MAX + 8] = "";
    squeeze(word, sizeof word, name, length);
    if (strncmp(word, "utc", 3) == 0 && word[3] != '\0') {
        const enum th_weather_column column = meaning(word + 3, strlen(word + 3), unit, utc);
        *utc = *utc || column < TH_COLUMN_TEMP;
        return column;
    }
    for (size_t i = 0; i < BASES; i++) {
        const size_t n = strlen(bases[i].word);
        const enum th_weather_column column = bases[i].column;
        if (strncmp(word, bases[i].word, n) != 0 || !unit_of(kinds[column].units, word + n, unit))
            continue;
        if (column < TH_COLUMN_TEMP)
            *utc = *utc || strcmp(word + n, "utc") == 0 || strcmp(word + n, "gmt") == 0;
        return column;
    }
    return TH_COLUMNS;
}

/* Index of a column of the same meaning already found, or -1. */
static int note(struct th_weather_columns *columns, const char *name, size_t length, int index)
{
    enum th_unit unit = TH_UNIT_NONE;
    const enum th_weather_column column = meaning(name, length, &unit, &columns->utc);
    if (column == TH_COLUMNS)
        return -1;
    struct th_column_use *use = &columns->use[column];
    if (use->present)
        return use->index;
    *use = (struct th_column_use){true, index, kinds[column].quantity, unit, false};
    return -1;
}

/* Year, month, day and hour in columns of their own tell the time, unless one column does; a lone
 * time-of-day column holds the date as well. */
static void settle_time(struct th_weather_columns *columns)
{
    struct th_column_use *use = columns->use;
    columns->date_parts = !use[TH_COLUMN_TIME].present && use[TH_COLUMN_YEAR].present &&
                          use[TH_COLUMN_MONTH].present && use[TH_COLUMN_DAY].present &&
                          use[TH_COLUMN_HOUR].present;
    if (columns->date_parts || use[TH_COLUMN_TIME].present || !use[TH_COLUMN_HOUR].present)
        return;
    use[TH_COLUMN_TIME] = use[TH_COLUMN_HOUR];
    use[TH_COLUMN_HOUR].present = false;
}

bool th_columns_from_line(const char *names, struct th_weather_columns *columns)
{
    *columns = (struct th_weather_columns){0};
    for (int index = 0;; index++) {
        const size_t length = strcspn(names, ",;\t");
        note(columns, names, length, index);
        if (names[length] == '\0')
            break;
        names += length + 1;
    }
    settle_time(columns);
    return (columns->use[TH_COLUMN_TIME].present || columns->date_parts) &&
           columns->use[TH_COLUMN_TEMP].present;
}

static void assume(struct th_column_use *use, enum th_unit unit)
{
    use->assumed = use->present && use->unit == TH_UNIT_NONE;
    if (use->assumed)
        use->unit = unit;
}

static bool settle_units(struct th_weather_columns *columns, enum th_unit_choice units)
{
    struct th_column_use *use = columns->use;
    if (units != TH_UNITS_AUTO)
        assume(&use[TH_COLUMN_TEMP], units == TH_UNITS_US ? TH_UNIT_F : TH_UNIT_C);
    const enum th_unit temp = use[TH_COLUMN_TEMP].unit;
    const bool us = temp == TH_UNIT_F;
    assume(&use[TH_COLUMN_DEW], temp);
    assume(&use[TH_COLUMN_WIND], us ? TH_UNIT_MPH : TH_UNIT_M_S);
    assume(&use[TH_COLUMN_PRESSURE], us ? TH_UNIT_INHG : TH_UNIT_HPA);
    return temp != TH_UNIT_NONE;
}

static enum th_code fail(const struct th_csv *csv, struct th_error *err, const char *text)
{
    th_fail(err, TH_ERR_READ, "%s", text);
    th_error_place(err, csv->lines->path, csv->line, 0);
    return TH_ERR_READ;
}

enum th_code th_columns_find(struct th_weather_columns *columns, const struct th_csv *csv,
                             enum th_unit_choice units, struct th_error *err)
{
    *columns = (struct th_weather_columns){0};
    for (size_t i = 0; i < csv->n_names; i++) {
        const int same = note(columns, csv->names[i], strlen(csv->names[i]), (int)i);
        if (same < 0)
            continue;
        th_fail(err, TH_ERR_READ, "columns %d \"%s\" and %zu \"%s\" mean the same; keep one",
                same + 1, csv->names[same], i + 1, csv->names[i]);
        th_error_place(err, csv->lines->path, csv->line, 0);
        return TH_ERR_READ;
    }
    settle_time(columns);
    if (!columns->use[TH_COLUMN_TIME].present && !columns->date_parts)
        return fail(csv, err,
                    "no time column; expected a name such as time, date or datetime, or the four "
                    "columns year, month, day and hour");
    if (!columns->use[TH_COLUMN_TEMP].present)
        return fail(csv, err, "no temperature column; expected a name such as temp_f or temp_c");
    if (!settle_units(columns, units))
        return fail(csv, err,
                    "the temperature column names no unit; say --units us (°F) or "
                    "--units si (°C)");
    return TH_OK;
}

void th_columns_describe(const struct th_weather_columns *columns, char *text, size_t size)
{
    size_t used = 0;
    text[0] = '\0';
    for (int c = TH_COLUMN_TEMP; c < TH_COLUMNS && used < size; c++) {
        const struct th_column_use *use = &columns->use[c];
        if (!use->present)
            continue;
        const int n =
            snprintf(text + used, size - used, "%s%s %s%s", used ? ", " : "", kinds[c].name,
                     unit_names[use->unit], use->assumed ? " (assumed)" : "");
        used += n > 0 ? (size_t)n : 0;
    }
}
