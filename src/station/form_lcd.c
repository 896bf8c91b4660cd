/* SPDX-License-Identifier: GPL-3.0-or-later */
/* NOAA Local Climatological Data, CSV, local standard time. The same column names carry whole °F,
   mph and inches of mercury in one release and °C, m/s and hPa in the other; the values decide.
   Only routine hourly reports (FM-15) are taken: specials cluster in bad weather. */
#include "turnheat/units.h"
#include "weather_forms.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define ROUTINE "FM-15"
/* Station pressure from below sea level to the highest towns reads 15–33 in inches and 500–1100 in
   hPa, so the two cannot be taken for each other. */
#define INHG_LOW 15.0
#define INHG_HIGH 33.0
#define HPA_LOW 500.0
#define HPA_HIGH 1100.0

enum slot { STATION, DATE, TYPE, DRY, DEW, RH, WIND, PRESSURE, NAME, LAT, LON, ELEVATION };

struct column {
    const char *name;
    enum slot slot;
    bool required;
};

static const struct column columns[] = {
    {"station", STATION, true},
    {"date", DATE, true},
    {"report_type", TYPE, true},
    {"hourlydrybulbtemperature", DRY, true},
    {"hourlydewpointtemperature", DEW, false},
    {"hourlyrelativehumidity", RH, false},
    {"hourlywindspeed", WIND, false},
    {"hourlystationpressure", PRESSURE, false},
    {"name", NAME, false},
    {"latitude", LAT, false},
    {"longitude", LON, false},
    {"elevation", ELEVATION, false},
};
#define COLUMNS (sizeof columns / sizeof columns[0])

struct lcd {
    struct th_weather *weather;
    struct th_one_station station;
    size_t inches, hectopascals, decimals;
};

static bool recognise(const struct th_weather_head *head)
{
    return strstr(head->names, "hourlydrybulbtemperature") && strstr(head->names, "report_type");
}

/* "41", "41s" (suspect), "-3.3", "0.02V", "T", "M", "*", "": false when there is no value. */
static bool lcd_value(const char *text, double *value, bool *suspect)
{
    char *end;
    *suspect = false;
    if (!isdigit((unsigned char)text[0]) && text[0] != '-' && text[0] != '.')
        return false;
    *value = strtod(text, &end);
    for (; *end != '\0'; end++)
        *suspect = *suspect || *end == 's';
    return true;
}

static bool understood(const char *text)
{
    char *end;
    strtod(text, &end);
    return strspn(end, "sVTM* ") == strlen(end);
}

static void take(struct lcd *lcd, const char *text, struct th_observation *report,
                 enum th_quantity quantity)
{
    double value;
    bool suspect;
    if (!lcd_value(text, &value, &suspect))
        return;
    if (!suspect)
        th_observation_set(report, quantity, value);
    else if (quantity == TH_TEMP_C)
        lcd->weather->counts.suspect++;
}

static void vote(struct lcd *lcd, const char *dry_bulb, const struct th_observation *report)
{
    const double pressure = report->value[TH_PRESSURE_PA];
    if (th_observation_has(report, TH_PRESSURE_PA)) {
        lcd->inches += pressure > INHG_LOW && pressure < INHG_HIGH;
        lcd->hectopascals += pressure > HPA_LOW && pressure < HPA_HIGH;
    }
    lcd->decimals += strchr(dry_bulb, '.') != NULL;
}

static void remember_station(struct th_csv *csv, struct th_station *station)
{
    snprintf(station->name, sizeof station->name, "%.95s", csv->field[NAME]);
    station->has_place = th_field_number(csv->field[LAT], &station->lat_deg) &&
                         th_field_number(csv->field[LON], &station->lon_deg);
    station->has_elevation = th_field_number(csv->field[ELEVATION], &station->elevation_m);
}

/* False for a row of a station that is not taken. */
static bool right_station(struct lcd *lcd, struct th_csv *csv)
{
    struct th_station *station = &lcd->weather->station;
    const bool first = !station->id[0];
    if (!th_one_station_takes(&lcd->station, station, csv->field[STATION]))
        return false;
    if (first)
        remember_station(csv, station);
    return true;
}

