/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn.h"

#include "barn_apply.h"
#include "barn_farm.h"
#include "barn_room.h"
#include "turnheat/variant.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void pick_section(char section[TH_SECTION_MAX], enum th_pick_kind kind,
                         const struct th_pick *pick)
{
    snprintf(section, TH_SECTION_MAX, "%s %.*s", kind == TH_PICK_CHOICE ? "choice" : "option",
             TH_SECTION_MAX - 8, pick->name);
}

/* Whether each says what it will be worth. */
static void mark_residuals(const struct th_apply *apply, enum th_pick_kind kind, int n,
                           struct th_pick *picks)
{
    char section[TH_SECTION_MAX];
    for (int i = 0; i < n; i++) {
        pick_section(section, kind, &picks[i]);
        picks[i].has_residual = th_apply_holds(apply, section, "residual");
    }
}

static enum th_code apply_text(struct th_apply *apply, const struct th_barn *barn,
                               const char *const *picks, int n_picks, struct th_draft *draft,
                               struct th_issues *issues)
{
    apply->text = &barn->text;
    apply->files = barn->files;
    apply->barn_path = barn->path;
    apply->farm_path = barn->farm_path[0] ? barn->farm_path : NULL;
    apply->draft = draft;
    apply->issues = issues;
    return th_apply(apply, picks, n_picks);
}

/* A draft is large, so it lives on the heap. */
static enum th_code interpret(const struct th_barn *barn, const char *const *picks, int n_picks,
                              struct th_room *room, struct th_draft *draft,
                              struct th_issues *issues)
{
    struct th_apply *const apply = calloc(1, sizeof *apply);
    if (!apply)
        return TH_ERR_MEMORY;
    enum th_code code = apply_text(apply, barn, picks, n_picks, draft, issues);
    if (code == TH_OK) {
        th_barn_room_make(apply, room);
        if (n_picks > 0 && th_response_keep(room, &barn->room, NULL) == TH_ERR_MEMORY)
            issues->memory_short = true;
        th_barn_room_review(apply, room);
        mark_residuals(apply, TH_PICK_CHOICE, draft->n_choices, draft->choices);
        mark_residuals(apply, TH_PICK_OPTION, draft->n_options, draft->options);
        if (issues->n_errors == 0)
            th_barn_farm_review(apply, room);
        code = issues->n_errors ? TH_ERR_INPUT : TH_OK;
    }
    th_apply_finish(apply);
    free(apply);
    return issues->memory_short ? TH_ERR_MEMORY : code;
}

static enum th_code variant(const struct th_barn *barn, const char *const *picks, int n_picks,
                            struct th_room *room, struct th_issues *issues)
{
    struct th_draft *const draft = calloc(1, sizeof *draft);
    if (!draft)
        return TH_ERR_MEMORY;
    const enum th_code code = interpret(barn, picks, n_picks, room, draft, issues);
    free(draft);
    return code;
}

static const struct th_pick *pick_of(const struct th_barn *barn, enum th_pick_kind kind, int index)
{
    return kind == TH_PICK_CHOICE ? &barn->choices[index] : &barn->options[index];
}

enum th_code th_barn_variant(const struct th_barn *barn, enum th_pick_kind kind, int index,
                             struct th_room *room, struct th_issues *issues)
{
    char section[TH_SECTION_MAX];
    const struct th_pick *const pick = pick_of(barn, kind, index);
    pick_section(section, kind, pick);
    const char *const picks[] = {section};
    snprintf(issues->scope, sizeof issues->scope, "with %s: ", section);
    const enum th_code code = variant(barn, picks, 1, room, issues);
    issues->scope[0] = '\0';
    return code;
}

enum th_code th_barn_with_options(const struct th_barn *barn, const int *indexes, int n,
                                  struct th_room *room, struct th_issues *issues)
{
    char sections[TH_PICKS_MAX][TH_SECTION_MAX];
    const char *picks[TH_PICKS_MAX];
    if (n > TH_PICKS_MAX)
        return TH_ERR_RANGE;
    for (int i = 0; i < n; i++) {
        pick_section(sections[i], TH_PICK_OPTION, &barn->options[indexes[i]]);
        picks[i] = sections[i];
    }
    return variant(barn, picks, n, room, issues);
}

