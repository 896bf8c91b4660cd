/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_tables.h"

#include "utf8.h"

#include <csv.h>
#include <ctype.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FIELDS_MAX 2
#define FIELD_MAX 64
#define LINE_MAX_BYTES 500
#define LINES_MAX 2000

/* The row libcsv is in, and what its header said. */
struct reading {
    const char *path;
    long line;
    int n_fields;
    char fields[FIELDS_MAX][FIELD_MAX];
    bool row_ended;
    bool has_header;
    int x; /* index of the x column */
    char units[FIELDS_MAX][FIELD_MAX];
    enum th_dimension dimensions[FIELDS_MAX];
};

static enum th_code refuse(const struct reading *r, enum th_code code, struct th_error *err,
                           const char *text)
{
    th_fail(err, code, "%s", text);
    th_error_place(err, r->path, r->line, 0);
    return code;
}

/* libcsv's field: trimmed, lower case. */
static void take_field(void *data, size_t length, void *user)
{
    struct reading *const r = user;
    if (r->n_fields < FIELDS_MAX) {
        char *const to = r->fields[r->n_fields];
        const char *const from = data;
        size_t n = 0;
        for (size_t i = 0; i < length && n < FIELD_MAX - 1; i++)
            to[n++] = (char)tolower((unsigned char)from[i]);
        to[n] = '\0';
    }
    r->n_fields++;
}

static void take_row_end(int character, void *user)
{
    (void)character;
    ((struct reading *)user)->row_ended = true;
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
    if (r->n_fields != FIELDS_MAX)
        return header_error(r, x_columns, y_column, err);
    const int y = matches(r->fields[0], y_column, r->units[0]) ? 0 : 1;
    if (!matches(r->fields[y], y_column, r->units[y]))
        return header_error(r, x_columns, y_column, err);
    r->x = 1 - y;
    r->dimensions[y] = y_column->dimension;
    for (const struct th_table_column *x = x_columns; x->name; x++)
        if (matches(r->fields[r->x], x, r->units[r->x])) {
            r->dimensions[r->x] = x->dimension;
            if (meaning)
                *meaning = x->meaning;
            r->has_header = true;
            return TH_OK;
        }
    return header_error(r, x_columns, y_column, err);
}

static enum th_code read_field(const struct reading *r, int index, double *value,
                               struct th_error *err)
{
    char text[2 * FIELD_MAX];
    snprintf(text, sizeof text, "%s %s", r->fields[index], r->units[index]);
    const enum th_code code = th_quantity_read(r->units[index][0] ? text : r->fields[index],
                                               r->dimensions[index], value, err);
    if (code != TH_OK)
        th_error_place(err, r->path, r->line, 0);
    return code;
}

static enum th_code read_row(const struct reading *r, struct th_table *table, struct th_error *err)
{
    char text[200];
    if (r->n_fields != FIELDS_MAX)
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
                 r->fields[r->x]);
        return refuse(r, TH_ERR_RANGE, err, text);
    }
    table->x[table->n] = x;
    table->y[table->n++] = y;
    return TH_OK;
}

static enum th_code feed(struct reading *r, struct csv_parser *parser, const char *line,
                         size_t length, struct th_error *err)
{
    r->n_fields = 0;
    r->row_ended = false;
    if (th_utf8_good_text(line, length) < length)
        return refuse(r, TH_ERR_INPUT, err, "the line is not plain text; expected UTF-8");
    const bool fed = csv_parse(parser, line, length, take_field, take_row_end, r) == length &&
                     csv_parse(parser, "\n", 1, take_field, take_row_end, r) == 1;
    if (!fed || !(r->row_ended || length == 0))
        return refuse(r, TH_ERR_INPUT, err,
                      "the line is not CSV; expected fields parted by commas");
    return TH_OK;
}

static size_t content_length(const char *line)
{
    size_t n = strlen(line);
    while (n > 0 && (line[n - 1] == '\n' || line[n - 1] == '\r'))
        n--;
    return n;
}

static enum th_code read_lines(FILE *file, struct reading *r, struct csv_parser *parser,
                               const struct th_table_column *x_columns,
                               const struct th_table_column *y_column, struct th_table *table,
                               int *meaning, struct th_error *err)
{
    char line[LINE_MAX_BYTES];
    while (fgets(line, sizeof line, file)) {
        r->line++;
        const size_t whole = strlen(line);
        if (r->line > LINES_MAX || (whole + 1 == sizeof line && line[whole - 1] != '\n'))
            return refuse(r, TH_ERR_INPUT, err, "the file is no small table of short lines");
        const char *start = line;
        if (r->line == 1 && strncmp(line, "\xEF\xBB\xBF", 3) == 0)
            start += 3;
        const size_t length = content_length(start);
        if (*start == '#' || length == 0)
            continue;
        enum th_code code = feed(r, parser, start, length, err);
        if (code != TH_OK)
            return code;
        code = r->has_header ? read_row(r, table, err)
                             : read_header(r, x_columns, y_column, meaning, err);
        if (code != TH_OK)
            return code;
    }
    if (ferror(file))
        return refuse(r, TH_ERR_READ, err, strerror(errno));
    if (table->n == 0)
        return refuse(r, TH_ERR_INPUT, err, "the table has no rows");
    return TH_OK;
}

enum th_code th_table_read(const struct th_files *files, const char *path,
                           const struct th_table_column *x_columns,
                           const struct th_table_column *y_column, struct th_table *table,
                           int *x_meaning, struct th_error *err)
{
    struct reading r = {.path = path};
    struct csv_parser parser;
    FILE *const file = th_files_open(files, path);
    if (!file && errno == ENOMEM)
        return th_fail(err, TH_ERR_MEMORY, "%s", th_code_text(TH_ERR_MEMORY));
    if (!file)
        return refuse(&r, TH_ERR_READ, err, strerror(errno));
    if (csv_init(&parser, CSV_STRICT) != 0) {
        fclose(file);
        return th_fail(err, TH_ERR_MEMORY, "%s", th_code_text(TH_ERR_MEMORY));
    }
    *table = (struct th_table){0};
    const enum th_code code =
        read_lines(file, &r, &parser, x_columns, y_column, table, x_meaning, err);
    csv_free(&parser);
    fclose(file);
    return code;
}
