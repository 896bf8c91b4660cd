/* SPDX-License-Identifier: GPL-3.0-or-later */
/* [record N]. */
#include "barn_keys.h"
#include "parameters_rows.h"

#define RECORD(member) TH_AT(struct th_barn_record, member)

static const struct th_word kinds[] = {{"used", false}, {"delivered", true}, {0}};

static const struct th_parameter record[] = {
    {.name = "season",
     .store = TH_STORE_SEASON,
     RECORD(record.year),
     .group = 's',
     .otherwise = "from and to",
     .help = "the season it is of, 1 July to 30 June, such as 2025-26"},
    {.name = "from",
     .store = TH_STORE_DATE,
     .dimension = TH_DIM_MONTH_DAY,
     RECORD(from),
     .otherwise = "1 July of the season",
     .help = "in place of season: the first day it is of, such as 2025-11-03"},
    {.name = "to",
     .store = TH_STORE_DATE,
     .dimension = TH_DIM_MONTH_DAY,
     RECORD(to),
     .otherwise = "30 June of the season",
     .help = "the last day, at most a year later"},
    {.name = "gallons",
     .dimension = TH_DIM_GAS_VOLUME,
     RECORD(record.gal),
     .low = GALLONS(1),
     .high = GALLONS(10000000),
     .needed = true,
     .help = "propane of those days; what other users of the meter took is left out"},
    {.name = "error",
     .dimension = TH_DIM_SHARE,
     RECORD(record.error),
     .low = PERCENT(0.1),
     .high = PERCENT(100),
     .initial = PERCENT(5),
     .source = "our judgement",
     .help = "how far off that may be, one standard error"},
    {.name = "kind",
     .store = TH_STORE_WORD,
     RECORD(kind),
     .words = kinds,
     .initial = WORD(false),
     .help = "used, or delivered without the levels at both ends"},
    {.name = "barns",
     .store = TH_STORE_NOTE,
     RECORD(barns),
     .otherwise = "this barn; in a farm file all barn files given",
     .help = "barn files (without .barn) on that meter, parted by commas"},
};
const struct th_parameters th_parameters_record = TH_LIST("record", record);
