/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_apply.h"

#include "barn_values.h"
#include "month_day.h"
#include "turnheat/nearest.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SECTIONS_COMPARED 128

static void mark_bad(struct th_apply *apply, const char *section)
{
    if (apply->n_bad < TH_ISSUES_MAX)
        snprintf(apply->bad[apply->n_bad++], TH_SECTION_MAX, "%s", section);
}

bool th_apply_is_bad(const struct th_apply *apply, const char *section)
{
    if (apply->n_bad >= TH_ISSUES_MAX)
        return true;
    for (int i = 0; i < apply->n_bad; i++)
        if (strcmp(apply->bad[i], section) == 0 || strcmp(apply->bad[i], "room") == 0)
            return true;
    return false;
}

void th_apply_error(struct th_apply *apply, const char *section, const char *key,
                    const char *format, ...)
{
    char text[600];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const struct th_place place = th_apply_place(apply, section, key);
    const bool in_section = place.source != NULL;
    th_issues_error(apply->issues, &place, "%s%s%s%s", in_section ? "" : "[",
                    in_section ? "" : section, in_section ? "" : "] ", text);
    mark_bad(apply, section);
}

void th_apply_error_at(struct th_apply *apply, const char *section, const struct th_place *place,
                       const char *format, ...)
{
    char text[600] = "";
    va_list args;
    va_start(args, format);
    if (!th_issues_are_full(apply->issues))
        vsnprintf(text, sizeof text, format, args);
    va_end(args);
    th_issues_error(apply->issues, place, "%s", text);
    mark_bad(apply, section);
}

/* --- sections --- */

static void header_error(struct th_apply *apply, const struct th_entry *header, const char *text)
{
    const struct th_place place = th_entry_key_place(header);
    th_issues_error(apply->issues, &place, "%s", text);
    mark_bad(apply, header->section);
}

static void unknown_section(struct th_apply *apply, const struct th_entry *header)
{
    char word[TH_SECTION_MAX];
    snprintf(word, sizeof word, "%s", header->section);
    word[strcspn(word, " ")] = '\0';
    const char *const nearest = th_section_kind_nearest(word);
    char text[400], all[TH_SECTION_WORDS_MAX];
    if (nearest)
        snprintf(text, sizeof text, "section [%s] is not known; did you mean [%s]?", word, nearest);
    else
        snprintf(text, sizeof text, "section [%s] is not known; expected %s", word,
                 th_section_words(all, false));
    header_error(apply, header, text);
}

static void *element_of(struct th_draft *draft, const struct th_section_kind *kind, int index)
{
    return (char *)draft + kind->first + (size_t)index * kind->stride;
}

static int count_of(const struct th_draft *draft, const struct th_section_kind *kind)
{
    return *(const int *)(const void *)((const char *)draft + kind->count);
}

/* What the section writes to, or NULL when it was not opened. The name is an element's first. */
static void *find_element(struct th_draft *draft, const char *section,
                          const struct th_section_kind **kind)
{
    const char *name = "";
    *kind = th_section_kind_of(section, &name);
    if (!*kind)
        return NULL;
    if (!(*kind)->named)
        return *name ? NULL : draft;
    for (int i = 0; i < count_of(draft, *kind); i++) {
        void *const element = element_of(draft, *kind, i);
        if (strcmp(element, name) == 0)
            return element;
    }
    return NULL;
}

static void add_element(struct th_apply *apply, const struct th_section_kind *kind,
                        const struct th_entry *header, const char *name)
{
    int *const count = (int *)(void *)((char *)apply->draft + kind->count);
    if (*count >= kind->most) {
        char text[120];
        snprintf(text, sizeof text, "there are too many [%s ...]; expected at most %d", kind->word,
                 kind->most);
        header_error(apply, header, text);
        return;
    }
    char *const element = element_of(apply->draft, kind, *count);
    kind->start(element);
    snprintf(element, TH_NAME_MAX, "%s", name);
    (*count)++;
}

static const struct th_entry *same_section_before(const struct th_apply *apply,
                                                  const struct th_entry *header)
{
    const struct th_entry *const first = th_barn_text_header(apply->text, header->section);
    return first < header ? first : NULL;
}

