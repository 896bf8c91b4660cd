/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_inputs.h"

#include "barn_doc.h"
#include "month_day.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* One telling. */
struct telling {
    const struct th_apply *apply;
    th_barn_input_fn tell;
    void *context;
};

static void write_value(const struct telling *t, const char *section,
                        const struct th_parameter *key, struct th_apply_text *value)
{
    int month_day = 0, year = 0;
    const int n_weather = t->apply->draft->n_weather;
    *value = th_apply_text(t->apply, section, key->name);
    if (key->store == TH_STORE_WEATHER && n_weather > 1) {
        const size_t length = strlen(value->text);
        snprintf(value->text + length, sizeof value->text - length, " and %d more", n_weather - 1);
    }
    if (key->store == TH_STORE_NUMBER || key->store == TH_STORE_WHOLE)
        snprintf(value->text, sizeof value->text, "%s",
                 th_parameter_text(key, th_apply_number(t->apply, section, key->name)).text);
    else if ((key->store == TH_STORE_MONTH_DAY || key->store == TH_STORE_DATE) &&
             th_month_day_year_read(value->text, &month_day, &year)) {
        const bool dated = key->store == TH_STORE_DATE && year > 0;
        const int at = dated ? snprintf(value->text, sizeof value->text, "%04d-", year) : 0;
        snprintf(value->text + at, sizeof value->text - (size_t)at, "%02d-%02d", month_day / 100,
                 month_day % 100);
    }
}

/* Whether another key of its group is given, so that this one is not in force. */
static bool is_excluded(const struct telling *t, const struct th_section_kind *kind,
                        const char *section, const struct th_parameter *key)
{
    const struct th_parameter *other = NULL;
    while ((other = th_key_rival(kind, key, other)))
        if (th_apply_holds(t->apply, section, other->name))
            return true;
    return false;
}

static void tell_key(const struct telling *t, const struct th_section_kind *kind,
                     const char *section, const struct th_parameter *key)
{
    char name[TH_SECTION_MAX + TH_NAME_MAX];
    const bool counts = key->store == TH_STORE_NUMBER || key->store == TH_STORE_WHOLE;
    struct th_barn_input input = {.name = name, .section = section, .key = key, .number = NAN};
    snprintf(name, sizeof name, "%s.%s", section, key->name);
    input.given = th_apply_holds(t->apply, section, key->name);
    if (input.given) {
        struct th_apply_text value;
        const struct th_apply_text written = th_apply_text(t->apply, section, key->name);
        write_value(t, section, key, &value);
        input.value = value.text;
        input.place = th_apply_place(t->apply, section, key->name);
        input.written = written.text;
        if (counts)
            input.number = th_apply_number(t->apply, section, key->name);
        t->tell(t->context, &input);
    } else if ((key->initial.given || key->otherwise) && !is_excluded(t, kind, section, key)) {
        const struct th_key_text standard = th_key_default(key);
        input.value = standard.text;
        input.source = key->source;
        if (counts && key->initial.given)
            input.number = key->initial.si;
        t->tell(t->context, &input);
    }
}

static void tell_section(const struct telling *t, const struct th_section_kind *kind,
                         const char *section)
{
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++)
        tell_key(t, kind, section, key);
}

/* Sections of buying, choices and offers have reports of their own. */
static bool makes_room(const struct th_section_kind *kind)
{
    static const char *const others[] = {"choice", "option", "quotation"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(kind->word, others[i]) == 0)
            return false;
    return !kind->named || !kind->farm;
}

static void tell_elements(const struct telling *t, const struct th_section_kind *kind)
{
    const char *name;
    for (size_t i = 0; i < t->apply->text->n; i++) {
        const struct th_entry *const header = &t->apply->text->entries[i];
        if (!header->key && th_section_kind_of(header->section, &name) == kind)
            tell_section(t, kind, header->section);
    }
}

void th_barn_inputs_tell(const struct th_apply *apply, th_barn_input_fn tell, void *context)
{
    const struct telling t = {apply, tell, context};
    int n = 0;
    const struct th_section_kind *const kinds = th_section_kinds(&n);
    for (int i = 0; i < n; i++) {
        if (!makes_room(&kinds[i]))
            continue;
        if (kinds[i].named)
            tell_elements(&t, &kinds[i]);
        else if (!kinds[i].optional || th_apply_has(apply, kinds[i].word, NULL))
            tell_section(&t, &kinds[i], kinds[i].word);
    }
}
