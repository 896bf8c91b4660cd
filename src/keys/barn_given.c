/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was given for a key, and where: asked by those who make a room of it. */
#include "barn_apply.h"

#include "barn_values.h"

#include <stdio.h>
#include <string.h>

/* The last setting of the key (NULL: of any key of the section), or NULL. */
static const struct th_setting *find_setting(const struct th_apply *apply, const char *section,
                                             const char *key)
{
    size_t at = 0;
    return th_name_index_get(&apply->latest, section, key, &at) ? &apply->settings[at] : NULL;
}

bool th_apply_has(const struct th_apply *apply, const char *section, const char *key)
{
    return find_setting(apply, section, key) != NULL;
}

/* The setting that holds, or NULL. */
static const struct th_setting *find_holding(const struct th_apply *apply, const char *section,
                                             const char *key)
{
    const struct th_setting *setting = find_setting(apply, section, key);
    while (setting && !setting->holds)
        setting = setting->before == TH_NO_SETTING ? NULL : &apply->settings[setting->before];
    return setting;
}

bool th_apply_holds(const struct th_apply *apply, const char *section, const char *key)
{
    return find_holding(apply, section, key) != NULL;
}

static const struct th_parameter *row_of(const char *section, const char *key)
{
    const char *name;
    return th_key_find(th_section_kind_of(section, &name), key);
}

double th_apply_number(const struct th_apply *apply, const char *section, const char *key)
{
    const struct th_setting *const setting = find_holding(apply, section, key);
    return setting ? setting->number : row_of(section, key)->initial.si;
}

struct th_apply_text th_apply_text(const struct th_apply *apply, const char *section,
                                   const char *key)
{
    struct th_apply_text text = {.text = ""};
    const struct th_setting *const setting = find_holding(apply, section, key);
    const struct th_parameter *const row = row_of(section, key);
    if (setting && row->store != TH_STORE_WORD)
        snprintf(text.text, sizeof text.text, "%s", setting->entry->value);
    else if (setting || row->initial.given)
        snprintf(text.text, sizeof text.text, "%s",
                 th_amount_text(
                     row, (struct th_amount){.si = setting ? setting->number : row->initial.si,
                                             .unit = row->initial.unit})
                     .text);
    return text;
}

bool th_apply_path(const struct th_apply *apply, const char *section, const char *key,
                   char path[TH_PATH_MAX])
{
    const struct th_setting *const setting = find_holding(apply, section, key);
    return setting && th_path_beside(setting->entry->file, setting->entry->value, path);
}

struct th_place th_apply_place(const struct th_apply *apply, const char *section, const char *key)
{
    const struct th_setting *const setting = key && *key ? find_setting(apply, section, key) : NULL;
    if (setting)
        return th_entry_value_place(setting->entry);
    const struct th_entry *const header = th_barn_text_header(apply->text, section);
    if (header)
        return th_entry_key_place(header);
    return (struct th_place){.file = apply->barn_path};
}