static void open_section(struct th_apply *apply, const struct th_entry *header)
{
    const char *name = "";
    const struct th_section_kind *const kind = th_section_kind_of(header->section, &name);
    char text[400];
    if (th_issues_are_full(apply->issues)) {
        header_error(apply, header, ""); /* only counted */
        return;
    }
    if (!kind) {
        unknown_section(apply, header);
        return;
    }
    if (apply->farm_path && strcmp(header->file, apply->farm_path) == 0 && !kind->farm) {
        char words[TH_SECTION_WORDS_MAX];
        snprintf(text, sizeof text, "this belongs in the barn file; a farm file holds %.300s",
                 th_section_words(words, true));
        header_error(apply, header, text);
        return;
    }
    if (kind->named == (*name == '\0')) {
        snprintf(text, sizeof text,
                 kind->named ? "the section needs a name of its own; expected [%s NAME]"
                             : "the section stands once and has no name; expected [%s]",
                 kind->word);
        header_error(apply, header, text);
        return;
    }
    const struct th_entry *const before = same_section_before(apply, header);
    if (before && kind->named) {
        snprintf(text, sizeof text, "[%s] is also given in %.200s, line %ld; expected it once",
                 header->section, before->file, before->line);
        header_error(apply, header, text);
        return;
    }
    if (kind->named)
        add_element(apply, kind, header, name);
}

/* --- settings --- */

/* Whether a setting of the key `name` counts more: one of a later source, and of --set also a later
 * one. */
static bool counts_more(const struct th_apply *apply, const char *name, size_t index)
{
    const struct th_setting *const setting = &apply->settings[index];
    size_t at = 0;
    return th_name_index_get(&apply->latest, setting->section, name, &at) && at > index &&
           (apply->settings[at].rank > setting->rank || setting->rank == 1);
}

/* Whether a setting that counts more says the same or excludes it. */
static bool is_overridden(const struct th_apply *apply, const struct th_section_kind *kind,
                          const struct th_parameter *key, size_t index)
{
    bool more = counts_more(apply, key->name, index);
    const struct th_parameter *other = NULL;
    while (!more && (other = th_key_rival(kind, key, other)))
        more = counts_more(apply, other->name, index);
    return more;
}

static void setting_error(struct th_apply *apply, const struct th_setting *setting,
                          const struct th_place *place, const char *text)
{
    th_apply_error_at(apply, setting->section, place, "%s", text);
}

/* Whether the key was given before in the other of barn file and farm file. */
static bool is_in_both(const struct th_apply *apply, const struct th_setting *setting)
{
    return setting->before != TH_NO_SETTING &&
           strcmp(apply->settings[setting->before].entry->file, setting->entry->file) != 0;
}

/* Both files may give a key if they say the same. */
static bool agrees(const struct th_setting *setting, const struct th_setting *before)
{
    return before->holds && setting->number == before->number &&
           (setting->parameter->store == TH_STORE_NUMBER ||
            setting->parameter->store == TH_STORE_WHOLE ||
            setting->parameter->store == TH_STORE_WORD);
}

/* An earlier setting of the same source that is of the same key, or of one that excludes it. */
static bool is_doubled(struct th_apply *apply, size_t index)
{
    const struct th_setting *const setting = &apply->settings[index];
    const bool same = setting->before != TH_NO_SETTING &&
                      setting->parameter->store != TH_STORE_WEATHER &&
                      apply->settings[setting->before].rank == setting->rank;
    const size_t at = same ? setting->before : setting->excluded;
    if (setting->rank == 1 || at == TH_NO_SETTING || apply->settings[at].rank != setting->rank)
        return false;
    const struct th_setting *const before = &apply->settings[at];
    const bool both = same && is_in_both(apply, setting);
    if (both && agrees(setting, before))
        return false;
    const struct th_place place = th_entry_key_place(setting->entry);
    char text[500] = "";
    if (!th_issues_are_full(apply->issues))
        snprintf(text, sizeof text, "%s %s%s in %.200s, line %ld; expected only one of them%s",
                 setting->key, same ? "is also given" : "excludes ", same ? "" : before->key,
                 before->entry->file, before->entry->line,
                 both ? ", or the same in both files" : "");
    setting_error(apply, setting, &place, text);
    return true;
}

