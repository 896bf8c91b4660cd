/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "normals_read.h"

#include "turnheat/places.h"
#include "turnheat/units.h"
#include "weather_forms.h"

#include <math.h>
#include <string.h>

enum slot { MONTH, MEAN, SD, LAG1, RANGE, DEW, WIND, OFFSET };

/* Whether the column in the US or the SI unit was found. */
struct units {
    bool mean_f, sd_f, range_f, dew_f, wind_mph, offset_f;
    bool means_alone; /* no column of spread, correlation or range */
};

/* The text of a line "# key: text" among the remarks that begin the file; false without one. */
static bool remark(const char *head, size_t length, const char *key, char text[96])
{
    static const char bom[] = "\xEF\xBB\xBF"; /* spreadsheets write one */
    char label[24];
    const char *const end = head + length;
    const size_t size = (size_t)snprintf(label, sizeof label, "# %s:", key);
    if (length >= sizeof bom - 1 && strncmp(head, bom, sizeof bom - 1) == 0)
        head += sizeof bom - 1;
    while (head < end && *head == '#') {
        const char *const newline = memchr(head, '\n', (size_t)(end - head));
        const char *const stop = newline ? newline : end;
        if ((size_t)(stop - head) > size && strncmp(head, label, size) == 0) {
            for (head += size; head < stop && *head == ' '; head++)
                continue;
            snprintf(text, 96, "%.*s", (int)(stop - head), head);
            text[strcspn(text, "\r")] = '\0';
            return true;
        }
        head = newline ? newline + 1 : end;
    }
    return false;
}

/* Where the place lies: two remarks say so, or its name is one of the known places. */
static bool locate(const char *head, size_t length, const char *place, double *latitude_deg,
                   double *longitude_deg)
{
    char north[96], east[96];
    const struct th_places_row *row;
    if (remark(head, length, "latitude", north) && remark(head, length, "longitude", east))
        return th_field_number(north, latitude_deg) && th_field_number(east, longitude_deg) &&
               fabs(*latitude_deg) <= 90.0 && fabs(*longitude_deg) <= 180.0;
    if (th_places_find(place, &row, NULL) != TH_OK)
        return false;
    *latitude_deg = row->latitude_deg;
    *longitude_deg = row->longitude_deg;
    return true;
}

/* Means alone: the rest is that of the nearest known places, the dew point as far below the mean.
 */
static void fill_from_places(double latitude_deg, double longitude_deg, struct th_normals *normals)
{
    struct th_normals near;
    th_places_normals(latitude_deg, longitude_deg,
                      th_places_elevation_m(latitude_deg, longitude_deg), &near);
    for (int i = 0; i < 12; i++) {
        struct th_month_normal *const own = &normals->month[i];
        const struct th_month_normal *const theirs = &near.month[i];
        own->sd_k = theirs->sd_k;
        own->lag1 = theirs->lag1;
        own->range_k = theirs->range_k;
        if (!own->has_dew)
            own->dew_c = own->mean_c - (theirs->mean_c - theirs->dew_c);
        if (!own->has_wind)
            own->wind_m_s = theirs->wind_m_s;
        own->has_dew = own->has_wind = true;
    }
    if (!normals->has_season_offset)
        normals->season_offset_k = near.season_offset_k;
    normals->has_season_offset = true;
    normals->spread_of_places = true;
}

static enum th_code keep_either(struct th_csv *csv, const char *us, const char *si, enum slot slot,
                                bool required, bool *is_us, struct th_error *err)
{
    *is_us = th_csv_find(csv, us) >= 0;
    return th_csv_keep_named(csv, *is_us ? us : si, slot, required, err);
}

static enum th_code find_columns(struct th_csv *csv, struct units *units, struct th_error *err)
{
    enum th_code code = th_csv_read_names(csv, err);
    if (code)
        return code;
    const bool alone = th_csv_find(csv, "sd_f") < 0 && th_csv_find(csv, "sd_c") < 0 &&
                       th_csv_find(csv, "lag1") < 0 && th_csv_find(csv, "range_f") < 0 &&
                       th_csv_find(csv, "range_c") < 0;
    units->means_alone = alone;
    code = th_csv_keep_named(csv, "month", MONTH, true, err);
    if (!code)
        code = keep_either(csv, "mean_f", "mean_c", MEAN, true, &units->mean_f, err);
    if (!code)
        code = keep_either(csv, "sd_f", "sd_c", SD, !alone, &units->sd_f, err);
    if (!code)
        code = th_csv_keep_named(csv, "lag1", LAG1, !alone, err);
    if (!code)
        code = keep_either(csv, "range_f", "range_c", RANGE, !alone, &units->range_f, err);
    if (!code)
        code = keep_either(csv, "dew_point_f", "dew_point_c", DEW, false, &units->dew_f, err);
    if (!code)
        code = keep_either(csv, "wind_mph", "wind_m_s", WIND, false, &units->wind_mph, err);
    if (!code)
        code = keep_either(csv, "season_offset_f", "season_offset_c", OFFSET, false,
                           &units->offset_f, err);
    return code;
}

static enum th_code number(struct th_csv *csv, enum slot slot, const char *what, double *value,
                           struct th_error *err)
{
    if (th_field_number(csv->field[slot], value))
        return TH_OK;
    return th_weather_fail(csv->lines, csv->line, err,
                           "found \"%.24s\" where %s (a number) was expected", csv->field[slot],
                           what);
}

