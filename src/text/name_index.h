/* SPDX-License-Identifier: GPL-3.0-or-later */
/** Finds the number that was put under a section and a key, however many there are. */
#ifndef TURNHEAT_NAME_INDEX_H
#define TURNHEAT_NAME_INDEX_H

#include <stdbool.h>
#include <stddef.h>

struct th_name_slot {
    const char *section; /**< NULL: empty */
    const char *key;     /**< may be NULL */
    size_t value;
};

/** Owns its slots, not the names. All zero is empty. */
struct th_name_index {
    size_t n;
    size_t room; /**< a power of two, or 0 */
    struct th_name_slot *slots;
};

/** Puts `value` under the names, in place of what was there. False when memory is short. */
bool th_name_index_put(struct th_name_index *index, const char *section, const char *key,
                       size_t value);

/** Whether there is a value under the names; `value` receives it. */
bool th_name_index_get(const struct th_name_index *index, const char *section, const char *key,
                       size_t *value);

/** Frees and empties. */
void th_name_index_finish(struct th_name_index *index);

#endif
