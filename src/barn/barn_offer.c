/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_offer.h"

#include <string.h>

static bool is_of_kind(const char *section, const char *kind)
{
    const size_t length = strcspn(section, " ");
    return strlen(kind) == length && strncmp(section, kind, length) == 0;
}

static bool is_offered(const struct th_barn *barn, const char *section, unsigned options)
{
    for (int i = 0; i < barn->n_options; i++)
        if (strcmp(section + strlen("option "), barn->options[i].name) == 0)
            return options & 1u << i;
    return false;
}

static const struct th_entry *find(const struct th_barn_text *text, const char *section,
                                   const char *key)
{
    for (size_t i = text->n; i-- > 0;)
        if (text->entries[i].key && strcmp(text->entries[i].section, section) == 0 &&
            strcmp(text->entries[i].key, key) == 0)
            return &text->entries[i];
    return NULL;
}

static bool is_for_customer(const struct th_barn *barn, const char *section, unsigned options)
{
    static const char *const own[] = {"choice", "tank", "contract", "use"};
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        if (is_of_kind(section, own[i]))
            return false;
    if (is_of_kind(section, "option"))
        return is_offered(barn, section, options);
    return !is_of_kind(section, "record") || !find(&barn->text, section, "barns");
}

/* The line, unless it is the builder's own or a later one (of --set) holds in its place. */
static void write_line(const struct th_barn_text *text, const struct th_entry *entry, FILE *out)
{
    const bool cost =
        strcmp(entry->section, "money") == 0 && entry->key && strcmp(entry->key, "first_cost") == 0;
    if (entry->key && !cost && find(text, entry->section, entry->key) == entry)
        fprintf(out, "%s = %s\n", entry->key, entry->value);
}

static bool stood_before(const struct th_barn_text *text, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (strcmp(text->entries[i].section, text->entries[index].section) == 0)
            return true;
    return false;
}

void th_barn_offer(const struct th_barn *barn, unsigned options, FILE *out)
{
    const struct th_barn_text *const text = &barn->text;
    for (size_t i = 0; i < text->n; i++) {
        const char *const section = text->entries[i].section;
        if (stood_before(text, i) || !is_for_customer(barn, section, options))
            continue;
        fprintf(out, "%s[%s]\n", i ? "\n" : "", section);
        for (size_t k = i; k < text->n; k++)
            if (strcmp(text->entries[k].section, section) == 0)
                write_line(text, &text->entries[k], out);
    }
}
