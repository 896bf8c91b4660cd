/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain tables: a time and a temperature column, perhaps humidity, wind and station pressure, found
   by what their names say (weather_columns.c). Comma, semicolon or tab. */
#include "turnheat/daylight.h"
#include "turnheat/units.h"
#include "weather_columns.h"
#include "weather_forms.h"

#include <ctype.h>
#include <string.h>

struct plain {
    struct th_weather *weather;
    struct th_weather_columns columns;
    bool decimal_comma;
    double rh_max;
    size_t zoned, unzoned;
    long zone_min; /* least of the zones written: standard time where wall clock is written */
};

/* A head's line of names as one record. */
static bool recognise(const struct th_weather_head *head)
{
    struct th_weather_columns columns;
    return th_columns_from_line(head->names, &columns);
}

static bool is_missing(const char *text)
{
    static const char *const words[] = {"", "-", "M", "NA", "N/A", "NaN", "nan", "null", "NULL"};
    if (isdigit((unsigned char)text[text[0] == '-'])) /* nearly always: saves the comparisons */
        return false;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(text, words[i]) == 0)
            return true;
    return false;
}

static void point_for_comma(char *text)
{
    char *comma = strchr(text, ',');
    if (comma)
        *comma = '.';
}

static bool take(struct plain *plain, char *text, enum th_weather_column column,
                 struct th_observation *report, char *why)
{
    const struct th_column_use *use = &plain->columns.use[column];
    if (!use->present || is_missing(text))
        return true;
    if (plain->decimal_comma)
        point_for_comma(text);
    double value;
    if (!th_field_number(text, &value)) {
        snprintf(why, 96, "found \"%.24s\" where %s (a number) was expected", text,
                 th_column_name(column));
        return false;
    }
    value = th_unit_to_si(use->unit, value);
    if (column == TH_COLUMN_RH && use->unit == TH_UNIT_NONE)
        value = th_unit_to_si(TH_UNIT_PERCENT, value);
    if (column == TH_COLUMN_RH && value > plain->rh_max)
        plain->rh_max = value;
    th_observation_set(report, use->quantity, value);
    return true;
}

static bool row_time(struct th_csv *csv, struct plain *plain, struct th_observation *report,
                     char *why)
{
    char joined[2 * TH_CSV_FIELD_MAX];
    struct th_stamp stamp;
    const char *text = csv->field[TH_COLUMN_TIME], *hour = csv->field[TH_COLUMN_HOUR];
    if (plain->columns.date_parts) {
        snprintf(joined, sizeof joined, "%.24s-%.24s-%.24s %.24s", csv->field[TH_COLUMN_YEAR],
                 csv->field[TH_COLUMN_MONTH], csv->field[TH_COLUMN_DAY], hour);
        text = joined;
    } else if (hour[0]) {
        snprintf(joined, sizeof joined, "%s %s", text, hour);
        text = joined;
    }
    if (!th_field_stamp(text, &stamp)) {
        snprintf(why, 96, "found \"%.30s\"; expected a date and time, as 2018-01-31 23:00", text);
        return false;
    }
    report->minute = stamp.minute - (stamp.has_zone ? stamp.zone_minutes : 0);
    if (stamp.has_zone && (plain->zoned == 0 || stamp.zone_minutes < plain->zone_min))
        plain->zone_min = stamp.zone_minutes;
    *(stamp.has_zone ? &plain->zoned : &plain->unzoned) += 1;
    return true;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    struct plain *plain = context;
    if (!row_time(csv, plain, report, why))
        return TH_ROW_REFUSED;
    for (int c = TH_COLUMN_TEMP; c < TH_COLUMNS; c++)
        if (!take(plain, csv->field[c], (enum th_weather_column)c, report, why))
            return TH_ROW_REFUSED;
    return TH_ROW_REPORT;
}

/* RH without a unit was read as a percentage; where no value exceeds 1 it was a share. */
static void settle_rh(struct plain *plain)
{
    const bool share =
        plain->columns.use[TH_COLUMN_RH].unit == TH_UNIT_NONE && plain->rh_max <= 0.01;
    for (size_t i = 0; i < plain->weather->n && share; i++)
        plain->weather->reports[i].value[TH_RH] *= 100.0;
}

static enum th_code decide_clock(struct plain *plain, const struct th_weather_options *options,
                                 const struct th_lines *lines, struct th_error *err)
{
    struct th_weather *weather = plain->weather;
    if (plain->zoned && plain->unzoned)
        return th_weather_fail(lines, 0, err, "some times name a zone and some do not");
    weather->clock = TH_CLOCK_STANDARD;
    const char *note = "taken as local standard time, since the file names no zone";
    if (plain->zoned || plain->columns.utc) {
        weather->clock = TH_CLOCK_UTC;
        note = plain->zoned ? "UTC, from the zone in each time" : "UTC, as the column name says";
        weather->station.has_utc_offset = plain->zoned && plain->zone_min != 0;
        weather->station.utc_offset_h = (double)plain->zone_min / 60.0;
    } else if (options->has_utc_offset) {
        weather->clock = TH_CLOCK_UNKNOWN;
    } else if (th_weather_looks_daylight(weather)) {
        note = "taken as local standard time, but an hour repeats or is skipped as on wall clocks: "
               "--clock daylight?";
    }
    snprintf(weather->clock_note, sizeof weather->clock_note, "%s", note);
    return TH_OK;
}

/* The delimiter the line of names holds most of. */
static char find_delimiter(const char *text, size_t length)
{
    static const char candidates[] = ",;\t";
    size_t count[3] = {0};
    const char *end = text + length;
    while (text < end && (*text == '#' || *text == '\n' || *text == '\r')) {
        const char *newline = memchr(text, '\n', (size_t)(end - text));
        text = newline ? newline + 1 : end;
    }
    for (; text < end && *text != '\n'; text++)
        for (int i = 0; i < 3; i++)
            count[i] += *text == candidates[i];
    const int best = count[1] > count[0] ? 1 : 0;
    return candidates[count[2] > count[best] ? 2 : best];
}

static enum th_code find_columns(struct th_csv *csv, struct plain *plain, enum th_unit_choice units,
                                 struct th_error *err)
{
    enum th_code code = th_csv_read_names(csv, err);
    if (!code)
        code = th_columns_find(&plain->columns, csv, units, err);
    if (code)
        return code;
    for (int c = 0; c < TH_COLUMNS; c++)
        if (plain->columns.use[c].present)
            th_csv_keep(csv, plain->columns.use[c].index, c);
    th_columns_describe(&plain->columns, plain->weather->units_note,
                        sizeof plain->weather->units_note);
    return TH_OK;
}

static enum th_code read(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err)
{
    struct plain plain = {.weather = weather};
    struct th_csv csv;
    const char *head;
    size_t length;
    enum th_code code = th_lines_peek(lines, &head, &length, err);
    if (code)
        return code;
    const char delimiter = find_delimiter(head, length);
    code = th_csv_open(&csv, lines, delimiter, err);
    if (code)
        return code;
    csv.skip_comments = true;
    plain.decimal_comma = delimiter == ';';
    code = find_columns(&csv, &plain, options->units, err);
    if (!code)
        code = th_weather_rows(&csv, weather, row, &plain, err);
    th_csv_close(&csv);
    if (code)
        return code;
    settle_rh(&plain);
    return decide_clock(&plain, options, lines, err);
}

const struct th_weather_form th_form_plain = {
    .name = "plain", .recognise = recognise, .read = read};
