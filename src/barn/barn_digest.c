/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_digest.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

/* Hexadecimal digits of a section. */
#define DIGITS 4

static const char *const sections[] = {"room", "site",      "surface", "air",
                                       "pigs", "setpoints", "zone",    "heater"};
#define SECTIONS (sizeof sections / sizeof *sections)

/* FNV-1a. */
static uint32_t mix(uint32_t hash, const char *text)
{
    for (; *text; text++)
        hash = (hash ^ (unsigned char)*text) * 16777619u;
    return (hash ^ '\n') * 16777619u;
}

static uint32_t mix_table(uint32_t hash, const struct th_table *table)
{
    for (int i = 0; i < table->n; i++) {
        char text[64];
        snprintf(text, sizeof text, "%.6g %.6g", table->x[i], table->y[i]);
        hash = mix(hash, text);
    }
    return hash;
}

static uint32_t mix_tables(uint32_t hash, const char *section, const struct th_room *room)
{
    if (strcmp(section, "air") == 0)
        return mix_table(hash, &room->air.minimum_m3_s);
    if (strcmp(section, "pigs") == 0)
        return mix_table(hash, &room->pigs.weight_kg);
    if (strcmp(section, "setpoints") == 0)
        return mix_table(hash, &room->setpoints.set_c);
    return hash;
}

/* A name is no number, and files of further years may be added. --set stands in no line. */
static bool counts(const struct th_entry *entry, const char *section, bool sets)
{
    const size_t length = strlen(section);
    return (sets || entry->line > 0) && entry->key && entry->value &&
           strncmp(entry->section, section, length) == 0 &&
           (entry->section[length] == '\0' || entry->section[length] == ' ') &&
           strcmp(entry->key, "name") != 0 && strcmp(entry->key, "weather") != 0;
}

void th_barn_digest(const struct th_barn_text *text, const struct th_room *room, bool sets,
                    char digest[TH_NAME_MAX])
{
    for (size_t s = 0; s < SECTIONS; s++) {
        uint32_t hash = 2166136261u;
        for (size_t i = 0; i < text->n; i++) {
            const struct th_entry *entry = &text->entries[i];
            if (!counts(entry, sections[s], sets))
                continue;
            hash = mix(hash, entry->section);
            hash = mix(hash, entry->key);
            hash = mix(hash, entry->value);
        }
        hash = mix_tables(hash, sections[s], room);
        snprintf(digest + s * DIGITS, DIGITS + 1, "%04x", (unsigned)((hash >> 16) ^ hash) & 0xffff);
    }
}

const char *th_barn_digest_differs(const char *now, const char *then)
{
    if (strlen(then) != SECTIONS * DIGITS)
        return sections[0];
    for (size_t s = 0; s < SECTIONS; s++)
        if (strncmp(now + s * DIGITS, then + s * DIGITS, DIGITS) != 0)
            return sections[s];
    return NULL;
}
