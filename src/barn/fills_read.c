/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills_read.h"

#include "csv_rows.h"
#include "month_day.h"
#include "turnheat/thousands.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DATE, GALLONS, LEVEL };

static bool number_of(const char *text, double *number)
{
    char *end;
    errno = 0;
    *number = strtod(text, &end);
    return end != text && *end == '\0' && errno == 0 && isfinite(*number);
}

/* With or without the sign. */
static bool per_cent_of(const char *text, double *number)
{
    char plain[TH_CSV_FIELD_MAX];
    snprintf(plain, sizeof plain, "%s", text);
    size_t n = strlen(plain);
    if (n > 0 && plain[n - 1] == '%')
        n--;
    while (n > 0 && plain[n - 1] == ' ')
        n--;
    plain[n] = '\0';
    return number_of(plain, number) && *number >= 0.0 && *number <= 100.0;
}

/* The tanks slips are from. */
struct filled {
    double capacity_gal, kept_full_share;
};

/* The gauge before a fill: read, or what the fill made full. */
static enum th_code read_level(const struct th_csv *csv, const struct filled *tanks,
                               struct th_tank_fill *fill, struct th_error *err)
{
    double level_pct;
    if (csv->field[LEVEL][0] == '\0' && tanks->kept_full_share > 0.0) {
        fill->level_share = tanks->kept_full_share - fill->delivered_gal / tanks->capacity_gal;
        if (fill->level_share < 0.0)
            return th_fail(err, TH_ERR_INPUT,
                           "%s gal are more than tanks of %s gal take up to %.0f %% (kept_full)",
                           th_whole(fill->delivered_gal).text, th_whole(tanks->capacity_gal).text,
                           100.0 * tanks->kept_full_share);
        return TH_OK;
    }
    if (csv->field[LEVEL][0] == '\0')
        return th_fail(err, TH_ERR_INPUT,
                       "level_before_pct is not told; expected what the gauge showed before the "
                       "fill, or kept_full = 80 %% in [tank] where every fill brings it there");
    if (!per_cent_of(csv->field[LEVEL], &level_pct))
        return th_fail(err, TH_ERR_INPUT, "level_before_pct \"%s\": 0 to 100 was expected",
                       csv->field[LEVEL]);
    fill->level_share = level_pct / 100.0;
    if (fill->delivered_gal > (1.0 - fill->level_share) * tanks->capacity_gal)
        return th_fail(
            err, TH_ERR_INPUT, "%s gal at a level of %.0f %% do not fit into tanks of %s gal",
            th_whole(fill->delivered_gal).text, level_pct, th_whole(tanks->capacity_gal).text);
    return TH_OK;
}

static enum th_code read_fill(const struct th_csv *csv, const struct filled *tanks,
                              const struct th_tank_fill *before, struct th_tank_fill *fill,
                              struct th_error *err)
{
    if (!th_date_read(csv->field[DATE], &fill->day))
        return th_fail(err, TH_ERR_INPUT, "\"%s\" is not a date such as 2018-01-31 or 1/31/2018",
                       csv->field[DATE]);
    if (!number_of(csv->field[GALLONS], &fill->delivered_gal) || fill->delivered_gal < 0.0)
        return th_fail(err, TH_ERR_INPUT, "\"%s\" gallons: a number from 0 on was expected",
                       csv->field[GALLONS]);
    if (before && fill->day == before->day)
        return th_fail(err, TH_ERR_INPUT, "%s has two fills; enter one row a day",
                       csv->field[DATE]);
    if (before && fill->day < before->day)
        return th_fail(err, TH_ERR_INPUT, "%s comes after a later date; fills go in order of date",
                       csv->field[DATE]);
    return read_level(csv, tanks, fill, err);
}

static enum th_code read_rows(struct th_csv *csv, const struct filled *tanks,
                              struct th_tank_fill *fills, size_t *n, struct th_error *err)
{
    enum th_code code = th_csv_read_names(csv, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "date", DATE, true, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "gallons", GALLONS, true, err);
    if (code == TH_OK)
        code = th_csv_keep_named(csv, "level_before_pct", LEVEL, false, err);
    while (code == TH_OK) {
        bool more;
        code = th_csv_next(csv, &more, err);
        if (code != TH_OK || !more)
            break;
        if (*n == TH_FILLS_MAX)
            return th_fail(err, TH_ERR_INPUT, "more than %d fills", TH_FILLS_MAX);
        code = read_fill(csv, tanks, *n > 0 ? &fills[*n - 1] : NULL, &fills[*n], err);
        *n += code == TH_OK;
    }
    return code;
}

enum th_code th_fills_read(struct th_files *files, const char *path, double capacity_gal,
                           double kept_full_share, struct th_tank_fill *fills, size_t *n,
                           struct th_error *err)
{
    const struct filled tanks = {capacity_gal, kept_full_share};
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
            code = read_rows(csv, &tanks, fills, n, err);
            if (code == TH_ERR_INPUT)
                th_error_place(err, path, csv->line, 0);
            th_csv_close(csv);
        }
        th_lines_close(&lines);
    }
    free(csv);
    return code;
}
