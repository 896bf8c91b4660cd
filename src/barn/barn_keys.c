/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "barn_keys.h"

#include "nearest.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

static void start_surface(void *element)
{
    struct th_draft_surface *const surface = element;
    *surface = (struct th_draft_surface){0};
    th_surface_defaults(&surface->surface);
}

static void start_heater(void *element)
{
    struct th_draft_heater *const heater = element;
    *heater = (struct th_draft_heater){0};
    th_heater_defaults(&heater->heater);
}

static void start_turn(void *element)
{
    struct th_draft_turn *const turn = element;
    th_turn_defaults(&turn->turn);
}

static void start_pick(void *element)
{
    struct th_pick *const pick = element;
    *pick = (struct th_pick){.life_years = 10.0};
}

static void start_tank(void *element)
{
    th_tank_defaults(element);
}

static void start_contract(void *element)
{
    th_contract_defaults(element, TH_CONTRACT_SPOT);
}

static void start_use(void *element)
{
    *(struct th_use *)element = (struct th_use){0};
}

#define MANY(list, number, limit, begin)                                                           \
    .named = true, .count = offsetof(struct th_draft, number),                                     \
    .first = offsetof(struct th_draft, list), .stride = sizeof(((struct th_draft *)0)->list[0]),   \
    .most = (limit), .start = (begin)

static const struct th_section_kind kinds[] = {
    {.word = "room",
     .keys = th_keys_room,
     .n_keys = &th_n_keys_room,
     .help = "the room: one air space with its own pigs, fans and heaters"},
    {.word = "site",
     .keys = th_keys_site,
     .n_keys = &th_n_keys_site,
     .help = "where it stands, and the weather"},
    {.word = "surface",
     MANY(surfaces, n_surfaces, TH_SURFACES_MAX, start_surface),
     .keys = th_keys_surface,
     .n_keys = &th_n_keys_surface,
     .help = "a part of the shell: walls, ceiling, curtains, doors"},
    {.word = "air",
     .keys = th_keys_air,
     .n_keys = &th_n_keys_air,
     .help = "fans, inlets, leakage and air quality"},
    {.word = "pigs", .keys = th_keys_pigs, .n_keys = &th_n_keys_pigs, .help = "growth and heat"},
    {.word = "setpoints",
     .keys = th_keys_setpoints,
     .n_keys = &th_n_keys_setpoints,
     .help = "temperatures wanted"},
    {.word = "zone",
     .keys = th_keys_zone,
     .n_keys = &th_n_keys_zone,
     .help = "brooders over the pigs; without the section there are none"},
    {.word = "heater",
     MANY(heaters, n_heaters, TH_HEATERS_MAX, start_heater),
     .keys = th_keys_heater,
     .n_keys = &th_n_keys_heater,
     .help = "a group of equal room heaters under one control"},
    {.word = "turn",
     MANY(turns, n_turns, TH_TURNS_MAX, start_turn),
     .keys = th_keys_turn,
     .n_keys = &th_n_keys_turn,
     .help = "a group of pigs that comes every year"},
    {.word = "fuel",
     .farm = true,
     .keys = th_keys_fuel,
     .n_keys = &th_n_keys_fuel,
     .help = "gas and its price"},
    {.word = "money",
     .farm = true,
     .keys = th_keys_money,
     .n_keys = &th_n_keys_money,
     .help = "what payback needs"},
    {.word = "tank",
     .farm = true,
     MANY(tanks, n_tanks, TH_TANKS_MAX, start_tank),
     .keys = th_keys_tank,
     .n_keys = &th_n_keys_tank,
     .help = "a group of propane tanks"},
    {.word = "contract",
     .farm = true,
     MANY(contracts, n_contracts, TH_CONTRACTS_MAX, start_contract),
     .keys = th_keys_contract,
     .n_keys = &th_n_keys_contract,
     .help = "a way of buying"},
    {.word = "use",
     .farm = true,
     MANY(uses, n_uses, TH_USES_MAX, start_use),
     .keys = th_keys_use,
     .n_keys = &th_n_keys_use,
     .help = "another user of the same tanks, such as a grain dryer"},
    {.word = "choice",
     MANY(choices, n_choices, TH_PICKS_MAX, start_pick),
     .keys = th_keys_choice,
     .n_keys = &th_n_keys_choice,
     .help =
         "other heaters or settings to compare: keys of other sections, dotted, and their cost"},
    {.word = "option",
     MANY(options, n_options, TH_PICKS_MAX, start_pick),
     .keys = th_keys_option,
     .n_keys = &th_n_keys_option,
     .help = "something a builder may add: keys of other sections, dotted, and their cost"},
    {.word = "calibration",
     .keys = th_keys_calibration,
     .n_keys = &th_n_keys_calibration,
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

const struct th_key *th_key_find(const struct th_section_kind *kind, const char *name)
{
    for (int i = 0; i < *kind->n_keys; i++)
        if (strcmp(kind->keys[i].name, name) == 0)
            return &kind->keys[i];
    return NULL;
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
    for (int i = 0; i < *kind->n_keys; i++) {
        const int distance = th_nearest_distance(name, kind->keys[i].name);
        if (distance < least) {
            least = distance;
            best = kind->keys[i].name;
        }
    }
    return best && th_nearest_likely(best, least) ? best : NULL;
}

bool th_key_is_scalar(const struct th_key *key)
{
    return key->store <= TH_STORE_MONTH_DAY;
}

void th_draft_start(struct th_draft *draft)
{
    memset(draft, 0, sizeof *draft);
    th_room_defaults(&draft->room);
    th_price_defaults(&draft->price);
    draft->room.response.overshoot_out_c = 0.0;
    draft->air.derate = 1.0;
    snprintf(draft->slab_edge, sizeof draft->slab_edge, "uninsulated");
}
