/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text_table.h"

#include "display.h"
#include "text_wrap.h"
#include <stdlib.h>
#include <string.h>

#define INDENT 2
#define GAP 2
/* Of the first column, which is repeated, and of others: two of them fill a line. */
#define WIDEST_FIRST 40
#define WIDEST_OTHER (TH_TEXT_WIDTH - INDENT - WIDEST_FIRST - GAP)
#define NARROWEST 14
#define MOST_HEADER_LINES 3
#define MOST_ROWS_ON_SIDE 8

/* Letters of a number, or of a label with its unit. */
#define CELL_MAX 192

/*
 * The table as texts: row 0 the labels, row 1 the units, then the body, the totals row last. Texts
 * of the report are borrowed; numbers as shown are kept in `shown`.
 */
struct sheet {
    int rows, columns;
    const char **cells;
    char (*shown)[CELL_MAX];
    bool *right; /* per column: numbers stand on the right */
    int *width;  /* per column */
    bool has_units, has_total;
};

enum { LABELS, UNITS, BODY };

static void sheet_finish(struct sheet *sheet)
{
    free(sheet->cells);
    free(sheet->shown);
    free(sheet->right);
    free(sheet->width);
}

static bool sheet_init(struct sheet *sheet, int rows, int columns)
{
    const size_t n = (size_t)rows * (size_t)columns;
    *sheet = (struct sheet){.rows = rows, .columns = columns};
    if (n == 0)
        return false;
    sheet->cells = calloc(n, sizeof *sheet->cells);
    sheet->shown = calloc(n, sizeof *sheet->shown);
    sheet->right = calloc((size_t)columns, sizeof *sheet->right);
    sheet->width = calloc((size_t)columns, sizeof *sheet->width);
    return sheet->cells && sheet->shown && sheet->right && sheet->width;
}

static const char **cell(const struct sheet *sheet, int row, int column)
{
    return &sheet->cells[row * sheet->columns + column];
}

static char *storage(const struct sheet *sheet, int row, int column)
{
    return sheet->shown[row * sheet->columns + column];
}

static void set_value(struct sheet *sheet, int row, int column, struct th_value value,
                      enum th_format format)
{
    *cell(sheet, row, column) = th_show(storage(sheet, row, column), value, format);
}

static bool is_number(struct th_value value, enum th_format format)
{
    return value.kind == TH_VALUE_NUMBER && !th_format_is_date(format);
}

/* The values of body row `index` of the grid, the totals row after the last. */
static const struct th_value *row_values(const struct grid *grid, int index)
{
    const struct row *row = grid->rows;
    while (row && index-- > 0)
        row = row->next;
    return row ? row->values : grid->total;
}

static int body_rows(const struct grid *grid)
{
    return (int)grid->n_rows + (grid->total != NULL);
}

static int shown_columns(const struct grid *grid)
{
    int n = 0;
    for (int c = 0; c < grid->n; c++)
        n += report_shows_column(grid, c);
    return n;
}

/* The next column of the grid that is shown after column `c`. */
static int next_shown(const struct grid *grid, int c)
{
    do
        c++;
    while (c < grid->n && !report_shows_column(grid, c));
    return c;
}

static bool fill_upright(struct sheet *sheet, const struct grid *grid)
{
    if (!sheet_init(sheet, BODY + body_rows(grid), shown_columns(grid)))
        return false;
    sheet->has_total = grid->total != NULL;
    for (int c = 0, from = 0; c < sheet->columns; c++, from = next_shown(grid, from)) {
        const struct th_column *column = &grid->columns[from];
        const struct row *row = grid->rows;
        sheet->has_units |= *column->unit != '\0';
        *cell(sheet, LABELS, c) = column->label;
        *cell(sheet, UNITS, c) = column->unit;
        for (int r = BODY; r < sheet->rows; r++) {
            const struct th_value value = row ? row->values[from] : grid->total[from];
            sheet->right[c] |= is_number(value, column->format);
            set_value(sheet, r, c, value, column->format);
            row = row ? row->next : NULL;
        }
    }
    return true;
}

static void set_side_label(struct sheet *sheet, int row, const struct th_column *column)
{
    char *label = storage(sheet, row, 0);
    snprintf(label, CELL_MAX, *column->unit ? "%s, %s" : "%s", column->label, column->unit);
    *cell(sheet, row, 0) = label;
}

static bool fill_on_side(struct sheet *sheet, const struct grid *grid)
{
    if (!sheet_init(sheet, BODY + shown_columns(grid) - 1, 1 + body_rows(grid)))
        return false;
    *cell(sheet, LABELS, 0) = grid->columns[0].label;
    *cell(sheet, UNITS, 0) = "";
    for (int c = 1; c < sheet->columns; c++) {
        sheet->right[c] = true;
        set_value(sheet, LABELS, c, row_values(grid, c - 1)[0], grid->columns[0].format);
        *cell(sheet, UNITS, c) = "";
    }
    for (int r = BODY, from = next_shown(grid, 0); r < sheet->rows;
         r++, from = next_shown(grid, from)) {
        set_side_label(sheet, r, &grid->columns[from]);
        for (int c = 1; c < sheet->columns; c++)
            set_value(sheet, r, c, row_values(grid, c - 1)[from], grid->columns[from].format);
    }
    return true;
}

static int larger(int a, int b)
{
    return a > b ? a : b;
}

static void set_widths(struct sheet *sheet)
{
    for (int c = 0; c < sheet->columns; c++) {
        const char *label = *cell(sheet, LABELS, c);
        int width = larger(1, th_longest_word(label));
        for (int r = UNITS; r < sheet->rows; r++)
            width = larger(width, th_display_width(*cell(sheet, r, c)));
        while (th_wrapped_lines(label, width) > MOST_HEADER_LINES)
            width++;
        const int widest = c == 0 ? WIDEST_FIRST : WIDEST_OTHER;
        sheet->width[c] = width < widest ? width : widest;
    }
}

