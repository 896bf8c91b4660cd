/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_keys.h"

#include "turnheat/nearest.h"
#include "parameters_farm.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

static void start_surface(void *element)
{
    th_surface_defaults(element);
}

static void start_heater(void *element)
{
    th_heater_defaults(element);
}

static void start_turn(void *element)
{
    th_turn_defaults(element);
}

static void start_pick(void *element)
{
    *(struct th_pick *)element = (struct th_pick){0};
    th_parameters_start(&th_parameters_pick, element);
    th_parameters_start(&th_parameters_option, element);
}

static void start_tank(void *element)
{
    th_tank_defaults(element);
}

static void start_contract(void *element)
{
    th_contract_defaults(element, TH_CONTRACT_SPOT);
}

static void start_line(void *element)
{
    *(struct th_quote_line *)element = (struct th_quote_line){0};
}

static void start_use(void *element)
{
    *(struct th_use *)element = (struct th_use){0};
}

static void start_record(void *element)
{
    *(struct th_barn_record *)element = (struct th_barn_record){0};
    th_parameters_start(&th_parameters_record, element);
}

#define MANY(list, number, limit, begin)                                                           \
    .named = true, .count = offsetof(struct th_draft, number),                                     \
    .first = offsetof(struct th_draft, list), .stride = sizeof(((struct th_draft *)0)->list[0]),   \
    .most = (limit), .start = (begin)

static const struct th_section_kind kinds[] = {
    {.word = "room",
     .lists = {&th_parameters_room},
     .help = "the room: one air space with its own pigs, fans and heaters"},
    {.word = "site", .lists = {&th_parameters_site}, .help = "where it stands, and the weather"},
    {.word = "surface",
     MANY(surfaces, n_surfaces, TH_SURFACES_MAX, start_surface),
     .lists = {&th_parameters_surface},
     .help = "a part of the shell: walls, ceiling, curtains, doors"},
    {.word = "air", .lists = {&th_parameters_air}, .help = "fans, inlets, leakage and air quality"},
    {.word = "pigs", .lists = {&th_parameters_pigs}, .help = "growth and heat"},
    {.word = "setpoints", .lists = {&th_parameters_setpoints}, .help = "temperatures wanted"},
    {.word = "zone",
     .optional = true,
     .lists = {&th_parameters_zone},
     .help = "brooders over the pigs; without the section there are none"},
    {.word = "heater",
     MANY(heaters, n_heaters, TH_HEATERS_MAX, start_heater),
     .lists = {&th_parameters_heater},
     .help = "a group of equal room heaters under one control"},
    {.word = "turn",
     MANY(turns, n_turns, TH_TURNS_MAX, start_turn),
     .lists = {&th_parameters_turn},
     .help = "a group of pigs that comes every year"},
    {.word = "fuel",
     .farm = true,
     .lists = {&th_parameters_fuel, &th_parameters_price},
     .bases = {0, offsetof(struct th_draft, price)},
     .help = "gas and its price"},
    {.word = "money", .farm = true, .lists = {&th_parameters_money}, .help = "what payback needs"},
    {.word = "tank",
     .farm = true,
     MANY(tanks, n_tanks, TH_TANKS_MAX, start_tank),
     .lists = {&th_parameters_tank},
     .help = "a group of propane tanks"},
    {.word = "contract",
     .farm = true,
     MANY(contracts, n_contracts, TH_CONTRACTS_MAX, start_contract),
     .lists = {&th_parameters_contract},
     .help = "a way of buying"},
    {.word = "use",
     .farm = true,
     MANY(uses, n_uses, TH_USES_MAX, start_use),
     .lists = {&th_parameters_use},
     .help = "another user of the same tanks, such as a grain dryer"},
    {.word = "record",
     .farm = true,
     MANY(records, n_records, TH_RECORDS_MAX, start_record),
     .lists = {&th_parameters_record},
     .help = "a past season's propane: narrows every range"},
    {.word = "choice",
     MANY(choices, n_choices, TH_PICKS_MAX, start_pick),
     .lists = {&th_parameters_pick},
     .help =
         "other heaters or settings to compare: keys of other sections, dotted, and their cost"},
    {.word = "option",
     MANY(options, n_options, TH_PICKS_MAX, start_pick),
     .lists = {&th_parameters_pick, &th_parameters_option},
     .help = "something a builder may add: keys of other sections, dotted, and their cost"},
    {.word = "quotation",
     .farm = true,
     .optional = true,
     .lists = {&th_parameters_quotation},
     .bases = {offsetof(struct th_draft, quotation)},
     .help = "what stands on the quotation"},
    {.word = "line",
     .farm = true,
     MANY(lines, n_lines, TH_QUOTE_LINES_MAX, start_line),
     .lists = {&th_parameters_line},
     .help = "a line of the builder's own on the quotation"},
    {.word = "calibration",
     .optional = true,
     .lists = {&th_parameters_calibration},
     .help = "printed by `turnheat calibrate`, to paste"},
};

