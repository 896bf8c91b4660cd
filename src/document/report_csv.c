/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One long table, block,row,key,value: every number of the report, one a line. */
#include "renderers.h"

#include "csv_out.h"
#include "turnheat/version.h"
#include <string.h>

static const struct th_column columns[] = {{"block", "", "", TH_PLAIN},
                                           {"row", "", "", TH_PLAIN},
                                           {"key", "", "", TH_PLAIN},
                                           {"value", "", "", TH_PLAIN}};

/* The block of what lies in no part and no section. */
#define TOP "report"

/* Where a value belongs: "rooms[1].season", empty parts left out. */
struct place {
    char part[96];
    const char *section;
};

static void line(FILE *out, const char *block, struct th_value row, const char *key,
                 struct th_value value, enum th_format format)
{
    struct th_column shown[4] = {columns[0], columns[1], columns[2], columns[3]};
    shown[3].format = format;
    const struct th_value values[] = {th_text(block), row, th_text(key), value};
    th_csv_row(out, shown, values, 4);
}

static void block_name(char name[256], const struct place *place, const char *table)
{
    const char *parts[] = {place->part, place->section ? place->section : "", table ? table : ""};
    size_t at = 0;
    snprintf(name, 256, TOP);
    for (int i = 0; i < 3; i++)
        if (*parts[i] && at < 255)
            at += (size_t)snprintf(name + at, 256 - at, "%s%s", at ? "." : "", parts[i]);
}

static void write_table(FILE *out, const struct place *place, const struct block *block)
{
    char name[256];
    block_name(name, place, block->key);
    const struct grid *grid = &block->grid;
    int number = 0;
    for (const struct row *row = grid->rows; row; row = row->next) {
        number++;
        for (int i = 0; i < grid->n; i++)
            line(out, name, th_number(number), grid->columns[i].key, row->values[i],
                 grid->columns[i].format);
    }
    for (int i = 0; grid->total && i < grid->n; i++)
        line(out, name, th_text("total"), grid->columns[i].key, grid->total[i],
             grid->columns[i].format);
}

static int part_number(const struct th_report *report, const struct block *part)
{
    int number = 0;
    for (const struct block *b = report->first; b != part->next; b = b->next)
        number += b->kind == BLOCK_PART && strcmp(b->key, part->key) == 0;
    return number;
}

static void write_block(FILE *out, const struct th_report *report, struct place *place,
                        const struct block *b)
{
    char name[256];
    switch (b->kind) {
    case BLOCK_PART:
        place->section = NULL;
        snprintf(place->part, sizeof place->part, "%s[%d]", b->key, part_number(report, b));
        line(out, place->part, th_missing(), "name", th_text(b->text), TH_PLAIN);
        break;
    case BLOCK_PART_END:
        *place = (struct place){0};
        break;
    case BLOCK_SECTION:
        place->section = b->key;
        break;
    case BLOCK_LINE:
        block_name(name, place, "lines");
        line(out, name, th_missing(), "text", th_text(b->text), TH_PLAIN);
        break;
    case BLOCK_PARAGRAPH:
        block_name(name, place, NULL);
        if (b->key)
            line(out, name, th_missing(), b->key, th_text(b->text), TH_PLAIN);
        break;
    case BLOCK_FACT:
        block_name(name, place, NULL);
        line(out, name, th_missing(), b->key, b->value, b->column.format);
        break;
    case BLOCK_TABLE:
        write_table(out, place, b);
        break;
    default:
        break;
    }
}

static void write_notes(FILE *out, const char *key, const struct notes *notes)
{
    int number = 0;
    for (const struct note *note = notes->first; note; note = note->next)
        line(out, key, th_number(++number), "text", th_text(note->text), TH_PLAIN);
}

static void write_balances(FILE *out, const struct th_report *report)
{
    int number = 0;
    for (const struct balance *b = report->balances; b; b = b->next) {
        const struct th_value row = th_number(++number);
        line(out, "balances", row, "balance", th_text(b->key), TH_PLAIN);
        line(out, "balances", row, "unit", th_text(b->unit), TH_PLAIN);
        line(out, "balances", row, "in", th_number(b->in), TH_PLAIN);
        line(out, "balances", row, "out", th_number(b->out), TH_PLAIN);
        line(out, "balances", row, "open_share", th_number(report_balance_error(b)), TH_PLAIN);
    }
}

enum th_code report_write_csv(const struct th_report *report, FILE *out, struct th_error *err)
{
    (void)err;
    struct place place = {0};
    th_csv_head(out, columns, 4);
    line(out, TOP, th_missing(), "schema", th_number(TH_REPORT_SCHEMA), TH_PLAIN);
    line(out, TOP, th_missing(), "turnheat", th_text(th_version()), TH_PLAIN);
    line(out, TOP, th_missing(), "command", th_text(report->command), TH_PLAIN);
    line(out, TOP, th_missing(), "title", th_text(report->title), TH_PLAIN);
    write_notes(out, "warnings", &report->warnings);
    for (const struct block *b = report->first; b; b = b->next)
        write_block(out, report, &place, b);
    write_balances(out, report);
    write_notes(out, "cautions", &report->cautions);
    return TH_OK;
}
