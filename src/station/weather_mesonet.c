/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Airport reports as mesonet archives give them: station,valid,tmpf,dwpf,relh,sknt,… Names may
   carry blanks; M, null or nothing for missing; wind in knots. The file does not say what clock it
   was cut in. Altimeter setting and sea-level pressure are not station pressure and are not used.
 */
#include "turnheat/daylight.h"
#include "turnheat/units.h"
#include "weather_forms.h"

#include <string.h>

enum slot { STATION, VALID, TEMP, DEW, RH, WIND };

struct mesonet {
    struct th_weather *weather;
    const char *wanted; /* station, or NULL */
    char other[32];     /* a second station found */
    bool temp_f, dew_f;
    double wind_scale;
};

/* Whether a folded line of names has this one, blanks and quotes apart. */
static bool has_name(const char *names, const char *name)
{
    const size_t length = strlen(name);
    for (const char *at = strstr(names, name); at; at = strstr(at + 1, name)) {
        const char *before = at;
        while (before > names && strchr(" \t\"", before[-1]))
            before--;
        const char *after = at + length + strspn(at + length, " \t\"");
        if ((before == names || before[-1] == ',') && (*after == ',' || *after == '\0'))
            return true;
    }
    return false;
}

static bool recognise(const struct th_weather_head *head)
{
    return has_name(head->names, "station") && has_name(head->names, "valid") &&
           (has_name(head->names, "tmpf") || has_name(head->names, "tmpc"));
}

static bool is_missing(const char *text)
{
    return text[0] == '\0' || strcmp(text, "M") == 0 || strcmp(text, "null") == 0;
}

static bool take(const char *text, const char *what, struct th_observation *report,
                 enum th_quantity quantity, double scale, char *why)
{
    return is_missing(text) ||
           th_field_reading(text, what, report, quantity, scale, why) != TH_ROW_REFUSED;
}

/* False for a row of a station that is not taken. */
static bool right_station(struct mesonet *m, const char *id)
{
    struct th_station *station = &m->weather->station;
    if (m->wanted && strcmp(id, m->wanted) != 0)
        return false;
    if (!station->id[0])
        snprintf(station->id, sizeof station->id, "%.31s", id);
    if (strncmp(station->id, id, sizeof station->id - 1) == 0)
        return true;
    snprintf(m->other, sizeof m->other, "%.31s", id);
    return false;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    struct mesonet *m = context;
    struct th_stamp stamp;
    if (!th_field_stamp(csv->field[VALID], &stamp) || stamp.has_zone) {
        snprintf(why, 96, "found \"%.24s\" as valid; expected YYYY-MM-DD HH:MM", csv->field[VALID]);
        return TH_ROW_REFUSED;
    }
    if (!right_station(m, csv->field[STATION])) {
        m->weather->counts.other_type++;
        return TH_ROW_LEFT_OUT;
    }
    report->minute = stamp.minute;
    if (!take(csv->field[TEMP], "a temperature", report, TH_TEMP_C, 1.0, why) ||
        !take(csv->field[DEW], "a dew point", report, TH_DEW_C, 1.0, why) ||
        !take(csv->field[RH], "a relative humidity", report, TH_RH, 0.01, why) ||
        !take(csv->field[WIND], "a wind speed", report, TH_WIND_M_S, m->wind_scale, why))
        return TH_ROW_REFUSED;
    if (m->temp_f)
        report->value[TH_TEMP_C] = th_c_from_f(report->value[TH_TEMP_C]);
    if (m->dew_f)
        report->value[TH_DEW_C] = th_c_from_f(report->value[TH_DEW_C]);
    return TH_ROW_REPORT;
}

/* Keeps the metric column of a pair where both are there; says whether it took the °F one. */
static enum th_code keep_pair(struct th_csv *csv, const char *metric, const char *us,
                              enum slot slot, bool required, bool *is_us, struct th_error *err)
{
    *is_us = th_csv_find(csv, metric) == -1;
    return th_csv_keep_named(csv, *is_us ? us : metric, slot, required, err);
}

static enum th_code find_columns(struct th_csv *csv, struct mesonet *m, struct th_error *err)
{
    bool is_mph;
    enum th_code code = th_csv_read_names(csv, err);
    if (!code)
        code = th_csv_keep_named(csv, "station", STATION, true, err);
    if (!code)
        code = th_csv_keep_named(csv, "valid", VALID, true, err);
    if (!code)
        code = keep_pair(csv, "tmpc", "tmpf", TEMP, true, &m->temp_f, err);
    if (!code)
        code = keep_pair(csv, "dwpc", "dwpf", DEW, false, &m->dew_f, err);
    if (!code)
        code = th_csv_keep_named(csv, "relh", RH, false, err);
    if (!code)
        code = keep_pair(csv, "sknt", "sped", WIND, false, &is_mph, err);
    if (code)
        return code;
    m->wind_scale = is_mph ? TH_M_S_PER_MPH : TH_M_S_PER_KNOT;
    snprintf(m->weather->units_note, sizeof m->weather->units_note,
             "%s and %s, as the column names say; altimeter and sea-level pressure are not used",
             m->temp_f ? "°F" : "°C", is_mph ? "mph" : "knots");
    return TH_OK;
}

static void note_clock(struct th_weather *weather)
{
    weather->clock = TH_CLOCK_UNKNOWN;
    snprintf(weather->clock_note, sizeof weather->clock_note, "%s",
             th_weather_looks_daylight(weather)
                 ? "not in the file; an hour repeats or is skipped as on wall clocks: --clock "
                   "daylight?"
                 : "not in the file: say --clock utc, standard or daylight");
}

static enum th_code read(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err)
{
    struct mesonet m = {.weather = weather, .wanted = options->station};
    struct th_csv csv;
    enum th_code code = th_csv_open(&csv, lines, ',', err);
    if (code)
        return code;
    csv.skip_comments = true;
    code = find_columns(&csv, &m, err);
    if (!code)
        code = th_weather_rows(&csv, weather, row, &m, err);
    th_csv_close(&csv);
    if (!code && m.other[0])
        code = th_weather_fail(lines, 0, err,
                               "found stations %s and %s; take one of them with --station",
                               weather->station.id, m.other);
    if (!code)
        note_clock(weather);
    return code;
}

const struct th_weather_reader th_reader_mesonet = {TH_FORM_MESONET, recognise, read};