static void to_si(struct th_month_normal *m, const struct units *units)
{
    if (units->mean_f)
        m->mean_c = th_c_from_f(m->mean_c);
    if (units->sd_f)
        m->sd_k *= TH_K_PER_F;
    if (units->range_f)
        m->range_k *= TH_K_PER_F;
    if (units->dew_f)
        m->dew_c = th_c_from_f(m->dew_c);
    if (units->wind_mph)
        m->wind_m_s *= TH_M_S_PER_MPH;
}

static enum th_code read_month(struct th_csv *csv, const struct units *units,
                               struct th_month_normal *m, struct th_error *err)
{
    enum th_code code = number(csv, MEAN, "the mean temperature", &m->mean_c, err);
    if (!code && !units->means_alone)
        code = number(csv, SD, "the standard deviation of daily means", &m->sd_k, err);
    if (!code && !units->means_alone)
        code = number(csv, LAG1, "the day-to-day correlation", &m->lag1, err);
    if (!code && !units->means_alone)
        code = number(csv, RANGE, "the mean daily range", &m->range_k, err);
    m->has_dew = csv->field[DEW][0] != '\0';
    if (!code && m->has_dew)
        code = number(csv, DEW, "the mean dew point", &m->dew_c, err);
    m->has_wind = csv->field[WIND][0] != '\0';
    if (!code && m->has_wind)
        code = number(csv, WIND, "the mean wind", &m->wind_m_s, err);
    to_si(m, units);
    return code;
}

/* One figure for the whole year, whichever month's row it stands in. */
static enum th_code read_offset(struct th_csv *csv, const struct units *units,
                                struct th_normals *normals, struct th_error *err)
{
    if (csv->field[OFFSET][0] == '\0')
        return TH_OK;
    double offset = 0.0;
    const enum th_code code = number(csv, OFFSET, "the season offset", &offset, err);
    offset *= units->offset_f ? TH_K_PER_F : 1.0;
    if (!code && normals->has_season_offset && normals->season_offset_k != offset)
        return th_weather_fail(csv->lines, csv->line, err,
                               "found a second season offset, \"%.24s\"; expected one for the year",
                               csv->field[OFFSET]);
    normals->has_season_offset = true;
    normals->season_offset_k = offset;
    return code;
}

static enum th_code read_rows(struct th_csv *csv, struct th_normals *normals, bool *means_alone,
                              struct th_error *err)
{
    struct units units = {0};
    bool seen[12] = {false};
    int n = 0;
    enum th_code code = find_columns(csv, &units, err);
    *means_alone = units.means_alone;
    while (!code) {
        bool more;
        long month;
        code = th_csv_next(csv, &more, err);
        if (code || !more)
            break;
        if (!th_field_whole(csv->field[MONTH], &month) || month < 1 || month > 12 ||
            seen[month - 1])
            return th_weather_fail(csv->lines, csv->line, err,
                                   "found month \"%.24s\"; expected each of 1 to 12 once",
                                   csv->field[MONTH]);
        seen[month - 1] = true;
        n++;
        code = read_month(csv, &units, &normals->month[month - 1], err);
        if (!code)
            code = read_offset(csv, &units, normals, err);
    }
    if (!code && n != 12)
        code =
            th_weather_fail(csv->lines, csv->lines->line, err, "found %d months; expected 12", n);
    return code;
}

static enum th_code read_table(struct th_lines *lines, struct th_normals *normals,
                               struct th_error *err)
{
    struct th_csv csv;
    const char *head;
    size_t length;
    double latitude_deg = 0.0, longitude_deg = 0.0;
    bool means_alone = false;
    enum th_code code = th_lines_peek(lines, &head, &length, err);
    if (code)
        return code;
    const char *const slash = strrchr(lines->path, '/');
    if (!remark(head, length, "place", normals->place))
        snprintf(normals->place, sizeof normals->place, "%.95s", slash ? slash + 1 : lines->path);
    const bool located = locate(head, length, normals->place, &latitude_deg, &longitude_deg);
    code = th_csv_open(&csv, lines, ',', err);
    if (code)
        return code;
    csv.skip_comments = true;
    code = read_rows(&csv, normals, &means_alone, err);
    th_csv_close(&csv);
    if (code || !means_alone)
        return code;
    if (!located)
        return th_weather_fail(lines, 0, err,
                               "there are means alone; the nearest known places could lend their "
                               "spread: expected \"# place: Mason City, Iowa\", or \"# latitude: "
                               "43.2\" and \"# longitude: -93.3\", above the columns");
    fill_from_places(latitude_deg, longitude_deg, normals);
    return TH_OK;
}

enum th_code th_normals_read(struct th_files *files, const char *path, struct th_normals *normals,
                             struct th_error *err)
{
    struct th_lines lines;
    *normals = (struct th_normals){0};
    enum th_code code = th_lines_open(&lines, files, path, err);
    if (code)
        return code;
    code = read_table(&lines, normals, err);
    th_lines_close(&lines);
    if (code)
        return code;
    code = th_normals_check(normals, err);
    if (code)
        th_error_place(err, path, 0, 0);
    return code;
}