static int sheet_width(const struct sheet *sheet)
{
    int width = INDENT - GAP;
    for (int c = 0; c < sheet->columns; c++)
        width += GAP + sheet->width[c];
    return width;
}

/* The least a column of words may be wrapped to. */
static int least_width(const struct sheet *sheet, int column)
{
    int least = NARROWEST;
    for (int r = LABELS; r < sheet->rows; r++)
        least = larger(least, th_longest_word(*cell(sheet, r, column)));
    return least;
}

/* Wraps words, the widest column first, where the table then fits. */
static void narrow(struct sheet *sheet)
{
    int over = sheet_width(sheet) - TH_TEXT_WIDTH, spare = 0;
    for (int c = 0; c < sheet->columns; c++)
        spare += sheet->right[c] ? 0 : larger(0, sheet->width[c] - least_width(sheet, c));
    for (; over > 0 && spare >= over; over--, spare--) {
        int widest = -1;
        for (int c = 0; c < sheet->columns; c++)
            if (!sheet->right[c] && sheet->width[c] > least_width(sheet, c) &&
                (widest < 0 || sheet->width[c] > sheet->width[widest]))
                widest = c;
        sheet->width[widest]--;
    }
}

/* Columns [from, to) of a sheet, always after column 0. */
struct span {
    int from, to;
};

/* Prints a piece of a cell; spaces wait in `pending` until something follows them on the line. */
static void print_cell(FILE *out, const char *text, size_t bytes, int width, bool right,
                       int *pending)
{
    int used = 0;
    for (size_t i = 0; i < bytes; i++)
        used += ((unsigned char)text[i] & 0xC0) != 0x80;
    if (bytes == 0) {
        *pending += width;
        return;
    }
    th_repeat(out, " ", *pending + (right ? width - used : 0));
    fwrite(text, 1, bytes, out);
    *pending = right ? 0 : width - used;
}

/* The part of a cell on line `line` of its row; labels sit on the bottom line, others on top. */
static const char *cell_line(const char *text, int width, int line, size_t *bytes)
{
    *bytes = 0;
    if (line < 0)
        return "";
    for (*bytes = th_line_bytes(text, width); line > 0; line--) {
        text = th_after_line(text, *bytes);
        *bytes = th_line_bytes(text, width);
    }
    return text;
}

static int row_lines(const struct sheet *sheet, int row, struct span span)
{
    int lines = th_wrapped_lines(*cell(sheet, row, 0), sheet->width[0]);
    for (int c = span.from; c < span.to; c++)
        lines = larger(lines, th_wrapped_lines(*cell(sheet, row, c), sheet->width[c]));
    return lines;
}

static void print_row(FILE *out, const struct sheet *sheet, int row, struct span span)
{
    const int lines = row_lines(sheet, row, span);
    for (int line = 0; line < lines; line++) {
        int pending = INDENT;
        for (int c = 0; c < span.to; c = c == 0 ? span.from : c + 1) {
            const char *text = *cell(sheet, row, c);
            const int width = sheet->width[c];
            const int skip = row == LABELS ? lines - th_wrapped_lines(text, width) : 0;
            size_t bytes;
            text = cell_line(text, width, line - skip, &bytes);
            print_cell(out, text, bytes, width, sheet->right[c], &pending);
            pending += GAP;
        }
        fputc('\n', out);
    }
}

static void print_rule(FILE *out, const struct sheet *sheet, struct span span)
{
    int width = sheet->width[0];
    for (int c = span.from; c < span.to; c++)
        width += GAP + sheet->width[c];
    th_repeat(out, " ", INDENT);
    th_repeat(out, "─", width);
    fputc('\n', out);
}

static void print_span(FILE *out, const struct sheet *sheet, struct span span)
{
    print_row(out, sheet, LABELS, span);
    if (sheet->has_units)
        print_row(out, sheet, UNITS, span);
    print_rule(out, sheet, span);
    for (int r = BODY; r < sheet->rows; r++) {
        if (sheet->has_total && r == sheet->rows - 1)
            print_rule(out, sheet, span);
        print_row(out, sheet, r, span);
    }
}

static void print_sheet(FILE *out, const struct sheet *sheet)
{
    struct span span = {.to = 1};
    do {
        span.from = span.to;
        int width = INDENT + sheet->width[0];
        for (; span.to < sheet->columns; span.to++) {
            width += GAP + sheet->width[span.to];
            if (width > TH_TEXT_WIDTH && span.to > span.from)
                break;
        }
        if (span.from > 1)
            fputc('\n', out);
        print_span(out, sheet, span);
    } while (span.to < sheet->columns);
}

enum th_code th_text_table(FILE *out, const struct grid *grid, struct th_error *err)
{
    struct sheet upright = {0}, on_side = {0};
    bool ok = fill_upright(&upright, grid);
    const struct sheet *chosen = &upright;
    if (ok)
        set_widths(&upright);
    if (ok)
        narrow(&upright);
    if (ok && sheet_width(&upright) > TH_TEXT_WIDTH && body_rows(grid) <= MOST_ROWS_ON_SIDE) {
        ok = fill_on_side(&on_side, grid);
        if (ok)
            set_widths(&on_side);
        if (ok && sheet_width(&on_side) <= TH_TEXT_WIDTH)
            chosen = &on_side;
    }
    if (ok)
        print_sheet(out, chosen);
    sheet_finish(&upright);
    sheet_finish(&on_side);
    return ok ? TH_OK : th_fail(err, TH_ERR_MEMORY, "out of memory while writing a table");
}