static void unknown_key(struct th_apply *apply, const struct th_section_kind *kind,
                        const struct th_setting *setting)
{
    const bool shown = !th_issues_are_full(apply->issues);
    const char *const nearest = shown ? th_key_nearest(kind, setting->key) : NULL;
    char text[300];
    snprintf(text, sizeof text, "key %.60s is not known in [%s]%s%s%s", setting->key, kind->word,
             nearest ? "; did you mean "
                     : "; see docs/barn-file.md for its keys. Does its [section] line stand above "
                       "it, without a #?",
             nearest ? nearest : "", nearest ? "?" : "");
    const struct th_place place = th_entry_key_place(setting->entry);
    setting_error(apply, setting, &place, text);
}

/* What --set, choices and options may not touch. */
static const char *forbidden(const struct th_setting *setting, const struct th_section_kind *kind,
                             const struct th_parameter *key)
{
    if (setting->rank == 0)
        return NULL;
    if (!th_key_is_scalar(key))
        return "only single values can be changed this way; expected no table, path, list or name";
    static const char *const untouchable[] = {"choice", "option", "tank",       "contract",
                                              "use",    "record", "calibration"};
    for (size_t i = 0; setting->rank > 1 && i < sizeof untouchable / sizeof *untouchable; i++)
        if (strcmp(kind->word, untouchable[i]) == 0)
            return "choices and options change the room; expected a key of one of its sections";
    return NULL;
}

/* The section of the files with the name most like `name`, or NULL. */
static const char *nearest_section(const struct th_apply *apply, const char *name)
{
    const char *names[SECTIONS_COMPARED];
    size_t n = 0;
    for (size_t i = 0; i < apply->text->n && n < SECTIONS_COMPARED; i++)
        if (!apply->text->entries[i].key)
            names[n++] = apply->text->entries[i].section;
    return th_nearest(name, names, n);
}

/* A surface that `check` lists and no section of the file names: made from keys of [room]. */
static const char *made_from(const char *section)
{
    static const char *const made[][2] = {
        {"surface walls", "room.walls"},
        {"surface ceiling", "room.ceiling"},
        {"surface curtains", "room.curtain_height"},
        {"surface concrete", "room.concrete_height (0 ft: covered to the R of the wall above it)"},
        {"surface doors and fans", "room.doors"}};
    for (size_t i = 0; i < sizeof made / sizeof *made; i++)
        if (strcmp(section, made[i][0]) == 0)
            return made[i][1];
    return NULL;
}

static void missing_section(struct th_apply *apply, const struct th_setting *setting)
{
    if (setting->rank == 0)
        return; /* its header was complained about */
    const char *const nearest = nearest_section(apply, setting->section);
    const char *const from = made_from(setting->section);
    char text[300];
    if (from)
        snprintf(text, sizeof text,
                 "there is no section [%s] in the file, it is made from [room]; expected %s",
                 setting->section, from);
    else
        snprintf(text, sizeof text, "there is no section [%s] in the file%s%s%s", setting->section,
                 nearest ? "; did you mean [" : "", nearest ? nearest : "", nearest ? "]?" : "");
    const struct th_place place = th_entry_key_place(setting->entry);
    setting_error(apply, setting, &place, text);
}

/* A file whose room is measured in metres: where people write the day before the month. */
static bool is_metric(const struct th_apply *apply)
{
    for (size_t i = 0; i < apply->n; i++) {
        const struct th_setting *const setting = &apply->settings[i];
        const char *const value = setting->entry->value;
        const size_t length = value ? strlen(value) : 0;
        if (strcmp(setting->section, "room") == 0 && length > 0 && value[length - 1] == 'm' &&
            (strcmp(setting->key, "length") == 0 || strcmp(setting->key, "width") == 0 ||
             strcmp(setting->key, "height") == 0))
            return true;
    }
    return false;
}

