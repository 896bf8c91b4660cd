/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_tables.h"

#include "csv_rows.h"
#include "utf8.h"

#include <stdio.h>
#include <string.h>

#define FIELDS 2
#define FIELD_MAX TH_CSV_FIELD_MAX

/* A table in work, and what its header said. */
struct reading {
    struct th_csv csv;
    int x; /* index of the x column */
    char units[FIELDS][FIELD_MAX];
    enum th_dimension dimensions[FIELDS];
};

static enum th_code refuse(const struct reading *r, enum th_code code, struct th_error *err,
                           const char *text)
{
    th_fail(err, code, "%s", text);
    th_error_place(err, r->csv.lines->path, r->csv.lines->line, 0);
    return code;
}

/* Splits "weight_lb" or "weight (lb)" when it is that column; a plain name has no unit. */
static bool matches(const char *field, const struct th_table_column *column, char unit[FIELD_MAX])
{
    const size_t n = strlen(column->name);
    if (strncmp(field, column->name, n) != 0)
        return false;
    const char *rest = field + n;
    unit[0] = '\0';
    if (column->dimension == TH_DIM_DAYS)
        return *rest == '\0';
    rest += strspn(rest, " _(");
    snprintf(unit, FIELD_MAX, "%.*s", (int)strcspn(rest, ")"), rest);
    return rest > field + n;
}

static enum th_code header_error(const struct reading *r, const struct th_table_column *x_columns,
                                 const struct th_table_column *y_column, struct th_error *err)
{
    char names[160] = "";
    for (const struct th_table_column *x = x_columns; x->name; x++) {
        const size_t n = strlen(names);
        snprintf(names + n, sizeof names - n, "%s%s%s", n ? " or " : "", x->name,
                 x->dimension == TH_DIM_DAYS ? "" : "_UNIT");
    }
    char text[400];
    snprintf(text, sizeof text, "the header does not fit; expected %s, %s_UNIT (%s)", names,
             y_column->name, th_quantity_expected(y_column->dimension));
    return refuse(r, TH_ERR_INPUT, err, text);
}

static enum th_code read_header(struct reading *r, const struct th_table_column *x_columns,
                                const struct th_table_column *y_column, int *meaning,
                                struct th_error *err)
{
    const enum th_code code = th_csv_read_names(&r->csv, err);
    if (code != TH_OK)
        return code;
    if (r->csv.n_names != FIELDS)
        return header_error(r, x_columns, y_column, err);
    th_csv_keep(&r->csv, 0, 0);
    th_csv_keep(&r->csv, 1, 1);
    const int y = matches(r->csv.names[0], y_column, r->units[0]) ? 0 : 1;
    if (!matches(r->csv.names[y], y_column, r->units[y]))
        return header_error(r, x_columns, y_column, err);
    r->x = 1 - y;
    r->dimensions[y] = y_column->dimension;
    for (const struct th_table_column *x = x_columns; x->name; x++)
        if (matches(r->csv.names[r->x], x, r->units[r->x])) {
            r->dimensions[r->x] = x->dimension;
            if (meaning)
                *meaning = x->meaning;
            return TH_OK;
        }
    return header_error(r, x_columns, y_column, err);
}

static enum th_code read_field(const struct reading *r, int index, double *value,
                               struct th_error *err)
{
    char text[2 * FIELD_MAX];
    const char *const field = r->csv.field[index];
    if (th_utf8_good_text(field, strlen(field)) < strlen(field))
        return refuse(r, TH_ERR_INPUT, err, "the line is not plain text; expected UTF-8");
    snprintf(text, sizeof text, "%s %s", field, r->units[index]);
    const enum th_code code =
        th_quantity_read(r->units[index][0] ? text : field, r->dimensions[index], value, err);
    if (code != TH_OK)
        th_error_place(err, r->csv.lines->path, r->csv.line, 0);
    return code;
}

static enum th_code read_row(const struct reading *r, struct th_table *table, struct th_error *err)
{
    char text[200];
    if (r->csv.columns != FIELDS)
        return refuse(r, TH_ERR_INPUT, err, "the row has not two fields; expected two");
    if (table->n >= TH_TABLE_MAX) {
        snprintf(text, sizeof text, "the table is too long; expected at most %d rows",
                 TH_TABLE_MAX);
        return refuse(r, TH_ERR_INPUT, err, text);
    }
    double x = 0.0;
    double y = 0.0;
    enum th_code code = read_field(r, r->x, &x, err);
    if (code == TH_OK)
        code = read_field(r, 1 - r->x, &y, err);
    if (code != TH_OK)
        return code;
    if (table->n > 0 && x <= table->x[table->n - 1]) {
        snprintf(text, sizeof text, "the row is out of order: %s; expected the column to rise",
                 r->csv.field[r->x]);
        return refuse(r, TH_ERR_RANGE, err, text);
    }
    table->x[table->n] = x;
    table->y[table->n++] = y;
    return TH_OK;
}

static enum th_code read_rows(struct reading *r, const struct th_table_column *x_columns,
                              const struct th_table_column *y_column, struct th_table *table,
                              int *meaning, struct th_error *err)
{
    enum th_code code = read_header(r, x_columns, y_column, meaning, err);
    while (code == TH_OK) {
        bool more;
        code = th_csv_next(&r->csv, &more, err);
        if (code != TH_OK)
            break;
        if (!more)
            return table->n > 0 ? TH_OK : refuse(r, TH_ERR_INPUT, err, "the table has no rows");
        code = read_row(r, table, err);
    }
    return code;
}

enum th_code th_table_read(struct th_files *files, const char *path,
                           const struct th_table_column *x_columns,
                           const struct th_table_column *y_column, struct th_table *table,
                           int *x_meaning, struct th_error *err)
{
    struct reading r = {0};
    struct th_lines lines;
    *table = (struct th_table){0};
    enum th_code code = th_lines_open(&lines, files, path, err);
    if (code != TH_OK)
        return code;
    code = th_csv_open(&r.csv, &lines, ',', err);
    if (code == TH_OK) {
        r.csv.skip_comments = true;
        code = read_rows(&r, x_columns, y_column, table, x_meaning, err);
        th_csv_close(&r.csv);
    }
    th_lines_close(&lines);
    return code;
}