#define KINDS ((int)(sizeof kinds / sizeof kinds[0]))

const struct th_section_kind *th_section_kinds(int *n)
{
    *n = KINDS;
    return kinds;
}

const struct th_section_kind *th_section_kind_of(const char *section, const char **name)
{
    const size_t length = strcspn(section, " ");
    *name = section[length] ? section + length + 1 : "";
    for (int i = 0; i < KINDS; i++)
        if (strlen(kinds[i].word) == length && strncmp(kinds[i].word, section, length) == 0)
            return &kinds[i];
    return NULL;
}

/* The list the key with the number `i` stands in; `i` is then counted in that list. */
static const struct th_parameters *list_of(const struct th_section_kind *kind, int *i)
{
    for (int l = 0; l < TH_SECTION_LISTS && kind->lists[l]; l++) {
        if (*i < kind->lists[l]->n)
            return kind->lists[l];
        *i -= kind->lists[l]->n;
    }
    return NULL;
}

const struct th_parameter *th_section_key(const struct th_section_kind *kind, int i)
{
    const struct th_parameters *const list = list_of(kind, &i);
    return list ? &list->rows[i] : NULL;
}

const struct th_parameter *th_key_find(const struct th_section_kind *kind, const char *name)
{
    for (int l = 0; l < TH_SECTION_LISTS && kind->lists[l]; l++)
        for (int i = 0; i < kind->lists[l]->n; i++)
            if (strcmp(kind->lists[l]->rows[i].name, name) == 0)
                return &kind->lists[l]->rows[i];
    return NULL;
}

void *th_key_struct(const struct th_section_kind *kind, const struct th_parameter *key,
                    void *element)
{
    const struct th_parameters *const first = kind->lists[0];
    const int l = key >= first->rows && key < first->rows + first->n ? 0 : 1;
    return (char *)element + kind->bases[l];
}

const char *th_section_kind_nearest(const char *word)
{
    const char *best = NULL;
    int least = INT_MAX;
    for (int i = 0; i < KINDS; i++) {
        const int distance = th_nearest_distance(word, kinds[i].word);
        if (distance < least) {
            least = distance;
            best = kinds[i].word;
        }
    }
    return best && th_nearest_likely(best, least) ? best : NULL;
}

const char *th_key_nearest(const struct th_section_kind *kind, const char *name)
{
    const char *best = NULL;
    int least = INT_MAX;
    const struct th_parameter *key;
    for (int i = 0; (key = th_section_key(kind, i)); i++) {
        const int distance = th_nearest_distance(name, key->name);
        if (distance < least) {
            least = distance;
            best = key->name;
        }
    }
    return best && th_nearest_likely(best, least) ? best : NULL;
}

const struct th_parameter *th_key_rival(const struct th_section_kind *kind,
                                        const struct th_parameter *key,
                                        const struct th_parameter *last)
{
    bool past = !last;
    for (int l = 0; key->group && l < TH_SECTION_LISTS && kind->lists[l]; l++)
        for (int i = 0; i < kind->lists[l]->n; i++) {
            const struct th_parameter *const other = &kind->lists[l]->rows[i];
            if (past && other != key && other->group == key->group)
                return other;
            past = past || other == last;
        }
    return NULL;
}

bool th_key_is_scalar(const struct th_parameter *key)
{
    const bool word = key->store == TH_STORE_NAME || key->store == TH_STORE_NOTE;
    return key->store <= TH_STORE_DATE || (word && key->group);
}

void th_draft_start(struct th_draft *draft)
{
    memset(draft, 0, sizeof *draft);
    th_room_defaults(&draft->room);
    th_price_defaults(&draft->price);
    th_parameters_start(&th_parameters_quotation, &draft->quotation);
}

const char *th_section_words(char text[TH_SECTION_WORDS_MAX], bool farm)
{
    int n = 0, last = -1;
    const struct th_section_kind *const list = th_section_kinds(&n);
    size_t used = 0;
    for (int i = 0; i < n; i++)
        last = !farm || list[i].farm ? i : last;
    for (int i = 0; i <= last && used < TH_SECTION_WORDS_MAX; i++)
        if (!farm || list[i].farm)
            used += (size_t)snprintf(text + used, TH_SECTION_WORDS_MAX - used, "%s%s",
                                     used == 0   ? ""
                                     : i == last ? " or "
                                                 : ", ",
                                     list[i].word);
    return text;
}
