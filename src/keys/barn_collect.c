/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the lines of the files, --set and the picks set, in their order. */
#include "barn_apply.h"

#include <stdlib.h>
#include <string.h>

/* The last setting so far of a key that `setting` excludes. */
static size_t latest_excluded(const struct th_apply *apply, const struct th_setting *setting,
                              const struct th_section_kind *kind)
{
    const struct th_parameter *const key = setting->parameter;
    const struct th_parameter *other = NULL;
    size_t latest = TH_NO_SETTING;
    while (key && (other = th_key_rival(kind, key, other))) {
        size_t at = 0;
        if (th_name_index_get(&apply->latest, setting->section, other->name, &at) &&
            (latest == TH_NO_SETTING || at > latest))
            latest = at;
    }
    return latest;
}

static enum th_code add_setting(struct th_apply *apply, const struct th_entry *entry, char *section,
                                const char *key, int rank)
{
    if (!apply->settings || apply->n == apply->room) {
        const size_t room = apply->room ? 2 * apply->room : 64;
        struct th_setting *const larger = realloc(apply->settings, room * sizeof *larger);
        if (!larger)
            return TH_ERR_MEMORY;
        apply->settings = larger;
        apply->room = room;
    }
    const char *own;
    const struct th_section_kind *const kind = th_section_kind_of(section, &own);
    struct th_setting *const setting = &apply->settings[apply->n];
    *setting = (struct th_setting){.entry = entry,
                                   .section = section,
                                   .key = key,
                                   .parameter = kind ? th_key_find(kind, key) : NULL,
                                   .rank = rank,
                                   .before = TH_NO_SETTING};
    setting->excluded = latest_excluded(apply, setting, kind);
    th_name_index_get(&apply->latest, section, key, &setting->before);
    apply->n++;
    const bool is_first = setting->before == TH_NO_SETTING;
    return th_name_index_put(&apply->latest, section, key, apply->n - 1) &&
                   (!is_first || th_name_index_put(&apply->latest, section, NULL, apply->n - 1))
               ? TH_OK
               : TH_ERR_MEMORY;
}

static bool is_pick_section(const char *section)
{
    return strncmp(section, "choice ", 7) == 0 || strncmp(section, "option ", 7) == 0;
}

/* Entries of the files and of --set as they stand, dotted keys left for the picks. */
static enum th_code collect_plain(struct th_apply *apply)
{
    for (size_t i = 0; i < apply->text->n; i++) {
        const struct th_entry *const entry = &apply->text->entries[i];
        if (!entry->key || (is_pick_section(entry->section) && strchr(entry->key, '.')))
            continue;
        const int rank = entry->line == 0 ? 1 : 0;
        const enum th_code code = add_setting(apply, entry, entry->section, entry->key, rank);
        if (code != TH_OK)
            return code;
    }
    return TH_OK;
}

/* The dotted keys of one choice or option: "heater main.control" is key control of [heater main].
 */
static enum th_code collect_pick(struct th_apply *apply, const char *pick, int rank)
{
    for (size_t i = 0; i < apply->text->n; i++) {
        const struct th_entry *const entry = &apply->text->entries[i];
        const char *const dot = entry->key ? strrchr(entry->key, '.') : NULL;
        if (!dot || strcmp(entry->section, pick) != 0)
            continue;
        char *const section = strndup(entry->key, (size_t)(dot - entry->key));
        if (!section)
            return TH_ERR_MEMORY;
        const size_t before = apply->n;
        const enum th_code code = add_setting(apply, entry, section, dot + 1, rank);
        if (apply->n == before)
            free(section);
        if (code != TH_OK)
            return code;
    }
    return TH_OK;
}

enum th_code th_apply_collect(struct th_apply *apply, const char *const *picks, int n_picks)
{
    enum th_code code = collect_plain(apply);
    for (int i = 0; i < n_picks && code == TH_OK; i++)
        code = collect_pick(apply, picks[i], 2 + i);
    return code;
}
