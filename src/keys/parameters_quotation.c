/* SPDX-License-Identifier: GPL-3.0-or-later */
/* [quotation] and [line N]: what a builder writes on his quotations. */
#include "barn_keys.h"
#include "parameters_rows.h"

#define QUOTATION(member) TH_AT(struct th_quotation, member)
#define LINE(member) TH_AT(struct th_quote_line, member)

static const struct th_parameter quotation[] = {
    {.name = "builder",
     .store = TH_STORE_NOTE,
     QUOTATION(builder),
     .help = "who quotes: name and address"},
    {.name = "customer", .store = TH_STORE_NOTE, QUOTATION(customer), .help = "for whom"},
    {.name = "number",
     .store = TH_STORE_NAME,
     QUOTATION(number),
     .help = "number of the quotation"},
    {.name = "issued", .store = TH_STORE_NAME, QUOTATION(issued), .help = "date of issue"},
    {.name = "valid_days",
     .store = TH_STORE_WHOLE,
     .dimension = TH_DIM_DAYS,
     QUOTATION(valid_days),
     .low = NUMBER(1),
     .high = NUMBER(730),
     .initial = NUMBER(30),
     .source = "common practice, no source",
     .help = "how long it holds, from the date of issue"},
    {.name = "base_price",
     .dimension = TH_DIM_MONEY,
     QUOTATION(base_usd),
     .low = DOLLARS(0),
     .high = DOLLARS(100000000),
     .otherwise = "left to be filled in",
     .help = "building and equipment without the options"},
    {.name = "payment", .store = TH_STORE_NOTE, QUOTATION(payment), .help = "terms of payment"},
    {.name = "warranty", .store = TH_STORE_NOTE, QUOTATION(warranty), .help = "warranty"},
    {.name = "exclusions",
     .store = TH_STORE_NOTE,
     QUOTATION(exclusions),
     .otherwise = "tank, gas line beyond the shut-off, electrical service, permits, site work",
     .help = "what is not part of it"},
};
const struct th_parameters th_parameters_quotation = TH_LIST("quotation", quotation);

static const struct th_parameter line[] = {
    {.name = "price",
     .dimension = TH_DIM_MONEY,
     LINE(price_usd),
     .low = DOLLARS(-10000000),
     .high = DOLLARS(100000000),
     .initial = DOLLARS(0),
     .help = "what it costs"},
    {.name = "note", .store = TH_STORE_NOTE, LINE(note), .help = "what it is"},
};
const struct th_parameters th_parameters_line = TH_LIST("line", line);