static enum th_row row(struct th_csv *csv, void *context, struct th_observation *report, char *why)
{
    static const enum slot of_quantity[TH_QUANTITIES] = {DRY, DEW, RH, PRESSURE, WIND};
    struct lcd *lcd = context;
    struct th_stamp stamp;
    if (!th_field_stamp(csv->field[DATE], &stamp)) {
        snprintf(why, 96, "found \"%.24s\" as DATE; expected YYYY-MM-DDTHH:MM:SS",
                 csv->field[DATE]);
        return TH_ROW_REFUSED;
    }
    if (!right_station(lcd, csv) || strcmp(csv->field[TYPE], ROUTINE) != 0) {
        lcd->weather->counts.other_type++;
        return TH_ROW_LEFT_OUT;
    }
    if (!understood(csv->field[DRY])) {
        snprintf(why, 96, "found \"%.24s\" as dry bulb; expected a number", csv->field[DRY]);
        return TH_ROW_REFUSED;
    }
    report->minute = stamp.minute;
    for (int q = 0; q < TH_QUANTITIES; q++)
        take(lcd, csv->field[of_quantity[q]], report, (enum th_quantity)q);
    vote(lcd, csv->field[DRY], report);
    return TH_ROW_REPORT;
}

static void convert(struct th_weather *weather, bool us)
{
    for (size_t i = 0; i < weather->n; i++) {
        double *value = weather->reports[i].value;
        value[TH_RH] *= 0.01;
        value[TH_PRESSURE_PA] *= us ? TH_PA_PER_INHG : 100.0;
        if (!us)
            continue;
        value[TH_TEMP_C] = th_c_from_f(value[TH_TEMP_C]);
        value[TH_DEW_C] = th_c_from_f(value[TH_DEW_C]);
        value[TH_WIND_M_S] *= TH_M_S_PER_MPH;
    }
}

static enum th_code decide_units(struct lcd *lcd, const struct th_lines *lines,
                                 enum th_unit_choice units, struct th_error *err)
{
    struct th_weather *weather = lcd->weather;
    const char *reason = "as told";
    if (units == TH_UNITS_AUTO && (lcd->inches > 0) != (lcd->hectopascals > 0)) {
        units = lcd->inches ? TH_UNITS_US : TH_UNITS_SI;
        reason = "because the station pressures are of that size";
    } else if (units == TH_UNITS_AUTO && lcd->inches == 0 && lcd->decimals > 0) {
        units = TH_UNITS_SI;
        reason = "because the temperatures have decimal points";
    }
    if (units == TH_UNITS_AUTO)
        return th_weather_fail(lines, 0, err,
                               "neither the pressures nor the temperatures tell whether this is "
                               "°F or °C; say so with --units us or --units si");
    snprintf(weather->units_note, sizeof weather->units_note, "%s, %s",
             units == TH_UNITS_US ? "°F, mph and inches of mercury" : "°C, m/s and hPa", reason);
    convert(weather, units == TH_UNITS_US);
    return TH_OK;
}

static enum th_code read_all(struct th_csv *csv, const struct th_weather_options *options,
                             struct th_weather *weather, struct th_error *err)
{
    struct lcd lcd = {.weather = weather, .station = {.wanted = options->station}};
    enum th_code code = th_csv_read_names(csv, err);
    for (size_t i = 0; i < COLUMNS && !code; i++)
        code = th_csv_keep_named(csv, columns[i].name, columns[i].slot, columns[i].required, err);
    if (!code)
        code = th_weather_rows(csv, weather, row, &lcd, err);
    if (!code)
        code = th_one_station_check(&lcd.station, &weather->station, csv->lines, err);
    if (code || weather->n == 0)
        return code;
    return decide_units(&lcd, csv->lines, options->units, err);
}

static enum th_code read(struct th_lines *lines, const struct th_weather_options *options,
                         struct th_weather *weather, struct th_error *err)
{
    struct th_csv csv;
    enum th_code code = th_csv_open(&csv, lines, ',', err);
    if (code)
        return code;
    weather->clock = TH_CLOCK_STANDARD;
    snprintf(weather->clock_note, sizeof weather->clock_note,
             "local standard time, as this form has it");
    code = read_all(&csv, options, weather, err);
    th_csv_close(&csv);
    return code;
}

const struct th_weather_form th_form_lcd = {.name = "lcd", .recognise = recognise, .read = read};
