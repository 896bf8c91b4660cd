/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "renderers.h"

#include "display.h"
#include "text_table.h"
#include "text_wrap.h"
#include <string.h>

#define INDENT 2
#define WIDEST_LABEL 46
#define GAP 3

static void print_heading(FILE *out, const char *heading, const char *rule)
{
    fputc('\n', out);
    th_wrap(out, heading, 0, TH_TEXT_WIDTH);
    const int width = th_display_width(heading);
    th_repeat(out, rule, width < TH_TEXT_WIDTH ? width : TH_TEXT_WIDTH);
    fputc('\n', out);
}

static void print_marked(FILE *out, const char *mark, const char *text)
{
    fprintf(out, "  %s ", mark);
    th_wrap(out, text, INDENT + 2, TH_TEXT_WIDTH - INDENT - 2);
}

static void print_notes(FILE *out, const struct notes *notes, const char *mark)
{
    for (const struct note *note = notes->first; note; note = note->next)
        print_marked(out, mark, note->text);
}

/* Numbers stand right-aligned with their units after them; texts and dates start on the left. */
static bool is_aligned(const struct block *fact)
{
    return fact->value.kind == TH_VALUE_NUMBER && !th_format_is_date(fact->column.format);
}

static int unit_width(const struct block *fact)
{
    const char *unit = fact->column.unit;
    return *unit == '\0'  ? 0
           : *unit == '$' ? th_display_width(unit + 1)
                          : th_display_width(unit) + 1;
}

static int number_width(const struct block *fact)
{
    char buffer[TH_SHOWN_MAX];
    if (!is_aligned(fact))
        return 1;
    const char *shown =
        th_show_with_unit(buffer, fact->value, fact->column.format, fact->column.unit);
    return th_display_width(shown) - unit_width(fact);
}

static int cap(int value, int most)
{
    return value < most ? value : most;
}

static void print_fact(FILE *out, const struct block *fact, int label_width, int value_width)
{
    char buffer[TH_SHOWN_MAX];
    const char *shown =
        th_show_with_unit(buffer, fact->value, fact->column.format, fact->column.unit);
    const int indent = INDENT + label_width + GAP;
    const int used = th_display_width(fact->text);
    th_repeat(out, " ", INDENT);
    if (used > label_width) {
        th_wrap(out, fact->text, INDENT, TH_TEXT_WIDTH - INDENT);
        th_repeat(out, " ", indent);
    } else {
        fputs(fact->text, out);
        th_repeat(out, " ", label_width - used + GAP);
    }
    if (is_aligned(fact) || fact->value.kind == TH_VALUE_MISSING)
        th_repeat(out, " ", value_width - number_width(fact));
    th_wrap(out, shown, indent, TH_TEXT_WIDTH - indent);
}

/* Prints the facts from `block` on that follow each other; returns the last of them. */
static const struct block *print_facts(FILE *out, const struct block *block)
{
    int label_width = 0, value_width = 1;
    for (const struct block *b = block; b && b->kind == BLOCK_FACT; b = report_shown(b->next)) {
        const int label = th_display_width(b->text), number = number_width(b);
        if (label > label_width)
            label_width = cap(label, WIDEST_LABEL);
        value_width = number > value_width ? number : value_width;
    }
    for (;;) {
        const struct block *next = report_shown(block->next);
        print_fact(out, block, label_width, value_width);
        if (!next || next->kind != BLOCK_FACT)
            return block;
        block = next;
    }
}

static enum th_code print_table(FILE *out, const struct block *table, struct th_error *err)
{
    if (table->text && *table->text) {
        th_wrap(out, table->text, 0, TH_TEXT_WIDTH);
        fputc('\n', out);
    }
    if (table->grid.n_rows == 0) {
        fputs("  (nothing to list)\n", out);
        return TH_OK;
    }
    return th_text_table(out, &table->grid, err);
}

