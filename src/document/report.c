/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report.h"

#include "display.h"
#include "utf8.h"
#include "report_doc.h"
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* Of one table or figure. */
#define COLUMNS_MAX 32
/* Of a key whose unit may turn into therms, with its end. */
#define KEY_MAX 80
#define GALLONS "_gal" /* the end of a key of fuel */
#define ANSWER_KEY "answer"

/* All memory of a report lives in pieces that are freed together. */
struct piece {
    struct piece *next;
    max_align_t data[];
};

void *report_take(struct th_report *report, size_t size)
{
    if (!report || report->failure.code)
        return NULL;
    struct piece *piece = calloc(1, sizeof *piece + size);
    if (!piece) {
        th_fail(&report->failure, TH_ERR_MEMORY, "out of memory while building the report");
        return NULL;
    }
    piece->next = report->pieces;
    report->pieces = piece;
    return piece->data;
}

const char *report_keep(struct th_report *report, const char *text)
{
    char *copy = text ? report_take(report, 3 * strlen(text) + 1) : NULL;
    if (copy)
        th_make_harmless(copy, text);
    return copy;
}

static const char *keep_format(struct th_report *report, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    const int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    char *raw = length < 0 ? NULL : report_take(report, (size_t)length + 1);
    if (!raw)
        return NULL;
    vsnprintf(raw, (size_t)length + 1, format, args);
    return report_keep(report, raw);
}

void report_misuse(struct th_report *report, const char *what, const char *key)
{
    if (report && !report->failure.code)
        th_fail(&report->failure, TH_ERR_INTERNAL, "report of \"%s\": %s \"%s\"", report->command,
                what, key ? key : "");
}

struct th_report *th_report_new(const char *command)
{
    struct th_report *report = calloc(1, sizeof *report);
    if (report)
        report->command = report_keep(report, command);
    return report;
}

void th_report_free(struct th_report *report)
{
    if (!report)
        return;
    for (struct piece *piece = report->pieces, *next; piece; piece = next) {
        next = piece->next;
        free(piece);
    }
    free(report);
}

static void add_note(struct th_report *report, struct notes *notes, const char *text)
{
    for (const struct note *other = notes->first; other && text; other = other->next)
        if (strcmp(other->text, text) == 0)
            return;
    struct note *note = report_take(report, sizeof *note);
    if (!note || !text)
        return;
    note->text = text;
    if (notes->last)
        notes->last->next = note;
    else
        notes->first = note;
    notes->last = note;
}

/* The first cell that the row being filled does not have yet, or NULL. */
static const char *missing_cell(const struct th_report *report)
{
    if (!report->open_row || !report->open_grid || report->n_cells == report->open_grid->grid.n)
        return NULL;
    return report->open_grid->grid.columns[report->n_cells].key;
}

/* The first row tells the columns; every other has as many cells. */
static void end_row(struct th_report *report)
{
    if (!report || !report->open_row || !report->open_grid)
        return;
    if (missing_cell(report))
        report_misuse(report, "a row without its cell", missing_cell(report));
    report->open_grid->grid.has_columns = true;
    report->open_row = NULL;
}

struct block *report_add_block(struct th_report *report, enum block_kind kind, const char *key,
                               const char *text)
{
    end_row(report);
    struct block *block = report_take(report, sizeof *block);
    if (!block)
        return NULL;
    block->kind = kind;
    block->key = report_keep(report, key);
    block->text = report_keep(report, text);
    if (report->last)
        report->last->next = block;
    else
        report->first = block;
    report->last = block;
    report->open_grid = NULL;
    return report->failure.code ? NULL : block;
}

/* The section on top of all, in front of everything so far where there is none yet; or NULL. */
static struct block *top_answer(struct th_report *report)
{
    struct block *first = report->first;
    if (first && report_is_answer(NULL, first))
        return first;
    struct block *answer = report_take(report, sizeof *answer);
    if (!answer)
        return NULL;
    *answer = (struct block){
        .next = first, .kind = BLOCK_SECTION, .key = report_keep(report, ANSWER_KEY)};
    report->first = answer;
    if (!report->last)
        report->last = answer;
    return answer;
}

static struct th_value keep_value(struct th_report *report, struct th_value value)
{
    if (value.kind == TH_VALUE_TEXT || value.kind == TH_VALUE_NO_NUMBER)
        value.text = report_keep(report, value.text);
    if (value.kind != TH_VALUE_NUMBER && value.kind != TH_VALUE_BOOL && !value.text)
        return th_missing();
    return value.kind == TH_VALUE_NUMBER ? th_number(value.number) : value;
}

