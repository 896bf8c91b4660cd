/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What the keys of a barn file write to, before it is made into a struct th_room: the room's own
 * values, and beside them what first has to be worked out (layers, catalogue air flows, tables).
 */
#ifndef TURNHEAT_BARN_DRAFT_H
#define TURNHEAT_BARN_DRAFT_H

#include "barn_text.h"
#include "turnheat/contract.h"
#include "turnheat/price.h"
#include "turnheat/room.h"
#include "turnheat/tank.h"

#define TH_PATH_MAX 512
#define TH_WEATHER_MAX 64
#define TH_PICKS_MAX 16
#define TH_TANKS_MAX 8
#define TH_CONTRACTS_MAX 12
#define TH_USES_MAX 8
#define TH_NOTE_MAX (TH_TEXT_LINE_MAX + 1)

struct th_draft_surface {
    struct th_surface surface;
    bool has_r;
    char layers[TH_NOTE_MAX];
    double framing;
    char assembly[TH_NAME_MAX];
};

struct th_draft_heater {
    struct th_heater heater;
    bool has_turndown;
    bool has_blower;
};

struct th_draft_turn {
    struct th_turn_plan turn;
};

/** What a choice or option costs; what it changes are the section's dotted keys. */
struct th_pick {
    char name[TH_NAME_MAX];
    char note[TH_NOTE_MAX];
    double cost_usd;
    double cost_usd_m2; /**< per area, added to the cost */
    double area_m2;
    double life_years;      /**< until it must be replaced */
    double upkeep_usd_year; /**< more (or less) upkeep than today */
    double residual_share;  /**< of the cost, at the end of the study */
};

enum th_air_basis { TH_AIR_ROOM, TH_AIR_STANDARD };

struct th_draft_air {
    int basis; /**< enum th_air_basis */
    bool has_derate;
    double derate;
    bool has_floor;
    bool has_leak;
    bool has_leak_area;
    double leak_cm2_m2;
    bool has_ach20;
    double ach20;
    int minimum_classes;
    char minimum_table[TH_PATH_MAX];
};

struct th_draft {
    struct th_room room;
    bool has_perimeter;
    bool has_roof_area;
    bool has_zone_on;
    struct th_draft_air air;
    char slab_edge[TH_NAME_MAX];
    bool has_edge_f;
    char growth_table[TH_PATH_MAX];
    char setpoint_table[TH_PATH_MAX];
    char comfort_table[TH_PATH_MAX];
    double setpoint_shift_k;
    int gas;
    bool has_heat_content;
    double heat_content_j;
    bool has_lower_share;
    double lower_share;
    bool has_price_gallon;
    double price_gallon;
    bool has_price_therm;
    double price_therm;
    struct th_price_model price;
    int n_weather;
    char weather[TH_WEATHER_MAX][TH_PATH_MAX];
    int n_surfaces;
    struct th_draft_surface surfaces[TH_SURFACES_MAX];
    int n_heaters;
    struct th_draft_heater heaters[TH_HEATERS_MAX];
    int n_turns;
    struct th_draft_turn turns[TH_TURNS_MAX];
    int n_tanks;
    struct th_tank tanks[TH_TANKS_MAX];
    int n_contracts;
    struct th_contract contracts[TH_CONTRACTS_MAX];
    int n_uses;
    struct th_use uses[TH_USES_MAX];
    int n_choices;
    struct th_pick choices[TH_PICKS_MAX];
    int n_options;
    struct th_pick options[TH_PICKS_MAX];
};

#endif
