/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_out.h"

#include "display.h"
#include "nine_digits.h"
#include <csv.h>
#include <string.h>

/* Text that a spreadsheet would take for a formula gets an apostrophe in front. */
static void quoted_text(FILE *out, const char *text)
{
    if (*text == '\0' || !strchr("=+-@", *text)) {
        csv_fwrite(out, text, strlen(text));
        return;
    }
    fputs("\"'", out);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', out);
        fputc(*text, out);
    }
    fputc('"', out);
}

static void field(FILE *out, const char *text, bool quoted)
{
    if (text && quoted)
        quoted_text(out, text);
    else if (text)
        fputs(text, out);
}

void th_csv_cells(FILE *out, const char *const *texts, int n)
{
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, texts[i], true);
    }
}

void th_csv_head(FILE *out, const struct th_column *columns, int n)
{
    for (int i = 0; i < n; i++) {
        if (i)
            fputc(',', out);
        field(out, columns[i].key, true);
    }
    fputc('\n', out);
}

/* A row's commas and numbers, until they fill up or a text comes, which libcsv writes. */
struct line {
    FILE *out;
    size_t n;
    char text[4096];
};

static void flush_line(struct line *line)
{
    fwrite(line->text, 1, line->n, line->out);
    line->n = 0;
}

static void add_cell(struct line *line, struct th_value value, enum th_format format)
{
    char buffer[TH_SHOWN_MAX];
    if (value.kind == TH_VALUE_NUMBER && !th_format_is_date(format)) {
        line->n += th_nine_digits(line->text + line->n, value.number);
        return;
    }
    flush_line(line);
    field(line->out, th_show_exact(buffer, value, format), value.kind == TH_VALUE_TEXT);
}

void th_csv_row(FILE *out, const struct th_column *columns, const struct th_value *values, int n)
{
    struct line line;
    line.out = out;
    line.n = 0;
    for (int i = 0; i < n; i++) {
        if (line.n + TH_NINE_DIGITS_MAX + 2 > sizeof line.text)
            flush_line(&line);
        if (i)
            line.text[line.n++] = ',';
        add_cell(&line, values[i], columns[i].format);
    }
    line.text[line.n++] = '\n';
    flush_line(&line);
}
