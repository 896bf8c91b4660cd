/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * What the keys of barn and farm files write to. A draft's room holds the values as they were
 * given; what has first to be worked out (layers, catalogue air flows, tables) is not in it yet.
 */
#ifndef TURNHEAT_BARN_DRAFT_H
#define TURNHEAT_BARN_DRAFT_H

#include "barn_text.h"
#include "turnheat/contract.h"
#include "turnheat/price.h"
#include "turnheat/record.h"
#include "turnheat/room.h"
#include "turnheat/tank.h"

#define TH_PATH_MAX 512
#define TH_WEATHER_MAX 64
#define TH_PICKS_MAX 16
#define TH_USES_MAX 8
#define TH_NOTE_MAX 512

/** What a choice or option costs; what it changes are the section's dotted keys. */
struct th_pick {
    char name[TH_NAME_MAX];
    char note[TH_NOTE_MAX];
    char group[TH_NOTE_MAX]; /**< of options: either/or */
    double cost_usd;
    double cost_usd_m2; /**< per area, added to the cost */
    double area_m2;
    double life_years;      /**< until it must be replaced */
    double upkeep_usd_year; /**< more (or less) upkeep than today */
    bool has_residual;
    double residual_share; /**< of the cost, at the end of the study */
};

#define TH_QUOTE_LINES_MAX 24

/** What a builder writes on a quotation; "" and 0 where it is left to be filled in. */
struct th_quotation {
    char builder[TH_NOTE_MAX], customer[TH_NOTE_MAX];
    char number[TH_NAME_MAX], issued[TH_NAME_MAX];
    int valid_days;
    double base_usd; /**< building and equipment without options */
    char payment[TH_NOTE_MAX], warranty[TH_NOTE_MAX], exclusions[TH_NOTE_MAX];
};

/** A line of the builder's own. */
struct th_quote_line {
    char name[TH_NAME_MAX];
    char note[TH_NOTE_MAX];
    double price_usd;
};

/** What has no place here stands only in the file: see th_apply_number(). */
/** A record as its section has it. */
struct th_barn_record {
    struct th_record record; /**< its name first */
    int kind;                /**< 1: delivered */
    int from[3], to[3];      /**< first and last day: month, day, year; 0: not given */
    char barns[TH_NOTE_MAX]; /**< names of barn files, "" for none */
    bool from_farm;          /**< its section stands in the farm file */
};

struct th_draft {
    struct th_room room;
    struct th_price_model price;
    int n_weather;
    char weather[TH_WEATHER_MAX][TH_PATH_MAX];
    int n_surfaces;
    struct th_surface surfaces[TH_SURFACES_MAX];
    int n_heaters;
    struct th_heater heaters[TH_HEATERS_MAX];
    int n_turns;
    struct th_turn_plan turns[TH_TURNS_MAX];
    int n_tanks;
    struct th_tank tanks[TH_TANKS_MAX];
    int n_contracts;
    struct th_contract contracts[TH_CONTRACTS_MAX];
    int n_uses;
    struct th_use uses[TH_USES_MAX];
    int n_records;
    struct th_barn_record records[TH_RECORDS_MAX];
    int n_choices;
    struct th_pick choices[TH_PICKS_MAX];
    int n_options;
    struct th_pick options[TH_PICKS_MAX];
    struct th_quotation quotation;
    int n_lines;
    struct th_quote_line lines[TH_QUOTE_LINES_MAX];
};

#endif
