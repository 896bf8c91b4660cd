/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The one table of sections and keys. Reading, range checks, `--set`, `turnheat new` and the lists
 * in docs/barn-file.md all follow from it.
 */
#ifndef TURNHEAT_BARN_KEYS_H
#define TURNHEAT_BARN_KEYS_H

#include "barn_draft.h"
#include "quantity.h"

/** How a value is kept. Only the first five may be changed by --set, choices and options. */
enum th_store {
    TH_STORE_NUMBER,    /**< double */
    TH_STORE_WHOLE,     /**< int */
    TH_STORE_YES_NO,    /**< bool */
    TH_STORE_WORD,      /**< int or enum, one of `words` */
    TH_STORE_MONTH_DAY, /**< two ints, month and day */
    TH_STORE_NAME,      /**< char[TH_NAME_MAX] */
    TH_STORE_NOTE,      /**< char[TH_NOTE_MAX] */
    TH_STORE_PATH,      /**< char[TH_PATH_MAX], relative to the file it stands in */
    TH_STORE_WEATHER,   /**< the draft's list of weather files */
    TH_STORE_WEEKDAYS,  /**< unsigned, as in tank.h */
    TH_STORE_WEEKS,     /**< the gallons of struct th_use */
    TH_STORE_LEAVES     /**< struct th_leave[TH_LEAVES_MAX] and, before it, their number */
};

struct th_word {
    const char *word;
    int value;
};

struct th_key {
    const char *name;
    enum th_store store;
    enum th_dimension dimension;
    size_t offset;               /**< in the draft, or in the section's own struct */
    const char *low, *high;      /**< least and most, as one would write them; NULL for none */
    const struct th_word *words; /**< ended by a NULL word */
    size_t given;                /**< offset of a bool set when the key is given; 0 for none */
    char group;                  /**< keys of a section with the same letter exclude each other */
    bool needed;                 /**< the section makes no sense without it */
    const char *initial;         /**< default as one would write it; NULL when there is none */
    const char *otherwise;       /**< what holds without the key when it is no single value */
    const char *source;          /**< of the default */
    const char *help;            /**< one line */
};

struct th_section_kind {
    const char *word;
    bool named;    /**< [word NAME], any number; else [word], once */
    bool farm;     /**< may also stand in the farm file */
    size_t count;  /**< offset in the draft of the number of them */
    size_t first;  /**< offset in the draft of the array */
    size_t stride; /**< of an element; its name comes first */
    int most;
    void (*start)(void *element);
    const struct th_key *keys;
    const int *n_keys;
    const char *help;
};

/** All kinds in the order they are shown. */
const struct th_section_kind *th_section_kinds(int *n);

/** The kind of a section header ("surface ceiling"); `name` receives what follows the word, ""
 * for none. NULL when the word is unknown. */
const struct th_section_kind *th_section_kind_of(const char *section, const char **name);

/** The key of that name, or NULL. */
const struct th_key *th_key_find(const struct th_section_kind *kind, const char *name);

/** The known word closest to `word`, or NULL when none is close. */
const char *th_section_kind_nearest(const char *word);
const char *th_key_nearest(const struct th_section_kind *kind, const char *name);

/** Whether --set, choices and options may change the key. */
bool th_key_is_scalar(const struct th_key *key);

/** The defaults of everything. */
void th_draft_start(struct th_draft *draft);

/* The tables, one file a trade: barn_keys_room.c, barn_keys_air.c, barn_keys_heat.c ... */
extern const struct th_key th_keys_room[], th_keys_site[], th_keys_surface[];
extern const int th_n_keys_room, th_n_keys_site, th_n_keys_surface;
extern const struct th_key th_keys_air[], th_keys_pigs[], th_keys_setpoints[], th_keys_turn[];
extern const int th_n_keys_air, th_n_keys_pigs, th_n_keys_setpoints, th_n_keys_turn;
extern const struct th_key th_keys_heater[], th_keys_zone[];
extern const int th_n_keys_heater, th_n_keys_zone;
extern const struct th_key th_keys_fuel[], th_keys_money[], th_keys_calibration[];
extern const int th_n_keys_fuel, th_n_keys_money, th_n_keys_calibration;
extern const struct th_key th_keys_tank[], th_keys_contract[], th_keys_use[];
extern const int th_n_keys_tank, th_n_keys_contract, th_n_keys_use;
extern const struct th_key th_keys_choice[], th_keys_option[];
extern const int th_n_keys_choice, th_n_keys_option;

#endif
