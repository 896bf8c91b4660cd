/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "name_index.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_ROOM 64

/* FNV-1a. */
static uint32_t mix(uint32_t hash, const char *name)
{
    for (; name && *name; name++)
        hash = (hash ^ (unsigned char)*name) * 16777619u;
    return hash;
}

static bool same_name(const char *a, const char *b)
{
    return a == b || (a && b && strcmp(a, b) == 0);
}

static bool same(const struct th_name_slot *slot, const char *section, const char *key)
{
    return same_name(slot->section, section) && same_name(slot->key, key);
}

/* The slot of the names, or the empty one where they belong. Open addressing, at most half full. */
static struct th_name_slot *slot_of(struct th_name_slot *slots, size_t room, const char *section,
                                    const char *key)
{
    const uint32_t hash = mix(mix(2166136261u, section) * 31u, key);
    size_t at = hash & (room - 1);
    while (slots[at].section && !same(&slots[at], section, key))
        at = (at + 1) & (room - 1);
    return &slots[at];
}

static bool grow(struct th_name_index *index)
{
    const size_t room = index->room ? 2 * index->room : FIRST_ROOM;
    struct th_name_slot *const slots = calloc(room, sizeof *slots);
    if (!slots)
        return false;
    for (size_t i = 0; i < index->room; i++) {
        const struct th_name_slot *const old = &index->slots[i];
        if (old->section)
            *slot_of(slots, room, old->section, old->key) = *old;
    }
    free(index->slots);
    index->slots = slots;
    index->room = room;
    return true;
}

bool th_name_index_put(struct th_name_index *index, const char *section, const char *key,
                       size_t value)
{
    if (2 * index->n >= index->room && !grow(index))
        return false;
    struct th_name_slot *const slot = slot_of(index->slots, index->room, section, key);
    index->n += !slot->section;
    *slot = (struct th_name_slot){section, key, value};
    return true;
}

bool th_name_index_get(const struct th_name_index *index, const char *section, const char *key,
                       size_t *value)
{
    if (index->room == 0)
        return false;
    const struct th_name_slot *const slot = slot_of(index->slots, index->room, section, key);
    if (slot->section)
        *value = slot->value;
    return slot->section != NULL;
}

void th_name_index_finish(struct th_name_index *index)
{
    free(index->slots);
    *index = (struct th_name_index){0};
}
