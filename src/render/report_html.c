/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One page that needs nothing else, also well-formed as XML so that tests can read it. */
#include "renderers.h"

#include "display.h"
#include "figure_draw.h"
#include "report_style.h"
#include "svg.h"
#include "turnheat/version.h"
#include <string.h>

/* What every printed sheet says at its foot. */
#define FOOT "Estimates from a model. Air for the pigs comes before gallons."

/* More columns than this are set smaller. */
#define WIDE_COLUMNS 8

/* Tables of no more rows stay on one sheet of paper. */
#define WHOLE_ROWS 10

/* More columns than this hardly fit on a phone; a browser that can tell hides the hint where they
   do. */
#define PHONE_COLUMNS 4

/* A text of so many letters is kept on one line. */
#define SHORT_TEXT_MAX 18

/* In front of a row not even on a phone: "Jan 15, 2027". */
#define BRIEF_TEXT_MAX 12

struct page {
    FILE *out;
    bool in_part;
};

static bool is_number(struct th_value value, enum th_format format)
{
    return value.kind == TH_VALUE_NUMBER && !th_format_is_date(format);
}

static void write_notes(FILE *out, const struct notes *notes)
{
    fputs("<ul>\n", out);
    for (const struct note *note = notes->first; note; note = note->next)
        xml_element(out, "li", "", note->text);
    fputs("</ul>\n", out);
}

static bool is_numeric_column(const struct grid *grid, int column)
{
    for (const struct row *row = grid->rows; row; row = row->next)
        if (is_number(row->values[column], grid->columns[column].format))
            return true;
    return false;
}

static void write_head(FILE *out, const struct grid *grid)
{
    fputs("<thead><tr>", out);
    for (int c = 0; c < grid->n; c++) {
        if (!report_shows_column(grid, c))
            continue;
        fprintf(out, "<th scope=\"col\"%s>", is_numeric_column(grid, c) ? " class=\"number\"" : "");
        xml_write(out, grid->columns[c].label);
        if (*grid->columns[c].unit) {
            fputs(" <span class=\"unit\">", out);
            xml_write(out, grid->columns[c].unit);
            fputs("</span>", out);
        }
        fputs("</th>", out);
    }
    fputs("</tr></thead>\n", out);
}

static void write_row(FILE *out, const struct grid *grid, const struct th_value *values)
{
    char buffer[TH_SHOWN_MAX];
    fputs("<tr>", out);
    for (int c = 0; c < grid->n; c++) {
        if (!report_shows_column(grid, c))
            continue;
        const char *shown = th_show(buffer, values[c], grid->columns[c].format);
        const int width = th_display_width(shown);
        fputs(c == 0 ? "<th scope=\"row\"" : "<td", out);
        fputs(is_numeric_column(grid, c)          ? " class=\"number\">"
              : c == 0 && width <= BRIEF_TEXT_MAX ? " class=\"short brief\">"
              : width <= SHORT_TEXT_MAX           ? " class=\"short\">"
                                                  : ">",
              out);
        xml_write(out, shown);
        fputs(c == 0 ? "</th>" : "</td>", out);
    }
    fputs("</tr>\n", out);
}

/* Columns people see, each of words counted as two. */
static int breadth(const struct grid *grid)
{
    int n = 0;
    for (int c = 0; c < grid->n; c++)
        if (report_shows_column(grid, c))
            n += c == 0 || is_numeric_column(grid, c) ? 1 : 2;
    return n;
}

