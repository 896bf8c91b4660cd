/* SPDX-License-Identifier: GPL-3.0-or-later */
/* [choice N] and [option N]. */
#include "barn_keys.h"
#include "parameters_rows.h"

#define PICK(member) TH_AT(struct th_pick, member)

static const struct th_parameter pick[] = {
    {.name = "cost",
     .dimension = TH_DIM_MONEY,
     PICK(cost_usd),
     .low = DOLLARS(-1000000),
     .high = DOLLARS(10000000),
     .initial = DOLLARS(0),
     .help = "first cost for one room, multiplied by its copies; below 0 a rebate"},
    {.name = "life",
     .dimension = TH_DIM_COUNT,
     PICK(life_years),
     .low = NUMBER(1),
     .high = NUMBER(100),
     .initial = NUMBER(10),
     .source = "our judgement",
     .help = "years until it is replaced at the same cost"},
    {.name = "upkeep",
     .dimension = TH_DIM_MONEY_YEAR,
     PICK(upkeep_usd_year),
     .low = DOLLARS_YEAR(-100000),
     .high = DOLLARS_YEAR(1000000),
     .initial = DOLLARS_YEAR(0),
     .help = "upkeep more (or less) than as it is"},
    {.name = "residual",
     .dimension = TH_DIM_SHARE,
     PICK(residual_share),
     .low = PERCENT(0),
     .high = PERCENT(100),
     .otherwise = "what its remaining life is of its life (straight line, NIST Handbook 135, from "
                  "memory)",
     .help = "worth at the end of the study as a share of the cost"},
    {.name = "note", .store = TH_STORE_NOTE, PICK(note), .help = "a remark shown beside it"},
};
const struct th_parameters th_parameters_pick = TH_LIST("choice or option", pick);

static const struct th_parameter area[] = {
    {.name = "group",
     .store = TH_STORE_NOTE,
     PICK(group),
     .help = "either/or: only one of the options with the same name is taken"},
    {.name = "cost_per_area",
     .dimension = TH_DIM_MONEY_AREA,
     PICK(cost_usd_m2),
     .low = DOLLARS_FT2(0),
     .high = DOLLARS_FT2(1000),
     .initial = DOLLARS_FT2(0),
     .help = "added to the cost for each square foot of area"},
    {.name = "area",
     .dimension = TH_DIM_AREA,
     PICK(area_m2),
     .low = FT2(0),
     .high = FT2(1000000),
     .initial = FT2(0),
     .help = "area it applies to"},
};
const struct th_parameters th_parameters_option = TH_LIST("option", area);