/* Whether the fuel that a key in gallons speaks of is sold by the therm. */
static bool is_in_therms(const char *key, const char *unit)
{
    const size_t length = key ? strlen(key) : 0;
    return unit && strstr(unit, "therm") && length >= strlen(GALLONS) &&
           strcmp(key + length - strlen(GALLONS), GALLONS) == 0;
}

static const char *key_in_therms(char therms[KEY_MAX], const char *key)
{
    snprintf(therms, KEY_MAX, "%.*s_therm", (int)(strlen(key) - strlen(GALLONS)), key);
    return therms;
}

static struct th_column keep_column(struct th_report *report, const char *key, const char *label,
                                    const char *unit, enum th_format format)
{
    if (format >= TH_FORMAT_COUNT)
        report_misuse(report, "unknown format of column", key);
    return (struct th_column){report_keep(report, key), report_keep(report, label),
                              report_keep(report, unit ? unit : ""), format};
}

void th_report_title(struct th_report *report, const char *format, ...)
{
    if (!report)
        return;
    va_list args;
    va_start(args, format);
    report->title = keep_format(report, format, args);
    va_end(args);
}

void th_report_one_sheet(struct th_report *report)
{
    if (report)
        report->one_sheet = true;
}

void th_report_about(struct th_report *report, const char *format, ...)
{
    if (!report)
        return;
    va_list args;
    va_start(args, format);
    add_note(report, &report->about, keep_format(report, format, args));
    va_end(args);
}

void th_report_warning(struct th_report *report, const char *format, ...)
{
    if (!report)
        return;
    va_list args;
    va_start(args, format);
    add_note(report, &report->warnings, keep_format(report, format, args));
    va_end(args);
}

void th_report_caution(struct th_report *report, const char *format, ...)
{
    if (!report)
        return;
    va_list args;
    va_start(args, format);
    add_note(report, &report->cautions, keep_format(report, format, args));
    va_end(args);
}

void th_report_file(struct th_report *report, const char *path)
{
    if (report)
        report->file = report_keep(report, path);
}

void th_report_error(struct th_report *report, int status, const char *text)
{
    if (!report)
        return;
    report->status = status;
    add_note(report, &report->errors, report_keep(report, text));
}

void th_report_balance(struct th_report *report, const char *key, const char *label,
                       const char *unit, double in, double out)
{
    struct balance *balance = report_take(report, sizeof *balance);
    if (!balance)
        return;
    *balance = (struct balance){.key = report_keep(report, key),
                                .label = report_keep(report, label),
                                .unit = report_keep(report, unit),
                                .in = in,
                                .out = out};
    if (report->last_balance)
        report->last_balance->next = balance;
    else
        report->balances = balance;
    report->last_balance = balance;
}

const struct block *report_shown(const struct block *block)
{
    while (block && !block->text && (block->kind == BLOCK_FACT || block->kind == BLOCK_TABLE))
        block = block->next;
    return block;
}

bool report_is_answer(const struct block *before, const struct block *block)
{
    return block->kind == BLOCK_LINE || (!before && block->kind == BLOCK_SECTION && block->key &&
                                         strcmp(block->key, ANSWER_KEY) == 0);
}

double report_balance_error(const struct balance *balance)
{
    const double larger = fmax(fabs(balance->in), fabs(balance->out));
    return larger > 0 ? fabs(balance->in - balance->out) / larger : 0;
}

void th_report_part(struct th_report *report, const char *key, const char *name)
{
    report_add_block(report, BLOCK_PART, key, name);
}

void th_report_part_end(struct th_report *report)
{
    report_add_block(report, BLOCK_PART_END, NULL, NULL);
}

void th_report_section(struct th_report *report, const char *key, const char *heading)
{
    report_add_block(report, BLOCK_SECTION, key, heading);
}

static void add_words(struct th_report *report, enum block_kind kind, const char *key,
                      const char *format, va_list args)
{
    struct block *block = report_add_block(report, kind, key, NULL);
    if (block)
        block->text = keep_format(report, format, args);
}

void th_report_paragraph(struct th_report *report, const char *key, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_words(report, BLOCK_PARAGRAPH, key, format, args);
    va_end(args);
}

void th_report_line(struct th_report *report, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_words(report, BLOCK_LINE, NULL, format, args);
    va_end(args);
}

void th_report_top_line(struct th_report *report, const char *format, ...)
{
    struct block *last = report ? top_answer(report) : NULL;
    struct block *line = report_take(report, sizeof *line);
    if (!last || !line)
        return;
    va_list args;
    va_start(args, format);
    *line = (struct block){.kind = BLOCK_LINE, .text = keep_format(report, format, args)};
    va_end(args);
    while (last->next && last->next->kind == BLOCK_LINE)
        last = last->next;
    line->next = last->next;
    last->next = line;
    if (report->last == last)
        report->last = line;
}