static bool starts_group(const struct block *before, const struct block *block)
{
    return !before || before->kind != block->kind || block->kind == BLOCK_PARAGRAPH ||
           block->kind == BLOCK_LINE || block->kind == BLOCK_TABLE;
}

/* Prints one block, or a run of facts; `*block` moves to the last one printed. */
static enum th_code print_block(FILE *out, const struct block **block, struct th_error *err)
{
    switch ((*block)->kind) {
    case BLOCK_PART:
        print_heading(out, (*block)->text, "═");
        break;
    case BLOCK_SECTION:
        if ((*block)->text)
            print_heading(out, (*block)->text, "─");
        break;
    case BLOCK_LINE:
    case BLOCK_PARAGRAPH:
        th_wrap(out, (*block)->text, 0, TH_TEXT_WIDTH);
        break;
    case BLOCK_ITEM:
        print_marked(out, "•", (*block)->text);
        break;
    case BLOCK_PASTE:
        fprintf(out, "%s\n", (*block)->text);
        break;
    case BLOCK_FACT:
        *block = print_facts(out, *block);
        break;
    case BLOCK_TABLE:
        return print_table(out, *block, err);
    case BLOCK_SIGNATURE:
        fputs("\n\n  ", out);
        th_repeat(out, "_", 40);
        fprintf(out, "\n  %s\n", (*block)->text);
        break;
    default:
        break;
    }
    return TH_OK;
}

static bool is_shown(const struct block *block)
{
    return block->kind != BLOCK_FIGURE && block->kind != BLOCK_PART_END;
}

/* Prints from `b` on: the answer that comes first of all, or everything. Returns where it ended. */
static const struct block *print_blocks(FILE *out, const struct block *b, bool answer,
                                        enum th_code *code, struct th_error *err)
{
    const struct block *before = NULL;
    for (; b && !*code && !(answer && !report_is_answer(before, b)); b = report_shown(b->next)) {
        if (!is_shown(b))
            continue;
        if (b->kind != BLOCK_SECTION && b->kind != BLOCK_PART && starts_group(before, b))
            fputc('\n', out);
        *code = print_block(out, &b, err);
        before = b;
    }
    return b;
}

static void print_balance(FILE *out, const struct balance *balance)
{
    char in[TH_SHOWN_MAX], left[TH_SHOWN_MAX], line[1024];
    const double open = report_balance_error(balance);
    int n = snprintf(line, sizeof line, "%s: %s in, %s out, ", balance->label,
                     th_show(in, th_number(balance->in), TH_SIG3),
                     th_show_with_unit(left, th_number(balance->out), TH_SIG3, balance->unit));
    n = cap(n, (int)sizeof line - 64);
    if (open < REPORT_BALANCE_LIMIT)
        snprintf(line + n, sizeof line - (size_t)n, "closes.");
    else
        snprintf(line + n, sizeof line - (size_t)n, "OPEN by %.2g %%.", 100 * open);
    print_marked(out, "•", line);
}

enum th_code report_write_text(const struct th_report *report, FILE *out, struct th_error *err)
{
    if (report->title) {
        th_wrap(out, report->title, 0, TH_TEXT_WIDTH);
        th_repeat(out, "═", cap(th_display_width(report->title), TH_TEXT_WIDTH));
        fputc('\n', out);
    }
    enum th_code code = TH_OK;
    const struct block *const rest =
        print_blocks(out, report_shown(report->first), true, &code, err);
    if (report->warnings.first) {
        fputs("\nWARNINGS\n", out);
        print_notes(out, &report->warnings, "!");
    }
    print_blocks(out, rest, false, &code, err);
    if (report->balances)
        print_heading(out, "Balances", "─");
    for (const struct balance *b = report->balances; b; b = b->next)
        print_balance(out, b);
    if (report->cautions.first)
        print_heading(out, "Cautions", "─");
    print_notes(out, &report->cautions, "•");
    if (report_has_total(report)) {
        fputc('\n', out);
        th_wrap(out, REPORT_TOTALS_NOTE, 0, TH_TEXT_WIDTH);
    }
    return code;
}
