/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_rows.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* A quoted text may run over lines, but not over this many. */
#define RECORD_LINES_MAX 200

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static size_t copy_trimmed(char *out, size_t size, const char *text, size_t length)
{
    while (length > 0 && is_blank(text[0])) {
        text++;
        length--;
    }
    while (length > 0 && is_blank(text[length - 1]))
        length--;
    if (length >= size)
        length = size - 1;
    memcpy(out, text, length);
    out[length] = '\0';
    return length;
}

static void keep_name(struct th_csv *csv, const char *text, size_t length)
{
    char *name = csv->names[csv->n_names++];
    copy_trimmed(name, TH_CSV_NAME_MAX, text, length);
    for (; *name; name++)
        *name = (char)tolower((unsigned char)*name);
}

static void on_field(void *text, size_t length, void *data)
{
    struct th_csv *csv = data;
    const size_t column = csv->columns++;
    if (column >= TH_CSV_COLUMNS_MAX)
        return;
    if (csv->naming)
        keep_name(csv, text, length);
    else if (csv->slot_of[column] >= 0)
        copy_trimmed(csv->field[csv->slot_of[column]], TH_CSV_FIELD_MAX, text, length);
}

static void on_record(int terminator, void *data)
{
    (void)terminator;
    ((struct th_csv *)data)->ended = true;
}

enum th_code th_csv_open(struct th_csv *csv, struct th_lines *lines, char delimiter,
                         struct th_error *err)
{
    memset(csv, 0, sizeof *csv);
    memset(csv->slot_of, -1, sizeof csv->slot_of);
    csv->lines = lines;
    if (csv_init(&csv->parser, 0) != 0)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    csv->blanks = delimiter == ' ';
    csv_set_delim(&csv->parser, (unsigned char)delimiter);
    return TH_OK;
}

void th_csv_close(struct th_csv *csv)
{
    csv_free(&csv->parser);
}

/* Fields between runs of blanks; a line of blanks is no record. */
static void split(struct th_csv *csv, char *text)
{
    while (is_blank(*text))
        text++;
    while (*text) {
        size_t length = 0;
        while (text[length] && !is_blank(text[length]))
            length++;
        on_field(text, length, csv);
        for (text += length; is_blank(*text); text++)
            continue;
        csv->ended = true;
    }
}

static enum th_code feed(struct th_csv *csv, char *text, size_t length, struct th_error *err)
{
    if (csv->blanks) {
        split(csv, text);
        return TH_OK;
    }
    text[length] = '\n'; /* where its end stands */
    const size_t taken = csv_parse(&csv->parser, text, length + 1, on_field, on_record, csv);
    text[length] = '\0';
    if (taken == length + 1)
        return TH_OK;
    return th_fail(err, TH_ERR_MEMORY, "out of memory");
}

static enum th_code unclosed(const struct th_csv *csv, struct th_error *err)
{
    th_fail(err, TH_ERR_READ, "a quote opened in this record is not closed");
    th_error_place(err, csv->lines->path, csv->line, 0);
    return TH_ERR_READ;
}

static void begin_record(struct th_csv *csv)
{
    csv->ended = false;
    csv->columns = 0;
    csv->line = 0;
    for (int slot = 0; slot < TH_CSV_SLOTS; slot++)
        csv->field[slot][0] = '\0';
}

enum th_code th_csv_next(struct th_csv *csv, bool *more, struct th_error *err)
{
    begin_record(csv);
    while (!csv->ended) {
        char *text;
        size_t length;
        enum th_code code = th_lines_next(csv->lines, &text, &length, err);
        if (code)
            return code;
        if (!text) {
            *more = false;
            return csv->line ? unclosed(csv, err) : TH_OK;
        }
        if (!csv->line && csv->skip_comments && text[0] == '#')
            continue;
        if (csv->line && csv->lines->line - csv->line > RECORD_LINES_MAX)
            return unclosed(csv, err);
        if (!csv->line && length > 0)
            csv->line = csv->lines->line;
        code = feed(csv, text, length, err);
        if (code)
            return code;
        if (csv->line == csv->lines->line && !csv->ended && strspn(text, " \t") == length)
            csv->line = 0; /* a blank line between records: libcsv passes it over */
    }
    *more = true;
    return TH_OK;
}

enum th_code th_csv_read_names(struct th_csv *csv, struct th_error *err)
{
    bool more;
    csv->naming = true;
    csv->n_names = 0;
    const enum th_code code = th_csv_next(csv, &more, err);
    csv->naming = false;
    if (code || more)
        return code;
    th_fail(err, TH_ERR_READ, "the file ends before its line of column names");
    th_error_place(err, csv->lines->path, csv->lines->line, 0);
    return TH_ERR_READ;
}

int th_csv_find(const struct th_csv *csv, const char *name)
{
    for (size_t i = 0; i < csv->n_names; i++)
        if (strcmp(csv->names[i], name) == 0)
            return (int)i;
    return -1;
}

void th_csv_keep(struct th_csv *csv, int column, int slot)
{
    if (column >= 0 && column < TH_CSV_COLUMNS_MAX)
        csv->slot_of[column] = (signed char)slot;
}

enum th_code th_csv_keep_named(struct th_csv *csv, const char *name, int slot, bool required,
                               struct th_error *err)
{
    const int column = th_csv_find(csv, name);
    if (column >= 0 || !required) {
        th_csv_keep(csv, column, slot);
        return TH_OK;
    }
    char found[160] = "";
    for (size_t i = 0; i < csv->n_names && strlen(found) < sizeof found - TH_CSV_NAME_MAX - 2; i++)
        snprintf(found + strlen(found), sizeof found - strlen(found), "%s%s", i ? ", " : "",
                 csv->names[i]);
    th_fail(err, TH_ERR_READ, "expected a column \"%s\"; found: %s", name, found);
    th_error_place(err, csv->lines->path, csv->line, 0);
    return TH_ERR_READ;
}
