/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one reader of forms in which everything has its place, as their descriptors say. */
#include "turnheat/daylight.h"
#include "weather_forms.h"

#include <ctype.h>
#include <string.h>

enum slot { STATION, TIME, QUANTITY = TIME + 4 };

struct table {
    const struct th_weather_form *form;
    struct th_weather *weather;
    struct th_one_station station;
    const struct th_form_column *use[TH_QUANTITIES]; /* NULL: the file has none */
};

static bool time_of_parts(const struct th_weather_form *form, struct th_csv *csv, long *minute,
                          char *why)
{
    long part[4];
    bool whole = true;
    for (int i = 0; i < 4; i++)
        whole = whole && th_field_whole(csv->field[TIME + i], &part[i]);
    if (whole && part[3] >= form->first_hour && part[3] < form->first_hour + 24 &&
        th_minute_of(part[0], part[1], part[2], part[3] * 60, minute))
        return true;
    snprintf(why, 96, "found \"%.8s,%.8s,%.8s,%.8s\"; expected year, month, day, hour %d-%d",
             csv->field[TIME], csv->field[TIME + 1], csv->field[TIME + 2], csv->field[TIME + 3],
             form->first_hour, form->first_hour + 23);
    return false;
}

static bool time_of_text(const struct th_weather_form *form, struct th_csv *csv, long *minute,
                         char *why)
{
    char joined[2 * TH_CSV_FIELD_MAX];
    const char *text = csv->field[TIME], *time = csv->field[TIME + 1];
    struct th_stamp stamp;
    if (form->time[1]) {
        snprintf(joined, sizeof joined, "%s %s", text, time);
        text = joined;
    }
    if ((!form->time[1] || time[0]) && th_field_stamp(text, &stamp) && !stamp.has_zone) {
        *minute = stamp.minute;
        return true;
    }
    snprintf(why, 96, "found \"%.24s\"; expected %.40s", text, form->time_text);
    return false;
}

static bool row_time(const struct th_weather_form *form, struct th_csv *csv, long *minute,
                     char *why)
{
    if (!(form->time_parts ? time_of_parts : time_of_text)(form, csv, minute, why))
        return false;
    *minute -= form->ends_hour ? 60 : 0;
    return true;
}

static bool is_missing(const struct th_weather_form *form, const char *text)
{
    if (text[0] == '\0')
        return true;
    if (!form->missing || !isalpha((unsigned char)text[0])) /* saves the comparisons */
        return false;
    for (const char *const *word = form->missing; *word; word++)
        if (strcmp(text, *word) == 0)
            return true;
    return false;
}

static bool has_missing_code(const struct th_form_column *column, double value)
{
    return column->missing > 0.0   ? value >= column->missing
           : column->missing < 0.0 ? value <= column->missing
                                   : false;
}

static bool take(const struct th_weather_form *form, const struct th_form_column *column,
                 const char *text, struct th_observation *report, char *why)
{
    double value;
    if (is_missing(form, text))
        return true;
    if (!th_field_number(text, &value) || (form->whole && strchr(text, '.'))) {
        snprintf(why, 96, "found \"%.24s\" where %s (a %snumber) was expected", text,
                 th_quantity_name(column->quantity), form->whole ? "whole " : "");
        return false;
    }
    if (has_missing_code(column, value))
        return true;
    if (column->parts != 0.0)
        value /= column->parts;
    th_observation_set(report, column->quantity, th_unit_to_si(column->unit, value));
    return true;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    struct table *table = context;
    const struct th_weather_form *form = table->form;
    if (csv->columns < form->fields_min ||
        (form->fields_max > 0 && csv->columns > form->fields_max)) {
        snprintf(why, 96, "found %zu fields; expected %zu%s", csv->columns, form->fields_min,
                 form->fields_max ? "" : " or more");
        return TH_ROW_REFUSED;
    }
    if (!row_time(form, csv, &report->minute, why))
        return TH_ROW_REFUSED;
    if (form->station_column &&
        !th_one_station_takes(&table->station, &table->weather->station, csv->field[STATION])) {
        table->weather->counts.other_type++;
        return TH_ROW_LEFT_OUT;
    }
    for (int q = 0; q < TH_QUANTITIES; q++)
        if (table->use[q] && !take(form, table->use[q], csv->field[QUANTITY + q], report, why))
            return TH_ROW_REFUSED;
    return TH_ROW_REPORT;
}

static enum th_code read_station(struct th_csv *csv, const struct th_form_station *at,
                                 struct th_station *station, struct th_error *err)
{
    enum { ID, NAME, STATE, LATITUDE, LONGITUDE, UTC_OFFSET, ELEVATION };
    const int place[] = {at->id,        at->name,       at->state,    at->latitude,
                         at->longitude, at->utc_offset, at->elevation};
    bool more;
    for (int slot = ID; slot <= ELEVATION; slot++)
        th_csv_keep(csv, place[slot], slot);
    const enum th_code code = th_csv_next(csv, &more, err);
    if (code)
        return code;
    if (!more || csv->columns < at->fields)
        return th_weather_fail(csv->lines, 1, err,
                               "found %zu fields; expected %zu, station, name, state, UTC offset, "
                               "latitude, longitude and elevation among them",
                               csv->columns, at->fields);
    snprintf(station->id, sizeof station->id, "%.31s", csv->field[ID]);
    snprintf(station->name, sizeof station->name, "%.60s, %.30s", csv->field[NAME],
             csv->field[STATE]);
    station->has_place = th_field_number(csv->field[LATITUDE], &station->lat_deg) &&
                         th_field_number(csv->field[LONGITUDE], &station->lon_deg);
    station->has_utc_offset = th_field_number(csv->field[UTC_OFFSET], &station->utc_offset_h);
    station->has_elevation = th_field_number(csv->field[ELEVATION], &station->elevation_m);
    memset(csv->slot_of, -1, sizeof csv->slot_of);
    return TH_OK;
}

