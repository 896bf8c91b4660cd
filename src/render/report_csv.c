/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "csv_tables.h"
#include "renderers.h"

#include "csv_out.h"
#include "turnheat/version.h"
#include <string.h>

/* The table of what lies in no part and no section. */
#define TOP "report"

/* The column of the names of parts: they are rooms. */
#define PART "room"

/* More columns than any table has, facts of a section included. */
#define TABLE_COLUMNS_MAX 128

/* A block in its place; a table's total comes after it, as a table of its own. */
struct place {
    const struct block *block, *part, *section;
    bool total;
};

static void step(struct place *at, const struct block *next)
{
    if (next && (next->kind == BLOCK_PART || next->kind == BLOCK_PART_END)) {
        at->part = next->kind == BLOCK_PART ? next : NULL;
        at->section = NULL;
    } else if (next && next->kind == BLOCK_SECTION) {
        at->section = next;
    }
    at->block = next;
}

static bool is_fact(const struct block *block)
{
    return (block->kind == BLOCK_FACT || block->kind == BLOCK_PARAGRAPH) && block->key;
}

static bool is_table(const struct block *block)
{
    return (block->kind == BLOCK_TABLE && block->key) || block->kind == BLOCK_LINE;
}

/* The first block at or after the place that is in a table. Facts at the top are in the first. */
static void find(struct place *at)
{
    while (at->block && !is_table(at->block) && !(is_fact(at->block) && (at->part || at->section)))
        step(at, at->block->next);
}

static struct place first_place(const struct th_report *report)
{
    struct place at = {0};
    step(&at, report->first);
    find(&at);
    return at;
}

static void next_place(struct place *at)
{
    if (at->block->kind == BLOCK_TABLE && at->block->grid.total && !at->total) {
        at->total = true;
        return;
    }
    at->total = false;
    step(at, at->block->next);
    find(at);
}

static const char *key_of(const struct block *block)
{
    return block && block->key ? block->key : "";
}

static const char *table_key(const struct place *at)
{
    return at->block->kind == BLOCK_TABLE  ? key_of(at->block)
           : at->block->kind == BLOCK_LINE ? "lines"
                                           : "";
}

/* Whether both lie in the same table: facts of a section do, and a table of every part. */
static bool same_table(const struct place *a, const struct place *b)
{
    return strcmp(key_of(a->part), key_of(b->part)) == 0 &&
           strcmp(key_of(a->section), key_of(b->section)) == 0 &&
           strcmp(table_key(a), table_key(b)) == 0 && a->total == b->total;
}

/* Whether no earlier block lies in the same table. */
static bool opens_table(const struct th_report *report, const struct place *at)
{
    for (struct place other = first_place(report);
         other.block != at->block || other.total != at->total; next_place(&other))
        if (same_table(&other, at))
            return false;
    return true;
}

/* The first block of table `index`; its block is NULL after the last. */
static struct place table_at(const struct th_report *report, int index)
{
    struct place at = first_place(report);
    for (; at.block; next_place(&at))
        if (opens_table(report, &at) && index-- == 0)
            break;
    return at;
}

/* Distinct columns of a table, by key. */
struct columns {
    int n;
    struct th_column columns[TABLE_COLUMNS_MAX];
    struct th_value values[TABLE_COLUMNS_MAX]; /* of the row being gathered */
};

static int column_of(struct columns *c, const struct th_column *column)
{
    for (int i = 0; i < c->n; i++)
        if (strcmp(c->columns[i].key, column->key) == 0)
            return i;
    if (c->n == TABLE_COLUMNS_MAX)
        return -1;
    c->columns[c->n] = *column;
    return c->n++;
}

static void set(struct columns *c, const struct th_column *column, struct th_value value)
{
    const int i = column_of(c, column);
    if (i >= 0)
        c->values[i] = value;
}

/* Puts a fact, paragraph or line into the row. */
static void set_fact(struct columns *c, const struct block *block)
{
    if (block->kind == BLOCK_FACT)
        set(c, &block->column, block->value);
    else if (block->kind == BLOCK_LINE)
        set(c, &(struct th_column){"text", "", "", TH_PLAIN}, th_text(block->text));
    else
        set(c, &(struct th_column){block->key, "", "", TH_PLAIN}, th_text(block->text));
}