static void write_grid(FILE *out, const struct grid *grid, const char *caption)
{
    fprintf(out, "<div class=\"scroll%s\" role=\"region\" tabindex=\"0\" aria-label=\"",
            grid->n_rows <= WHOLE_ROWS ? " whole" : "");
    xml_write(out, caption && *caption ? caption : "Table");
    fputs("\">\n", out);
    if (breadth(grid) > PHONE_COLUMNS)
        xml_element(out, "p", " class=\"more\"", "This table scrolls sideways →");
    fprintf(out, "<table%s>\n", grid->n > WIDE_COLUMNS ? " class=\"wide\"" : "");
    if (caption && *caption) {
        fputs("<caption>", out);
        xml_element(out, "span", "", caption);
        fputs("</caption>\n", out);
    }
    write_head(out, grid);
    fputs("<tbody>\n", out);
    for (const struct row *row = grid->rows; row; row = row->next)
        write_row(out, grid, row->values);
    fputs("</tbody>\n", out);
    if (grid->total) {
        fputs("<tfoot>\n", out);
        write_row(out, grid, grid->total);
        fputs("</tfoot>\n", out);
    }
    fputs("</table>\n</div>\n", out);
}

static void write_table(FILE *out, const struct block *table)
{
    if (table->grid.n_rows > 0) {
        write_grid(out, &table->grid, table->text);
        return;
    }
    xml_element(out, "p", "", table->text);
    xml_element(out, "p", " class=\"note\"", "(nothing to list)");
}

/* Two drawings, one for a desk and paper and one for a phone; the style shows the one that fits. */
static void write_figure(FILE *out, const struct block *block)
{
    const struct drawing *drawing = &block->drawing;
    fputs("<figure>\n<figcaption>\n", out);
    xml_element(out, "strong", "", drawing->figure.caption);
    xml_element(out, "span", "", drawing->figure.reading);
    fputs("</figcaption>\n", out);
    if (drawing_is_empty(drawing)) {
        xml_element(out, "p", " class=\"note\"", "(nothing to draw)");
    } else {
        figure_write_svg(out, drawing, false);
        figure_write_svg(out, drawing, true);
    }
    fputs("</figure>\n", out);
}

/* The number and its unit in cells of their own, so that both line up; a text spans the two. */
static void write_fact(FILE *out, const struct block *fact)
{
    char buffer[TH_SHOWN_MAX];
    const enum th_format format = fact->column.format;
    const char *unit = fact->column.unit;
    fputs("<tr>", out);
    xml_element(out, "th", " scope=\"row\"", fact->text);
    if (!is_number(fact->value, format)) {
        xml_element(out, "td", " colspan=\"2\"", th_show(buffer, fact->value, format));
    } else {
        const bool money = *unit == '$';
        const char *shown = th_show_with_unit(buffer, fact->value, format, money ? "$" : "");
        xml_element(out, "td", " class=\"number\"", shown);
        xml_element(out, "td", " class=\"unit\"", money ? unit + 1 : unit);
    }
    fputs("</tr>\n", out);
}

/* Whether the section is to be signed: it gets a sheet of paper of its own. */
static bool is_signed(const struct block *section)
{
    for (const struct block *b = section->next; b && b->kind != BLOCK_SECTION; b = b->next)
        if (b->kind == BLOCK_SIGNATURE)
            return true;
    return false;
}

static bool neighbours(const struct block *a, const struct block *b)
{
    return a && b && a->kind == b->kind;
}

static void write_block(struct page *page, const struct block *before, const struct block *block)
{
    FILE *out = page->out;
    const bool first = !neighbours(before, block),
               last = !neighbours(block, report_shown(block->next));
    switch (block->kind) {
    case BLOCK_PART:
        page->in_part = true;
        xml_element(out, "h2", " class=\"part\"", block->text);
        break;
    case BLOCK_PART_END:
        page->in_part = false;
        break;
    case BLOCK_SECTION:
        if (block->text)
            xml_element(out, page->in_part ? "h3" : "h2",
                        is_signed(block) ? " class=\"sheet\"" : "", block->text);
        break;
    case BLOCK_LINE:
        xml_element(out, "p", first && !page->in_part ? " class=\"answer\"" : "", block->text);
        break;
    case BLOCK_PARAGRAPH:
        xml_element(out, "p", "", block->text);
        break;
    case BLOCK_ITEM:
        fputs(first ? "<ul>\n" : "", out);
        xml_element(out, "li", "", block->text);
        fputs(last ? "</ul>\n" : "", out);
        break;
    case BLOCK_PASTE:
        fputs(first ? "<pre>" : "\n", out);
        xml_write(out, block->text);
        fputs(last ? "</pre>\n" : "", out);
        break;
    case BLOCK_FACT:
        fputs(first ? "<table class=\"facts\">\n<tbody>\n" : "", out);
        write_fact(out, block);
        fputs(last ? "</tbody>\n</table>\n" : "", out);
        break;
    case BLOCK_TABLE:
        write_table(out, block);
        break;
    case BLOCK_FIGURE:
        write_figure(out, block);
        break;
    case BLOCK_SIGNATURE:
        xml_element(out, "p", " class=\"signature\"", block->text);
        break;
    }
}

