/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The text of barn and farm files: sections with `key = value` lines, each remembered with its
 * place so that any later error can point at it. Keys and values are not understood here.
 *
 * A file is UTF-8 (with or without a byte-order mark), at most 1 MiB; a line starts in the first
 * column and has at most 64 KiB. A # at the start of a line, or with blanks on both sides, begins a
 * comment. A ; has no meaning and is refused, as are control characters.
 */
#ifndef TURNHEAT_BARN_TEXT_H
#define TURNHEAT_BARN_TEXT_H

#include "files.h"
#include "issues.h"
#include "name_index.h"

#define TH_TEXT_LINE_MAX 65536
#define TH_TEXT_SECTION_MAX 47

/** A `key = value` line or, with `key` NULL, a section header. Strings are owned by the text. */
struct th_entry {
    char *section; /**< as in the header, blanks made single: "surface ceiling" */
    char *key;     /**< NULL for the header itself */
    char *value;   /**< NULL: the line is wrong, and was complained about */
    char *file;
    char *source; /**< the whole line */
    long line;
    int key_column;
    int value_column;
};

/** Entries in the order of the files read. All zero is empty. */
struct th_barn_text {
    size_t n;
    size_t room;
    struct th_entry *entries;
    struct th_name_index headers; /**< the first header of each section */
    struct th_text_block *blocks; /**< what the strings of the entries stand in */
};

/**
 * Adds the entries of the file at `path`, found as th_files_open() does. What is wrong in it goes
 * to `issues`, and the lines that are right are still added; TH_ERR_INPUT tells that something was.
 * TH_ERR_READ (an issue too) when the file cannot be opened or read, TH_ERR_MEMORY.
 */
enum th_code th_barn_text_read(struct th_barn_text *text, const char *path, struct th_files *files,
                               struct th_issues *issues);

/** Adds one entry that stands in no file, as `--set` does. `source` is shown with its errors. */
enum th_code th_barn_text_add(struct th_barn_text *text, const char *section, const char *key,
                              const char *value, const char *source, int value_column);

/** A list of its own of the same entries, whose strings stay those of `text`, which must outlive
 * it. TH_ERR_MEMORY. Finish `copy` in any case. */
enum th_code th_barn_text_copy(const struct th_barn_text *text, struct th_barn_text *copy);

/** The first header of the section, or NULL. */
const struct th_entry *th_barn_text_header(const struct th_barn_text *text, const char *section);

/** The place of an entry's value, or of its key. */
struct th_place th_entry_value_place(const struct th_entry *entry);
struct th_place th_entry_key_place(const struct th_entry *entry);

/** Frees the entries; NULL and a second call are allowed. */
void th_barn_text_finish(struct th_barn_text *text);

#endif
