/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * Records of a comma-separated file through libcsv, with line numbers. Only the columns asked for
 * are kept, so that wide files stay cheap. Names are trimmed and case-folded.
 */
#ifndef TURNHEAT_CSV_ROWS_H
#define TURNHEAT_CSV_ROWS_H

#include "line_reader.h"
#include "turnheat/error.h"
#include <csv.h>

#define TH_CSV_COLUMNS_MAX 512
#define TH_CSV_NAME_MAX 64
#define TH_CSV_SLOTS 16
#define TH_CSV_FIELD_MAX 96

struct th_csv {
    struct th_lines *lines; /**< borrowed */
    struct csv_parser parser;
    bool blanks;        /**< fields stand between runs of blanks */
    bool skip_comments; /**< lines starting with # between records */
    long line;          /**< where the record began */
    bool naming;        /**< the record being read holds names */
    bool ended;         /**< the record is complete */
    size_t columns;     /**< fields of the record */
    size_t n_names;
    char names[TH_CSV_COLUMNS_MAX][TH_CSV_NAME_MAX];
    signed char slot_of[TH_CSV_COLUMNS_MAX];    /**< -1: not asked for */
    char field[TH_CSV_SLOTS][TH_CSV_FIELD_MAX]; /**< trimmed; "" where the record has none */
};

/** Begins at the next unread line of `lines`; delimiter ' ' is any run of blanks. TH_ERR_MEMORY. */
enum th_code th_csv_open(struct th_csv *csv, struct th_lines *lines, char delimiter,
                         struct th_error *err);

/** Frees the parser. */
void th_csv_close(struct th_csv *csv);

/** Reads a record of column names. TH_ERR_READ when there is none. */
enum th_code th_csv_read_names(struct th_csv *csv, struct th_error *err);

/** Index of the first column of folded `name`, -1 if absent. Real files repeat names. */
int th_csv_find(const struct th_csv *csv, const char *name);

/** Keeps column `column` (0…) of every record in field[slot]. */
void th_csv_keep(struct th_csv *csv, int column, int slot);

/**
 * Looks `name` up and keeps it in `slot`. TH_ERR_READ naming file and line when it is absent and
 * `required`.
 */
enum th_code th_csv_keep_named(struct th_csv *csv, const char *name, int slot, bool required,
                               struct th_error *err);

/**
 * Reads the next record; `*more` is false at the end. Blank lines are passed over. TH_ERR_READ for
 * an unclosed quote and whatever th_lines_next() refuses.
 */
enum th_code th_csv_next(struct th_csv *csv, bool *more, struct th_error *err);

#endif