enum th_code th_barn_changed(const struct th_barn *barn, const char *section, const char *key,
                             const char *value, struct th_room *room, struct th_issues *issues)
{
    struct th_barn *const changed = malloc(sizeof *changed);
    if (!changed)
        return TH_ERR_MEMORY;
    *changed = *barn;
    enum th_code code = th_barn_text_copy(&barn->text, &changed->text);
    if (code == TH_OK)
        code = th_barn_text_add(&changed->text, section, key, value, value, 1);
    if (code == TH_OK)
        code = variant(changed, NULL, 0, room, issues);
    th_barn_finish(changed);
    free(changed);
    return code;
}

/* "surface ceiling.R=40": what is before the last dot before the = is the section. */
static enum th_code add_set(struct th_barn *barn, const char *set, struct th_issues *issues)
{
    const char *const equals = strchr(set, '=');
    const char *dot = equals;
    while (dot && dot > set && *dot != '.')
        dot--;
    if (!equals || dot == set || dot + 1 >= equals || equals[1] == '\0' ||
        dot - set > TH_TEXT_SECTION_MAX) {
        const struct th_place place = {"--set", 0, 1, set};
        th_issues_error(issues, &place,
                        "this cannot be set; expected such as \"surface ceiling.R=40\""
                        ": section, dot, key, =, value");
        return TH_ERR_INPUT;
    }
    char section[TH_TEXT_SECTION_MAX + 1];
    char key[TH_NAME_MAX];
    snprintf(section, sizeof section, "%.*s", (int)(dot - set), set);
    snprintf(key, sizeof key, "%.*s", (int)(equals - dot - 1), dot + 1);
    const char *const value = equals + 1 + strspn(equals + 1, " ");
    return th_barn_text_add(&barn->text, section, key, value, set, (int)(value - set) + 1);
}

static enum th_code worse(enum th_code a, enum th_code b)
{
    if (a == TH_OK || a == b)
        return b;
    return a == TH_ERR_INPUT && b != TH_OK ? b : a;
}

static enum th_code read_texts(struct th_barn *barn, const char *const *sets, int n_sets,
                               struct th_issues *issues)
{
    enum th_code code = th_barn_text_read(&barn->text, barn->path, barn->files, issues);
    if (barn->farm_path[0])
        code = worse(code, th_barn_text_read(&barn->text, barn->farm_path, barn->files, issues));
    for (int i = 0; i < n_sets; i++)
        code = worse(code, add_set(barn, sets[i], issues));
    return code;
}

static bool stands_in_farm(const struct th_barn *barn, const char *name)
{
    char section[TH_SECTION_MAX];
    snprintf(section, sizeof section, "record %s", name);
    for (size_t i = 0; i < barn->text.n && barn->farm_path[0]; i++) {
        const struct th_entry *const entry = &barn->text.entries[i];
        if (!entry->key && strcmp(entry->section, section) == 0)
            return strcmp(entry->file, barn->farm_path) == 0;
    }
    return false;
}

static void take_draft(struct th_barn *barn, const struct th_draft *draft)
{
    barn->n_weather = draft->n_weather;
    memcpy(barn->weather, draft->weather, sizeof barn->weather);
    barn->n_choices = draft->n_choices;
    memcpy(barn->choices, draft->choices, sizeof barn->choices);
    barn->n_options = draft->n_options;
    memcpy(barn->options, draft->options, sizeof barn->options);
    barn->n_tanks = draft->n_tanks;
    memcpy(barn->tanks, draft->tanks, sizeof barn->tanks);
    barn->n_contracts = draft->n_contracts;
    memcpy(barn->contracts, draft->contracts, sizeof barn->contracts);
    barn->n_uses = draft->n_uses;
    memcpy(barn->uses, draft->uses, sizeof barn->uses);
    barn->n_records = draft->n_records;
    memcpy(barn->records, draft->records, sizeof barn->records);
    for (int i = 0; i < barn->n_records; i++)
        barn->records[i].from_farm = stands_in_farm(barn, barn->records[i].record.name);
    barn->quotation = draft->quotation;
    barn->n_lines = draft->n_lines;
    memcpy(barn->lines, draft->lines, sizeof barn->lines);
    barn->price = draft->price;
    const struct th_fuel *const fuel = &barn->room.fuel;
    barn->price.posted_usd_gal = fuel->has_price && fuel->gas == TH_PROPANE ? fuel->price : 0.0;
}

