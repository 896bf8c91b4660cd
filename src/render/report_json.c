/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "renderers.h"

#include "display.h"
#include "turnheat/version.h"
#include <jansson.h>
#include <string.h>

struct writer {
    json_t *root;
    json_t *part;    /* the object of the current part, or root */
    json_t *section; /* the object facts go to */
    struct th_error *err;
    enum th_code code;
};

static void fail(struct writer *w, enum th_code code, const char *what, const char *key)
{
    if (!w->code)
        w->code = th_fail(w->err, code, "JSON report: %s \"%s\"", what, key ? key : "");
}

/* Puts `value` (taken over) under `key`, once only. */
static void put(struct writer *w, json_t *object, const char *key, json_t *value)
{
    if (w->code || !key || json_object_get(object, key)) {
        json_decref(value);
        fail(w, TH_ERR_INTERNAL, "no key, or one used twice:", key);
    } else if (!value || json_object_set_new(object, key, value)) {
        fail(w, TH_ERR_MEMORY, "out of memory at", key);
    }
}

/* Whole numbers of up to nine digits are written without a point: a year is 2018, not 2018.0. */
static json_t *number_json(double number)
{
    if (fabs(number) < 1e9 && number == floor(number))
        return json_integer((json_int_t)number);
    return json_real(number);
}

static json_t *value_json(struct th_value value, enum th_format format)
{
    char buffer[TH_SHOWN_MAX];
    switch (value.kind) {
    case TH_VALUE_NUMBER:
        if (th_format_is_date(format))
            return json_string(th_show_exact(buffer, value, format));
        return number_json(value.number);
    case TH_VALUE_TEXT:
        return json_string(value.text);
    case TH_VALUE_BOOL:
        return json_boolean(value.flag);
    default:
        return json_null();
    }
}

static json_t *row_json(struct writer *w, const struct grid *grid, const struct th_value *values)
{
    json_t *row = json_object();
    for (int i = 0; row && i < grid->n; i++)
        put(w, row, grid->columns[i].key, value_json(values[i], grid->columns[i].format));
    return row;
}

static void append(struct writer *w, json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value))
        fail(w, TH_ERR_MEMORY, "out of memory in", "a list");
}

static void put_table(struct writer *w, const struct block *block)
{
    json_t *rows = json_array();
    put(w, w->section, block->key, rows);
    for (const struct row *row = block->grid.rows; row && !w->code; row = row->next)
        append(w, rows, row_json(w, &block->grid, row->values));
    if (!block->grid.total || w->code)
        return;
    char key[128];
    snprintf(key, sizeof key, "%s_total", block->key);
    put(w, w->section, key, row_json(w, &block->grid, block->grid.total));
}

static void put_line(struct writer *w, const struct block *block)
{
    json_t *lines = json_object_get(w->section, "lines");
    if (!lines) {
        lines = json_array();
        put(w, w->section, "lines", lines);
    }
    if (!w->code)
        append(w, lines, json_string(block->text));
}

/* A part is one more object in the array `key`, whose other elements are the parts before it. */
static void start_part(struct writer *w, const struct block *block)
{
    json_t *list = json_object_get(w->root, block->key);
    if (!list) {
        list = json_array();
        put(w, w->root, block->key, list);
    }
    if (w->code)
        return;
    json_t *part = json_object();
    append(w, list, part);
    if (w->code)
        return;
    put(w, part, "name", json_string(block->text));
    w->part = w->section = part;
}

static void start_section(struct writer *w, const struct block *block)
{
    json_t *section = json_object();
    put(w, w->part, block->key, section);
    w->section = section;
}

static void put_block(struct writer *w, const struct block *block)
{
    switch (block->kind) {
    case BLOCK_PART:
        start_part(w, block);
        break;
    case BLOCK_PART_END:
        w->part = w->section = w->root;
        break;
    case BLOCK_SECTION:
        start_section(w, block);
        break;
    case BLOCK_LINE:
        put_line(w, block);
        break;
    case BLOCK_PARAGRAPH:
        if (block->key)
            put(w, w->section, block->key, json_string(block->text));
        break;
    case BLOCK_FACT:
        if (block->key)
            put(w, w->section, block->key, value_json(block->value, block->column.format));
        break;
    case BLOCK_TABLE:
        if (block->key)
            put_table(w, block);
        break;
    default:
        break;
    }
}

static void put_notes(struct writer *w, const char *key, const struct notes *notes)
{
    json_t *list = json_array();
    put(w, w->root, key, list);
    for (const struct note *note = notes->first; note && !w->code; note = note->next)
        append(w, list, json_string(note->text));
}

static void put_balances(struct writer *w, const struct th_report *report)
{
    if (!report->balances)
        return;
    json_t *list = json_array();
    put(w, w->root, "balances", list);
    for (const struct balance *b = report->balances; b && !w->code; b = b->next) {
        json_t *row = json_object();
        append(w, list, row);
        if (w->code)
            return;
        put(w, row, "balance", json_string(b->key));
        put(w, row, "unit", json_string(b->unit));
        put(w, row, "in", value_json(th_number(b->in), TH_PLAIN));
        put(w, row, "out", value_json(th_number(b->out), TH_PLAIN));
        put(w, row, "open_share", value_json(th_number(report_balance_error(b)), TH_PLAIN));
    }
}

static void put_report(struct writer *w, const struct th_report *report)
{
    if (report->file)
        put(w, w->root, "file", json_string(report->file));
    put(w, w->root, "schema", json_integer(TH_REPORT_SCHEMA));
    put(w, w->root, "turnheat", json_string(th_version()));
    put(w, w->root, "command", json_string(report->command));
    put(w, w->root, "title", report->title ? json_string(report->title) : json_null());
    put_notes(w, "warnings", &report->warnings);
    for (const struct block *b = report->first; b && !w->code; b = b->next)
        put_block(w, b);
    put_balances(w, report);
    put_notes(w, "cautions", &report->cautions);
}

static void put_errors(struct writer *w, const struct th_report *report)
{
    put(w, w->root, "file", json_string(report->file));
    put(w, w->root, "schema", json_integer(TH_REPORT_SCHEMA));
    put(w, w->root, "turnheat", json_string(th_version()));
    put(w, w->root, "command", json_string(report->command));
    put(w, w->root, "status", json_integer(report->status));
    put_notes(w, "errors", &report->errors);
}

static enum th_code write_json(const struct th_report *report, size_t layout, FILE *out,
                               struct th_error *err)
{
    struct writer w = {.root = json_object(), .err = err};
    if (!w.root)
        return th_fail(err, TH_ERR_MEMORY, "out of memory while writing JSON");
    w.part = w.section = w.root;
    (report->errors.first ? put_errors : put_report)(&w, report);
    /* A write error is found by whoever flushes `out`. */
    if (!w.code && json_dumpf(w.root, out, layout | JSON_REAL_PRECISION(9)) && !ferror(out))
        fail(&w, TH_ERR_MEMORY, "out of memory while writing", report->command);
    if (!w.code)
        fputc('\n', out);
    json_decref(w.root);
    return w.code;
}

enum th_code report_write_json(const struct th_report *report, FILE *out, struct th_error *err)
{
    return write_json(report, JSON_INDENT(2), out, err);
}

enum th_code report_write_json_line(const struct th_report *report, FILE *out, struct th_error *err)
{
    return write_json(report, JSON_COMPACT, out, err);
}