static void write_balances(FILE *out, const struct th_report *report)
{
    char in[TH_SHOWN_MAX], left[TH_SHOWN_MAX];
    xml_element(out, "h2", "", "Balances");
    fputs("<ul>\n", out);
    for (const struct balance *b = report->balances; b; b = b->next) {
        const double open = report_balance_error(b);
        fputs("<li>", out);
        xml_write(out, b->label);
        fputs(": ", out);
        xml_write(out, th_show_with_unit(in, th_number(b->in), TH_SIG3, b->unit));
        fputs(" in, ", out);
        xml_write(out, th_show_with_unit(left, th_number(b->out), TH_SIG3, b->unit));
        if (open < REPORT_BALANCE_LIMIT)
            fputs(" out: closes.</li>\n", out);
        else
            fprintf(out, " out: <span class=\"open\">open by %.2g %%</span>.</li>\n", 100 * open);
    }
    fputs("</ul>\n", out);
}

static void write_top(FILE *out, const struct th_report *report)
{
    const char *title = report->title ? report->title : report->command;
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
          "style-src 'unsafe-inline'\"/>\n",
          out);
    xml_element(out, "title", "", title);
    fprintf(out, "<style>\n%s</style>\n<style>\n%s%s", figure_style, page_style, print_style);
    fprintf(out, "@page{@bottom-left{content:\"turnheat %s · " FOOT "\"}}</style>\n", th_version());
    fprintf(out, "</head>\n<body%s>\n<main>\n<header>\n",
            report->one_sheet ? " class=\"one\"" : "");
    xml_element(out, "h1", "", title);
    for (const struct note *note = report->about.first; note; note = note->next)
        xml_element(out, "p", " class=\"about\"", note->text);
    fprintf(out, "<p class=\"about\">turnheat %s</p>\n</header>\n", th_version());
}

/* Warnings stand right below the answer. */
static void write_warnings(FILE *out, const struct th_report *report)
{
    if (!report->warnings.first)
        return;
    fputs("<section class=\"warnings\" aria-label=\"Warnings\">\n", out);
    xml_element(out, "h2", "", "Warnings");
    write_notes(out, &report->warnings);
    fputs("</section>\n", out);
}

enum th_code report_write_html(const struct th_report *report, FILE *out, struct th_error *err)
{
    (void)err;
    struct page page = {.out = out};
    write_top(out, report);
    const struct block *before = NULL, *b = report_shown(report->first);
    for (; b && report_is_answer(before, b); before = b, b = report_shown(b->next))
        write_block(&page, before, b);
    write_warnings(out, report);
    for (; b; before = b, b = report_shown(b->next))
        write_block(&page, before, b);
    if (report->balances)
        write_balances(out, report);
    if (report->cautions.first) {
        xml_element(out, "h2", "", "Cautions");
        write_notes(out, &report->cautions);
    }
    if (report_has_total(report))
        xml_element(out, "p", " class=\"note\"", REPORT_TOTALS_NOTE);
    fputs("</main>\n</body>\n</html>\n", out);
    return TH_OK;
}