static enum th_code read_heading(struct th_csv *csv, const struct table *table,
                                 struct th_error *err)
{
    const struct th_weather_form *form = table->form;
    struct th_lines *lines = csv->lines;
    enum th_code code = TH_OK;
    if (form->station_of_path)
        form->station_of_path(lines->path, &table->weather->station);
    if (form->station.fields > 0)
        code = read_station(csv, &form->station, &table->weather->station, err);
    while (code == TH_OK && lines->line < form->heading_lines) {
        char *text;
        size_t length;
        code = th_lines_next(lines, &text, &length, err);
        if (code == TH_OK && !text)
            return th_weather_fail(lines, lines->line, err,
                                   "the file ends within its %ld heading lines",
                                   form->heading_lines);
    }
    return code == TH_OK && form->named ? th_csv_read_names(csv, err) : code;
}

static enum th_code find_columns(struct th_csv *csv, struct table *table, struct th_error *err)
{
    const struct th_weather_form *form = table->form;
    const struct th_form_column *temp = NULL;
    enum th_code code = TH_OK;
    for (int i = 0; i < 4 && form->time_parts; i++)
        th_csv_keep(csv, i, TIME + i);
    if (form->station_column)
        code = th_csv_keep_named(csv, form->station_column, STATION, true, err);
    for (int i = 0; i < 2 && form->time[i] && code == TH_OK; i++)
        code = th_csv_keep_named(csv, form->time[i], TIME + i, true, err);
    for (int i = 0; i < TH_FORM_COLUMNS_MAX && form->columns[i].unit != TH_UNIT_NONE; i++) {
        const struct th_form_column *column = &form->columns[i];
        const int place = column->name ? th_csv_find(csv, column->name) : column->place;
        temp = column->quantity == TH_TEMP_C ? column : temp;
        if (place < 0 || table->use[column->quantity])
            continue;
        table->use[column->quantity] = column;
        th_csv_keep(csv, place, QUANTITY + (int)column->quantity);
    }
    if (code == TH_OK && temp && !table->use[TH_TEMP_C])
        code = th_csv_keep_named(csv, temp->name, QUANTITY, true, err);
    return code;
}

/* "°C, %, Pa and m/s, as this form has them", of the columns found. */
static void note_units(const struct table *table, char *text, size_t size)
{
    const char *unit[TH_QUANTITIES];
    int n = 0;
    for (int q = 0; q < TH_QUANTITIES; q++) {
        if (!table->use[q] || (q == TH_DEW_C && table->use[TH_TEMP_C] &&
                               table->use[q]->unit == table->use[TH_TEMP_C]->unit))
            continue;
        unit[n++] = th_unit_name(table->use[q]->unit);
    }
    size_t used = 0;
    for (int i = 0; i < n && used < size; i++)
        used += (size_t)snprintf(text + used, size - used, "%s%s",
                                 i == 0       ? ""
                                 : i == n - 1 ? " and "
                                              : ", ",
                                 unit[i]);
    if (used < size)
        snprintf(text + used, size - used, ", %s", table->form->units_note);
}

static void settle_clock(const struct th_weather_form *form, struct th_weather *weather)
{
    if (form->ends_hour) {
        th_weather_end_of_hour(weather);
        return;
    }
    weather->clock = form->clock;
    const char *note = form->clock_note;
    if (form->clock == TH_CLOCK_UNKNOWN)
        note = th_weather_looks_daylight(weather)
                   ? "not in the file; an hour repeats or is skipped as on wall clocks: --clock "
                     "daylight?"
                   : "not in the file: say --clock utc, standard or daylight";
    snprintf(weather->clock_note, sizeof weather->clock_note, "%s", note);
}

enum th_code th_weather_read_table(const struct th_weather_form *form, struct th_lines *lines,
                                   const struct th_weather_options *options,
                                   struct th_weather *weather, struct th_error *err)
{
    struct table table = {
        .form = form, .weather = weather, .station = {.wanted = options->station}};
    struct th_csv csv;
    enum th_code code = th_csv_open(&csv, lines, form->delimiter, err);
    if (code)
        return code;
    csv.skip_comments = form->comments;
    code = read_heading(&csv, &table, err);
    if (!code)
        code = find_columns(&csv, &table, err);
    if (!code) {
        note_units(&table, weather->units_note, sizeof weather->units_note);
        code = th_weather_rows(&csv, weather, row, &table, err);
    }
    th_csv_close(&csv);
    if (!code)
        code = th_one_station_check(&table.station, &weather->station, lines, err);
    if (!code)
        settle_clock(form, weather);
    return code;
}
