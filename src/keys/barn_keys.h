/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The sections of barn and farm files: which parameters (turnheat/parameters.h) each has, and where
 * in the draft its values are kept.
 */
#ifndef TURNHEAT_BARN_KEYS_H
#define TURNHEAT_BARN_KEYS_H

#include "barn_draft.h"
#include "quantity.h"
#include "turnheat/parameters.h"

#define TH_SECTION_LISTS 2

struct th_section_kind {
    const char *word;
    bool named;    /**< [word NAME], any number; else [word], once */
    bool farm;     /**< may also stand in the farm file */
    bool optional; /**< says something by standing there, so a new barn leaves it out */
    size_t count;  /**< offset in the draft of the number of them */
    size_t first;  /**< offset in the draft of the array */
    size_t stride; /**< of an element; its name comes first */
    int most;
    void (*start)(void *element);
    const struct th_parameters *lists[TH_SECTION_LISTS]; /**< the second may be NULL */
    size_t bases[TH_SECTION_LISTS]; /**< where each list's struct begins in the element or draft */
    const char *help;
};

/** All kinds in the order they are shown. */
const struct th_section_kind *th_section_kinds(int *n);

/** The kind of a section header ("surface ceiling"); `name` receives what follows the word, ""
 * for none. NULL when the word is unknown. */
const struct th_section_kind *th_section_kind_of(const char *section, const char **name);

/** The key with the number `i` from 0, or NULL past the last. */
const struct th_parameter *th_section_key(const struct th_section_kind *kind, int i);

/** The key of that name, or NULL. */
const struct th_parameter *th_key_find(const struct th_section_kind *kind, const char *name);

/** Where the struct of the key begins in `element`, that of its section or the draft. */
void *th_key_struct(const struct th_section_kind *kind, const struct th_parameter *key,
                    void *element);

/** The known word closest to `word`, or NULL when none is close. */
const char *th_section_kind_nearest(const char *word);
const char *th_key_nearest(const struct th_section_kind *kind, const char *name);

/** The next key of the section after `last` (NULL: the first) that says the same as `key` in
 * another way, so that only one of them may be given; NULL after the last of them. */
const struct th_parameter *th_key_rival(const struct th_section_kind *kind,
                                        const struct th_parameter *key,
                                        const struct th_parameter *last);

/** Whether --set, choices and options may change the key: a single value, or words that stand for
 * one, as layers stand for an R. */
bool th_key_is_scalar(const struct th_parameter *key);

/** The defaults of everything. */
void th_draft_start(struct th_draft *draft);

/* Of struct th_quotation and struct th_quote_line. */
extern const struct th_parameters th_parameters_quotation, th_parameters_line;

/* Of struct th_pick; the second only in options. */
extern const struct th_parameters th_parameters_pick, th_parameters_option;
/* Of struct th_barn_record. */
extern const struct th_parameters th_parameters_record;

#define TH_SECTION_WORDS_MAX 300

/** All sections: "room, site … or line"; returns `text`. */
const char *th_section_words(char text[TH_SECTION_WORDS_MAX], bool farm);

#endif