static void gather_columns(const struct place *table, struct columns *c)
{
    c->n = 0;
    if (table->part)
        column_of(c, &(struct th_column){PART, "", "", TH_PLAIN});
    for (struct place at = *table; at.block; next_place(&at)) {
        if (!same_table(&at, table))
            continue;
        for (int i = 0; at.block->kind == BLOCK_TABLE && i < at.block->grid.n; i++)
            column_of(c, &at.block->grid.columns[i]);
        if (at.block->kind != BLOCK_TABLE)
            set_fact(c, at.block);
    }
}

static void begin_row(struct columns *c, const struct block *part)
{
    for (int i = 0; i < c->n; i++)
        c->values[i] = th_missing();
    if (part)
        c->values[0] = th_text(part->text);
}

static void end_row(FILE *out, const char *name, const struct columns *c)
{
    const char *const first[] = {name};
    if (name) {
        th_csv_cells(out, first, 1);
        fputc(',', out);
    }
    th_csv_row(out, c->columns, c->values, c->n);
}

static void write_head(FILE *out, const char *name, const struct columns *c)
{
    fputs(name ? "\"table\"," : "", out);
    th_csv_head(out, c->columns, c->n);
}

static void write_row(FILE *out, const char *name, struct columns *c, const struct place *at,
                      const struct th_value *values)
{
    begin_row(c, at->part);
    for (int i = 0; i < at->block->grid.n; i++)
        set(c, &at->block->grid.columns[i], values[i]);
    end_row(out, name, c);
}

static void write_grids(FILE *out, const char *name, struct columns *c, const struct place *table)
{
    for (struct place at = *table; at.block; next_place(&at)) {
        if (!same_table(&at, table))
            continue;
        if (at.block->kind == BLOCK_LINE) {
            begin_row(c, at.part);
            set_fact(c, at.block);
            end_row(out, name, c);
        }
        for (const struct row *row = at.block->grid.rows; row && !at.total; row = row->next)
            write_row(out, name, c, &at, row->values);
        if (at.total)
            write_row(out, name, c, &at, at.block->grid.total);
    }
}

/* A row for every part that has facts in the section. */
static void write_facts(FILE *out, const char *name, struct columns *c, const struct place *table)
{
    const struct block *part = table->part;
    begin_row(c, part);
    for (struct place at = *table; at.block; next_place(&at)) {
        if (!same_table(&at, table))
            continue;
        if (at.part != part) {
            end_row(out, name, c);
            begin_row(c, at.part);
            part = at.part;
        }
        set_fact(c, at.block);
    }
    end_row(out, name, c);
}

/* What the report is, with the facts at its top. */
static void write_about(FILE *out, const char *name, const struct th_report *report,
                        struct columns *c)
{
    const struct {
        const char *key;
        struct th_value value;
    } about[] = {{"schema", th_number(TH_REPORT_SCHEMA)},
                 {"turnheat", th_text(th_version())},
                 {"command", th_text(report->command)},
                 {"title", th_text(report->title)}};
    c->n = 0;
    for (size_t i = 0; i < sizeof about / sizeof *about; i++)
        set(c, &(struct th_column){about[i].key, "", "", TH_PLAIN}, about[i].value);
    struct place at = {0};
    for (step(&at, report->first); at.block; step(&at, at.block->next))
        if (is_fact(at.block) && !at.part && !at.section)
            set_fact(c, at.block);
    write_head(out, name, c);
    end_row(out, name, c);
}

static void write_notes(FILE *out, const char *name, const struct notes *notes, struct columns *c)
{
    c->n = 0;
    const int text = column_of(c, &(struct th_column){"text", "", "", TH_PLAIN});
    write_head(out, name, c);
    for (const struct note *note = notes->first; note; note = note->next) {
        c->values[text] = th_text(note->text);
        end_row(out, name, c);
    }
}

static void write_balances(FILE *out, const char *name, const struct th_report *report,
                           struct columns *c)
{
    static const char *const keys[] = {"balance", "unit", "in", "out", "open_share"};
    c->n = 0;
    for (int i = 0; i < 5; i++)
        column_of(c, &(struct th_column){keys[i], "", "", TH_PLAIN});
    write_head(out, name, c);
    for (const struct balance *b = report->balances; b; b = b->next) {
        const struct th_value values[] = {th_text(b->key), th_text(b->unit), th_number(b->in),
                                          th_number(b->out), th_number(report_balance_error(b))};
        memcpy(c->values, values, sizeof values);
        end_row(out, name, c);
    }
}