void th_report_item(struct th_report *report, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_words(report, BLOCK_ITEM, NULL, format, args);
    va_end(args);
}

void th_report_paste(struct th_report *report, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_words(report, BLOCK_PASTE, NULL, format, args);
    va_end(args);
}

void th_report_fact(struct th_report *report, const char *key, const char *label, const char *unit,
                    enum th_format format, struct th_value value)
{
    char therms[KEY_MAX];
    if (is_in_therms(key, unit)) {
        th_report_fact(report, key, NULL, "gal", format, th_missing());
        key = key_in_therms(therms, key);
    }
    struct block *block = report_add_block(report, BLOCK_FACT, key, label);
    if (!block)
        return;
    block->column = keep_column(report, key, label, unit, format);
    block->key = block->column.key;
    block->value = keep_value(report, value);
}

void th_report_table(struct th_report *report, const char *key, const char *caption)
{
    struct block *block = report_add_block(report, BLOCK_TABLE, key, caption);
    struct th_column *columns = block ? report_take(report, COLUMNS_MAX * sizeof *columns) : NULL;
    bool *known = columns ? report_take(report, COLUMNS_MAX * sizeof *known) : NULL;
    if (!known)
        return;
    block->grid = (struct grid){.columns = columns, .known = known};
    report->open_grid = block;
}

/* Starts the cells of a row or a total; NULL without memory. */
static struct th_value *begin_row(struct th_report *report)
{
    end_row(report);
    const struct grid *grid = &report->open_grid->grid;
    report->open_row = report_take(report, (size_t)(grid->has_columns ? grid->n : COLUMNS_MAX) *
                                               sizeof(struct th_value));
    report->n_cells = 0;
    return report->open_row;
}

void th_report_row(struct th_report *report)
{
    if (!report || !report->open_grid) {
        report_misuse(report, "a row outside a table", NULL);
        return;
    }
    struct grid *grid = &report->open_grid->grid;
    struct th_value *values = begin_row(report);
    struct row *row = values ? report_take(report, sizeof *row) : NULL;
    if (!row)
        return;
    row->values = values;
    if (grid->last)
        grid->last->next = row;
    else
        grid->rows = row;
    grid->last = row;
    grid->n_rows++;
}

void th_report_total(struct th_report *report)
{
    if (!report || !report->open_grid || report->open_grid->kind != BLOCK_TABLE) {
        report_misuse(report, "a totals row outside a table", NULL);
        return;
    }
    report->open_grid->grid.total = begin_row(report);
}

void th_report_cell(struct th_report *report, const char *key, const char *label, const char *unit,
                    enum th_format format, struct th_value value)
{
    char therms[KEY_MAX];
    if (is_in_therms(key, unit)) {
        th_report_cell(report, key, label, "gal", format, th_missing());
        key = key_in_therms(therms, key);
    }
    if (!report || !report->open_row) {
        report_misuse(report, "a cell outside a row", key);
        return;
    }
    struct grid *grid = &report->open_grid->grid;
    const int column = report->n_cells;
    if (column == (grid->has_columns ? grid->n : COLUMNS_MAX)) {
        report_misuse(report, "a row with a cell too many", key);
        return;
    }
    if (!grid->has_columns)
        grid->columns[grid->n++] = keep_column(report, key, label, unit, format);
    else if (strcmp(grid->columns[column].key, key) != 0)
        report_misuse(report, "a row with another cell in place of", grid->columns[column].key);
    if (report->failure.code)
        return;
    report->open_row[column] = keep_value(report, value);
    grid->known[column] |= report->open_row[column].kind != TH_VALUE_MISSING;
    report->n_cells++;
}

void th_report_signature(struct th_report *report, const char *label)
{
    report_add_block(report, BLOCK_SIGNATURE, NULL, label);
}

bool report_shows_column(const struct grid *grid, int column)
{
    return column == 0 || (grid->known[column] && grid->columns[column].label);
}

bool report_has_total(const struct th_report *report)
{
    for (const struct block *b = report->first; b; b = b->next)
        if (b->kind == BLOCK_TABLE && b->grid.total)
            return true;
    return false;
}

enum th_code report_check(const struct th_report *report, struct th_error *err)
{
    if (!report)
        return th_fail(err, TH_ERR_MEMORY, "out of memory while building the report");
    if (report->failure.code) {
        if (err)
            *err = report->failure;
        return report->failure.code;
    }
    if (missing_cell(report))
        return th_fail(err, TH_ERR_INTERNAL,
                       "report of \"%s\": the last row is without its cell \"%s\"", report->command,
                       missing_cell(report));
    return TH_OK;
}