/* "03/04" in a metric file: refused with both readings. */
static bool has_two_readings(const struct th_apply *apply, const struct th_parameter *key,
                             const char *value, struct th_error *err)
{
    int month_first, day_first;
    if ((key->store != TH_STORE_MONTH_DAY && key->store != TH_STORE_DATE) || !is_metric(apply) ||
        !th_month_day_two_readings(value, &month_first, &day_first))
        return false;
    th_fail(err, TH_ERR_INPUT,
            "this may mean %02d-%02d or %02d-%02d (month-day) in a file with metres; expected one "
            "of these, or the month as a word",
            month_first / 100, month_first % 100, day_first / 100, day_first % 100);
    return true;
}

static void apply_setting(struct th_apply *apply, size_t index)
{
    struct th_setting *const setting = &apply->settings[index];
    const struct th_section_kind *kind = NULL;
    void *const element = find_element(apply->draft, setting->section, &kind);
    if (!setting->entry->value) {
        mark_bad(apply, setting->section);
        return;
    }
    if (!element) {
        missing_section(apply, setting);
        return;
    }
    const struct th_parameter *const key = setting->parameter;
    if (!key) {
        unknown_key(apply, kind, setting);
        return;
    }
    struct th_place place = th_entry_value_place(setting->entry);
    const char *const wrong = forbidden(setting, kind, key);
    if (wrong) {
        setting_error(apply, setting, &place, wrong);
        return;
    }
    const bool both = is_in_both(apply, setting);
    if (is_overridden(apply, kind, key, index) || (!both && is_doubled(apply, index)))
        return;
    struct th_error err = {0};
    const char *const value = setting->entry->value;
    const bool right =
        !has_two_readings(apply, key, value, &err) &&
        th_value_set(key, value, setting->entry->file, th_key_struct(kind, key, element),
                     apply->draft, &setting->number, &err) == TH_OK;
    if (!right) {
        place.column += err.column > 0 ? err.column - 1 : 0;
        setting_error(apply, setting, &place, err.text);
        return;
    }
    setting->holds = !both || !is_doubled(apply, index);
    if (setting->holds && !key->has_place && !th_parameter_is_usual(key, setting->number))
        th_issues_warning(apply->issues, &place, "%s",
                          th_parameter_doubt(key, setting->number).text);
}

/* --- what must be there --- */

static void check_needed(struct th_apply *apply, const struct th_section_kind *kind,
                         const char *section)
{
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        if (key->needed && !th_apply_has(apply, section, key->name))
            th_apply_error(apply, section, "", "%s is missing: %s", key->name, key->help);
}

static void check_all_needed(struct th_apply *apply)
{
    int n = 0;
    const struct th_section_kind *const kinds = th_section_kinds(&n);
    for (int i = 0; i < n; i++) {
        const struct th_section_kind *const kind = &kinds[i];
        const bool used =
            th_barn_text_header(apply->text, kind->word) || th_apply_has(apply, kind->word, NULL);
        if (!kind->named && used)
            check_needed(apply, kind, kind->word);
        for (int k = 0; kind->named && k < count_of(apply->draft, kind); k++) {
            char section[TH_SECTION_MAX + TH_NAME_MAX];
            snprintf(section, sizeof section, "%s %s", kind->word,
                     (const char *)element_of(apply->draft, kind, k));
            check_needed(apply, kind, section);
        }
    }
}

enum th_code th_apply(struct th_apply *apply, const char *const *picks, int n_picks)
{
    th_draft_start(apply->draft);
    for (size_t i = 0; i < apply->text->n; i++)
        if (!apply->text->entries[i].key)
            open_section(apply, &apply->text->entries[i]);
    const enum th_code code = th_apply_collect(apply, picks, n_picks);
    if (code != TH_OK)
        return code;
    for (size_t i = 0; i < apply->n; i++)
        apply_setting(apply, i);
    check_all_needed(apply);
    return TH_OK;
}

void th_apply_finish(struct th_apply *apply)
{
    for (size_t i = 0; i < apply->n; i++)
        if (apply->settings[i].section != apply->settings[i].entry->section)
            free(apply->settings[i].section);
    free(apply->settings);
    th_name_index_finish(&apply->latest);
    apply->settings = NULL;
    apply->n = apply->room = 0;
}
