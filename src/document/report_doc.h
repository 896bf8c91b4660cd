/* SPDX-License-Identifier: GPL-3.0-or-later */
/** The inside of a report, shared by what builds and what renders it; nobody else includes this. */
#ifndef TURNHEAT_REPORT_DOC_H
#define TURNHEAT_REPORT_DOC_H

#include "figure.h"
#include "report.h"

enum block_kind {
    BLOCK_PART,
    BLOCK_PART_END,
    BLOCK_SECTION,
    BLOCK_LINE,
    BLOCK_PARAGRAPH,
    BLOCK_ITEM,
    BLOCK_PASTE,
    BLOCK_FACT,
    BLOCK_TABLE,
    BLOCK_FIGURE,
    BLOCK_SIGNATURE
};

struct row {
    struct row *next;
    struct th_value *values;
};

/** Rows of a table; `total` is NULL without. */
struct grid {
    int n;
    bool has_columns; /**< its first row is complete and told them */
    struct th_column *columns;
    bool *known; /**< per column: some value in it is not missing */
    size_t n_rows;
    struct row *rows, *last;
    struct th_value *total;
};

struct mark_point {
    struct mark_point *next, *before;
    double at, low, high; /**< not finite: a gap */
    const char *name;     /**< NULL: none */
};

/** One mark of a figure; `dash` counts those of its kind and colour before it. */
struct mark {
    struct mark *next;
    enum th_mark_kind kind;
    enum th_ink ink;
    int dash;
    const char *label;
    struct mark_point *points, *last;
};

struct note {
    struct note *next;
    const char *text;
};

struct notes {
    struct note *first, *last;
};

struct drawing {
    struct th_figure figure;
    struct notes names;
    int n_names;
    struct mark *marks, *last_mark;
};

/** `text` is the name, heading, caption, paragraph or label, by kind. */
struct block {
    struct block *next;
    enum block_kind kind;
    const char *key;
    const char *text;
    struct th_column column; /**< facts only: unit and format */
    struct th_value value;   /**< facts only */
    struct grid grid;        /**< tables only */
    struct drawing drawing;  /**< figures only */
};

struct balance {
    struct balance *next;
    const char *key, *label, *unit;
    double in, out;
};

struct piece;

struct th_report {
    struct th_error failure; /**< the first one; code TH_OK without */
    struct piece *pieces;    /**< all memory, freed at once */
    const char *command;
    const char *title;
    const char *file; /**< NULL: of no one file */
    bool one_sheet;
    struct notes about, warnings, cautions, errors;
    int status; /**< of the errors */
    struct block *first, *last;
    struct block *open_grid;   /**< where rows go */
    struct th_value *open_row; /**< where cells go; NULL outside a row */
    int n_cells;               /**< of it, so far */
    struct balance *balances, *last_balance;
};

/* What report.c and figure.c build with. The first failure is kept in the report. */

/** Zeroed memory of the report, or NULL. */
void *report_take(struct th_report *report, size_t size);

/** A harmless copy of a text; NULL stays NULL. */
const char *report_keep(struct th_report *report, const char *text);

/** Appends a block, or returns NULL. */
struct block *report_add_block(struct th_report *report, enum block_kind kind, const char *key,
                               const char *text);

/** Notes that the report was built wrongly. */
void report_misuse(struct th_report *report, const char *what, const char *key);

/** Whether the report was built whole: its first failure, or TH_ERR_MEMORY without a report. */
enum th_code report_check(const struct th_report *report, struct th_error *err);

/** Whether place and values of the point are finite. */
bool mark_point_is_known(const struct mark_point *point);

/** Whether no mark but rules has a known point. */
bool drawing_is_empty(const struct drawing *drawing);

/** The first block from `block` on that people see: no fact without a label, no table without a
 * caption. NULL when there is none. */
const struct block *report_shown(const struct block *block);

/** Whether a shown block, of which `before` is the one before (NULL: none), belongs to the answer
 * that comes first of all. */
bool report_is_answer(const struct block *before, const struct block *block);

/** Difference of a balance over the larger side; 0 when both are 0. */
double report_balance_error(const struct balance *balance);

/** A balance is said to close below this (as the engine's own checks do). */
#define REPORT_BALANCE_LIMIT 1e-6

/** The sentence that follows tables with totals. */
#define REPORT_TOTALS_NOTE                                                                         \
    "Totals are added up before rounding, so the rounded figures shown may differ from them a "    \
    "little."

/** Whether people are shown the column: not when nothing in it is known, nor without a label. The
 * first always is. */
bool report_shows_column(const struct grid *grid, int column);

/** Whether any table has a totals row. */
bool report_has_total(const struct th_report *report);

#endif