/* Errors of a variant count, its warnings are given again when it is run. */
static enum th_code check_variants(const struct th_barn *barn, enum th_pick_kind kind, int n,
                                   struct th_issues *issues)
{
    struct th_room *const room = calloc(1, sizeof *room);
    enum th_code code = room ? TH_OK : TH_ERR_MEMORY;
    for (int i = 0; i < n && (code == TH_OK || code == TH_ERR_INPUT); i++) {
        const int warnings = issues->n_warnings;
        code = worse(code, th_barn_variant(barn, kind, i, room, issues));
        th_issues_drop_warnings(issues, warnings);
    }
    free(room);
    return code;
}

enum th_code th_barn_read(struct th_files *files, const char *path, const char *farm_path,
                          const char *const *sets, int n_sets, struct th_barn *barn,
                          struct th_issues *issues)
{
    memset(barn, 0, sizeof *barn);
    barn->files = files;
    snprintf(barn->path, sizeof barn->path, "%s", path);
    snprintf(barn->farm_path, sizeof barn->farm_path, "%s", farm_path ? farm_path : "");
    enum th_code code = read_texts(barn, sets, n_sets, issues);
    if (code == TH_ERR_MEMORY || code == TH_ERR_READ)
        return code;
    struct th_draft *const draft = calloc(1, sizeof *draft);
    if (!draft)
        return TH_ERR_MEMORY;
    code = worse(code, interpret(barn, NULL, 0, &barn->room, draft, issues));
    if (code == TH_OK || code == TH_ERR_INPUT)
        take_draft(barn, draft);
    free(draft);
    if (issues->n_errors == 0 && code == TH_OK) {
        code = check_variants(barn, TH_PICK_CHOICE, barn->n_choices, issues);
        code = worse(code, check_variants(barn, TH_PICK_OPTION, barn->n_options, issues));
    }
    if (code == TH_OK && issues->n_errors)
        code = TH_ERR_INPUT;
    return code;
}

enum th_code th_barn_inputs(const struct th_barn *barn, th_barn_input_fn tell, void *context,
                            struct th_error *err)
{
    struct th_issues issues = {0};
    struct th_apply *const apply = calloc(1, sizeof *apply);
    struct th_draft *const draft = calloc(1, sizeof *draft);
    const enum th_code code =
        apply && draft ? apply_text(apply, barn, NULL, 0, draft, &issues) : TH_ERR_MEMORY;
    if (code == TH_OK)
        th_barn_inputs_tell(apply, tell, context);
    if (apply)
        th_apply_finish(apply);
    free(apply);
    free(draft);
    th_issues_finish(&issues);
    return code == TH_OK ? TH_OK : th_fail(err, code, "out of memory");
}

double th_pick_cost_usd(const struct th_pick *pick)
{
    return pick->cost_usd + pick->cost_usd_m2 * pick->area_m2;
}

struct th_purchase th_pick_purchase(const struct th_pick *pick)
{
    struct th_purchase purchase = {.cost_usd = th_pick_cost_usd(pick),
                                   .life_years = pick->life_years,
                                   .upkeep_usd_year = pick->upkeep_usd_year,
                                   .has_residual = pick->has_residual,
                                   .residual_share = pick->residual_share};
    snprintf(purchase.name, sizeof purchase.name, "%s", pick->name);
    snprintf(purchase.note, sizeof purchase.note, "%.150s", pick->note);
    snprintf(purchase.group, sizeof purchase.group, "%.40s", pick->group);
    return purchase;
}

void th_barn_finish(struct th_barn *barn)
{
    if (barn)
        th_barn_text_finish(&barn->text);
}
