/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "normals_read.h"

#include "turnheat/units.h"
#include "weather_forms.h"

#include <string.h>

enum slot { MONTH, MEAN, SD, LAG1, RANGE, DEW, WIND, OFFSET };

/* Whether the column in the US or the SI unit was found. */
struct units {
    bool mean_f, sd_f, range_f, dew_f, wind_mph, offset_f;
};

static void read_place(const char *path, const char *head, size_t length, char place[96])
{
    static const char key[] = "# place:";
    static const char bom[] = "\xEF\xBB\xBF"; /* spreadsheets write one */
    const char *end = head + length;
    const char *slash = strrchr(path, '/');
    snprintf(place, 96, "%.95s", slash ? slash + 1 : path);
    if (length >= sizeof bom - 1 && strncmp(head, bom, sizeof bom - 1) == 0)
        head += sizeof bom - 1;
    while (head < end && *head == '#') {
        const char *newline = memchr(head, '\n', (size_t)(end - head));
        const char *stop = newline ? newline : end;
        if ((size_t)(stop - head) > sizeof key && strncmp(head, key, sizeof key - 1) == 0) {
            const char *name = head + sizeof key - 1;
            while (name < stop && *name == ' ')
                name++;
            snprintf(place, 96, "%.*s", (int)(stop - name), name);
            place[strcspn(place, "\r")] = '\0';
        }
        head = newline ? newline + 1 : end;
    }
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
    if (!code)
        code = th_csv_keep_named(csv, "month", MONTH, true, err);
    if (!code)
        code = keep_either(csv, "mean_f", "mean_c", MEAN, true, &units->mean_f, err);
    if (!code)
        code = keep_either(csv, "sd_f", "sd_c", SD, true, &units->sd_f, err);
    if (!code)
        code = th_csv_keep_named(csv, "lag1", LAG1, true, err);
    if (!code)
        code = keep_either(csv, "range_f", "range_c", RANGE, true, &units->range_f, err);
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
    if (!code)
        code = number(csv, SD, "the standard deviation of daily means", &m->sd_k, err);
    if (!code)
        code = number(csv, LAG1, "the day-to-day correlation", &m->lag1, err);
    if (!code)
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

static enum th_code read_rows(struct th_csv *csv, struct th_normals *normals, struct th_error *err)
{
    struct units units;
    bool seen[12] = {false};
    int n = 0;
    enum th_code code = find_columns(csv, &units, err);
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
    enum th_code code = th_lines_peek(lines, &head, &length, err);
    if (code)
        return code;
    read_place(lines->path, head, length, normals->place);
    code = th_csv_open(&csv, lines, ',', err);
    if (code)
        return code;
    csv.skip_comments = true;
    code = read_rows(&csv, normals, err);
    th_csv_close(&csv);
    return code;
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
