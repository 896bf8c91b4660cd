/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * From entries to a draft: sections are opened, values set, and what is unknown, doubled, missing
 * or out of range becomes an issue. Later sources win over earlier ones: the files, then --set,
 * then the changes of the picked choices and options.
 */
#ifndef TURNHEAT_BARN_APPLY_H
#define TURNHEAT_BARN_APPLY_H

#include "barn_keys.h"

/** A choice or option by its section ("choice modulating"). */
#define TH_SECTION_MAX (TH_TEXT_SECTION_MAX + 1)

#define TH_NO_SETTING ((size_t)-1)

struct th_setting {
    const struct th_entry *entry;
    char *section; /**< the entry's, or owned when a pick's dotted key names another */
    const char *key;
    const struct th_parameter *parameter; /**< what is set; NULL where it is not known */
    size_t before;   /**< the last earlier setting of the same key, or TH_NO_SETTING */
    size_t excluded; /**< the last earlier one of a key that this one excludes, or TH_NO_SETTING */
    int rank;        /**< 0 files, 1 --set, 2 … picks in their order */
    bool holds;      /**< it was right, and nothing later says otherwise */
    double number;   /**< in SI, when it is one */
};

/** A run of th_apply(). Owns the list; entries are borrowed from the text. */
struct th_apply {
    const struct th_barn_text *text;
    struct th_files *files; /**< where the tables it names are found */
    const char *barn_path;
    const char *farm_path; /**< NULL without one */
    struct th_draft *draft;
    struct th_issues *issues;
    size_t n;
    size_t room;
    struct th_setting *settings;
    struct th_name_index latest; /**< by section and key; under the key NULL any of the section */
    int n_bad;
    char bad[TH_ISSUES_MAX][TH_SECTION_MAX]; /**< sections with errors */
};

/**
 * Starts `draft` and applies the text with the sections `picks` (n_picks of them). TH_ERR_MEMORY;
 * errors in the text go to `issues`. Finish with th_apply_finish() either way.
 */
enum th_code th_apply(struct th_apply *apply, const char *const *picks, int n_picks);

/** Lists what the text and the picks set, in their order; th_apply() begins with it. TH_ERR_MEMORY.
 */
enum th_code th_apply_collect(struct th_apply *apply, const char *const *picks, int n_picks);

/** An error at the value that was set for the key, else at the section's header, else at the file;
 * remembers that the section is bad. */
void th_apply_error(struct th_apply *apply, const char *section, const char *key,
                    const char *format, ...) __attribute__((format(printf, 4, 5)));

/** An error at a place of the caller's; remembers that the section is bad. */
void th_apply_error_at(struct th_apply *apply, const char *section, const struct th_place *place,
                       const char *format, ...) __attribute__((format(printf, 4, 5)));

/** The place th_apply_error() would point at. */
struct th_place th_apply_place(const struct th_apply *apply, const char *section, const char *key);

/** Whether the section holds the key; with `key` NULL whether it holds any. */
bool th_apply_has(const struct th_apply *apply, const char *section, const char *key);

/** Whether the key is given, is right and is not excluded by a later one. */
bool th_apply_holds(const struct th_apply *apply, const char *section, const char *key);

/** A number in SI, word or text as it holds or, where none is given, by the table's default. */
double th_apply_number(const struct th_apply *apply, const char *section, const char *key);
struct th_apply_text {
    char text[TH_NOTE_MAX];
};
struct th_apply_text th_apply_text(const struct th_apply *apply, const char *section,
                                   const char *key);

/** The path given for the key, from where the program runs; false when none is. */
bool th_apply_path(const struct th_apply *apply, const char *section, const char *key,
                   char path[TH_PATH_MAX]);

/** Whether the section, or one that others are measured by, had an error. */
bool th_apply_is_bad(const struct th_apply *apply, const char *section);

/** Frees the list. */
void th_apply_finish(struct th_apply *apply);

#endif