/* Besides the tables of its blocks a report has these, some of them only at times. */
enum kind { KIND_ABOUT, KIND_WARNINGS, KIND_BLOCKS, KIND_BALANCES, KIND_CAUTIONS, KINDS };

static int block_tables(const struct th_report *report)
{
    int n = 0;
    for (struct place at = first_place(report); at.block; next_place(&at))
        n += opens_table(report, &at);
    return n;
}

/* Which kind table `*index` is of; `*index` then counts within the kind. */
static enum kind kind_of(const struct th_report *report, int *index)
{
    const int n[KINDS] = {[KIND_ABOUT] = 1,
                          [KIND_WARNINGS] = report->warnings.first != NULL,
                          [KIND_BLOCKS] = block_tables(report),
                          [KIND_BALANCES] = report->balances != NULL,
                          [KIND_CAUTIONS] = report->cautions.first != NULL};
    int kind = 0;
    while (kind < KINDS && *index >= n[kind])
        *index -= n[kind++];
    return (enum kind)kind;
}

int th_report_tables(const struct th_report *report)
{
    if (!report)
        return 0;
    return 1 + (report->warnings.first != NULL) + block_tables(report) +
           (report->balances != NULL) + (report->cautions.first != NULL);
}

const char *th_report_table_name(const struct th_report *report, int index,
                                 char name[TH_TABLE_NAME_MAX])
{
    static const char *const names[] = {[KIND_ABOUT] = TOP,
                                        [KIND_WARNINGS] = "warnings",
                                        [KIND_BALANCES] = "balances",
                                        [KIND_CAUTIONS] = "cautions"};
    const enum kind kind = kind_of(report, &index);
    if (kind != KIND_BLOCKS) {
        snprintf(name, TH_TABLE_NAME_MAX, "%s", kind < KINDS ? names[kind] : "");
        return name;
    }
    const struct place at = table_at(report, index);
    const char *const parts[] = {key_of(at.part), key_of(at.section), table_key(&at)};
    int length = 0;
    for (int i = 0; i < 3; i++)
        if (*parts[i])
            length += snprintf(name + length, (size_t)(TH_TABLE_NAME_MAX - length), "%s%.40s",
                               length ? "." : "", parts[i]);
    snprintf(name + length, (size_t)(TH_TABLE_NAME_MAX - length), "%s", at.total ? "_total" : "");
    return name;
}

static void write_block_table(FILE *out, const char *name, const struct th_report *report,
                              int index, struct columns *c)
{
    const struct place table = table_at(report, index);
    gather_columns(&table, c);
    write_head(out, name, c);
    (is_fact(table.block) ? write_facts : write_grids)(out, name, c, &table);
}

enum th_code th_report_write_table(const struct th_report *report, int index, bool named, FILE *out,
                                   struct th_error *err)
{
    struct columns c;
    char text[TH_TABLE_NAME_MAX];
    const enum th_code code = report_check(report, err);
    if (code)
        return code;
    const char *name = named ? th_report_table_name(report, index, text) : NULL;
    switch (kind_of(report, &index)) {
    case KIND_ABOUT:
        write_about(out, name, report, &c);
        break;
    case KIND_WARNINGS:
        write_notes(out, name, &report->warnings, &c);
        break;
    case KIND_BLOCKS:
        write_block_table(out, name, report, index, &c);
        break;
    case KIND_BALANCES:
        write_balances(out, name, report, &c);
        break;
    case KIND_CAUTIONS:
        write_notes(out, name, &report->cautions, &c);
        break;
    case KINDS:
        return th_fail(err, TH_ERR_INTERNAL, "there is no such table");
    }
    return TH_OK;
}

enum th_code report_write_csv(const struct th_report *report, FILE *out, struct th_error *err)
{
    enum th_code code = TH_OK;
    const int n = th_report_tables(report);
    for (int i = 0; i < n && !code; i++) {
        fputs(i ? "\n" : "", out);
        code = th_report_write_table(report, i, true, out, err);
    }
    return code;
}
