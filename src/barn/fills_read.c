/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills_read.h"

#include "csv_rows.h"
#include "turnheat/calendar.h"
#include "turnheat/thousands.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { DATE, GALLONS, LEVEL };

static bool number_of(const char *text, double *number)
{
    char *end;
    errno = 0;
    *number = strtod(text, &end);
    return end != text && *end == '\0' && errno == 0 && isfinite(*number);
}

static bool day_of(const char *text, long *day)
{
    long part[3] = {0};
    for (int i = 0; i < 3; i++) {
        char *end;
        part[i] = strtol(text, &end, 10);
        if (end == text || *end != (i < 2 ? '-' : '\0') || part[i] < 1 || part[i] > 9999)
            return false;
        text = end + 1;
    }
    if (!th_date_valid((int)part[0], (int)part[1], (int)part[2]))
        return false;
    *day = th_day_number((int)part[0], (int)part[1], (int)part[2]);
    return true;
}

static enum th_code read_fill(const struct th_csv *csv, double capacity_gal,
                              const struct th_tank_fill *before, struct th_tank_fill *fill,
                              struct th_error *err)
{
    double level_pct;
    if (!day_of(csv->field[DATE], &fill->day))
        return th_fail(err, TH_ERR_INPUT, "\"%s\" is not a date such as 2018-01-31",
                       csv->field[DATE]);
    if (!number_of(csv->field[GALLONS], &fill->delivered_gal) || fill->delivered_gal < 0.0)
        return th_fail(err, TH_ERR_INPUT, "\"%s\" gallons: a number from 0 on was expected",
                       csv->field[GALLONS]);
    if (!number_of(csv->field[LEVEL], &level_pct) || level_pct < 0.0 || level_pct > 100.0)
        return th_fail(err, TH_ERR_INPUT, "level_before_pct \"%s\": 0 to 100 was expected",
                       csv->field[LEVEL]);
    fill->level_share = level_pct / 100.0;
    if (before && fill->day == before->day)
        return th_fail(err, TH_ERR_INPUT, "%s has two fills; enter one row a day",
                       csv->field[DATE]);
    if (before && fill->day < before->day)
        return th_fail(err, TH_ERR_INPUT, "%s comes after a later date; fills go in order of date",
                       csv->field[DATE]);
    if (fill->delivered_gal > (1.0 - fill->level_share) * capacity_gal)
        return th_fail(err, TH_ERR_INPUT,
                       "%s gal at a level of %.0f %% do not fit into tanks of %s gal",
                       th_whole(fill->delivered_gal).text, level_pct, th_whole(capacity_gal).text);
    return TH_OK;
}

static enum th_code read_rows(struct th_csv *csv, double capacity_gal, struct th_tank_fill *fills,
                              size_t *n, struct th_error *err)
{
    enum th_code code = th_csv_read_names(csv, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "date", DATE, true, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "gallons", GALLONS, true, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "level_before_pct", LEVEL, true, err);
    while (code == TH_OK) {
        bool more;
        code = th_csv_next(csv, &more, err);
        if (code != TH_OK || !more)
            break;
        if (*n == TH_FILLS_MAX)
            return th_fail(err, TH_ERR_INPUT, "more than %d fills", TH_FILLS_MAX);
        code = read_fill(csv, capacity_gal, *n > 0 ? &fills[*n - 1] : NULL, &fills[*n], err);
        *n += code == TH_OK;
    }
    return code;
}

enum th_code th_fills_read(struct th_files *files, const char *path, double capacity_gal,
                           struct th_tank_fill *fills, size_t *n, struct th_error *err)
{
    struct th_lines lines;
    struct th_csv *csv = malloc(sizeof *csv);
    *n = 0;
    if (!csv)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    enum th_code code = th_lines_open(&lines, files, path, err);
    if (code == TH_OK) {
        code = th_csv_open(csv, &lines, ',', err);
        if (code == TH_OK) {
            csv->skip_comments = true;
            code = read_rows(csv, capacity_gal, fills, n, err);
            if (code == TH_ERR_INPUT)
                th_error_place(err, path, csv->line, 0);
            th_csv_close(csv);
        }
        th_lines_close(&lines);
    }
    free(csv);
    return code;
}
