/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * A barn file (with its farm file and --set) as the commands use it: one room, its weather files,
 * heater choices, a builder's options, and the farm's tanks, contracts and other gas users.
 */
#ifndef TURNHEAT_BARN_H
#define TURNHEAT_BARN_H

#include "barn_inputs.h"
#include "turnheat/study.h"

struct th_barn {
    struct th_room room;         /**< as it is, without any choice or option */
    char path[TH_PATH_MAX];      /**< the barn file */
    char farm_path[TH_PATH_MAX]; /**< "" without one */
    int n_weather;
    char weather[TH_WEATHER_MAX][TH_PATH_MAX]; /**< as named in [site], relative paths resolved */
    int n_choices;
    struct th_pick choices[TH_PICKS_MAX];
    int n_options;
    struct th_pick options[TH_PICKS_MAX];
    int n_tanks;
    struct th_tank tanks[TH_TANKS_MAX];
    int n_contracts;
    struct th_contract contracts[TH_CONTRACTS_MAX];
    int n_uses;
    struct th_use uses[TH_USES_MAX];
    int n_records;
    struct th_barn_record records[TH_RECORDS_MAX];
    struct th_quotation quotation;
    int n_lines;
    struct th_quote_line lines[TH_QUOTE_LINES_MAX];
    struct th_price_model price; /**< posted_usd_gal is [fuel] price, 0 without one */
    struct th_files *files;      /**< borrowed: where variants find their tables */
    struct th_barn_text text;    /**< owned: what variants are made from */
};

enum th_pick_kind { TH_PICK_CHOICE, TH_PICK_OPTION };

/**
 * Reads the barn file at `path`, the farm file at `farm_path` (NULL: none), the tables they name,
 * and `n_sets` texts such as "surface ceiling.R=40", and checks everything, every choice and option
 * included. All errors go to `issues` (TH_ERR_INPUT), warnings too (with TH_OK). TH_ERR_READ when a
 * file cannot be read, TH_ERR_MEMORY. `files` must outlive `barn`. Finish `barn` in any case.
 */
enum th_code th_barn_read(struct th_files *files, const char *path, const char *farm_path,
                          const char *const *sets, int n_sets, struct th_barn *barn,
                          struct th_issues *issues);

/**
 * The room with choice or option number `index` of `barn`, checked anew. `issues` as in
 * th_barn_read(): for a barn that was read without errors there are only warnings.
 */
enum th_code th_barn_variant(const struct th_barn *barn, enum th_pick_kind kind, int index,
                             struct th_room *room, struct th_issues *issues);

/** The same with several options at once, later ones over earlier ones. */
enum th_code th_barn_with_options(const struct th_barn *barn, const int *indexes, int n,
                                  struct th_room *room, struct th_issues *issues);

/** The room with one value more, as `--set "SECTION.KEY=VALUE"` would make it. `issues` as in
 * th_barn_read(): TH_ERR_INPUT where the barn cannot be so. */
enum th_code th_barn_changed(const struct th_barn *barn, const char *section, const char *key,
                             const char *value, struct th_room *room, struct th_issues *issues);

/** Tells every input of a barn that was read (barn_inputs.h). TH_ERR_MEMORY. */
enum th_code th_barn_inputs(const struct th_barn *barn, th_barn_input_fn tell, void *context,
                            struct th_error *err);

/** First cost of a choice or option, $: the flat cost and that per area. */
double th_pick_cost_usd(const struct th_pick *pick);

/** It as something to buy. */
struct th_purchase th_pick_purchase(const struct th_pick *pick);

/** Frees; NULL and a second call are allowed. */
void th_barn_finish(struct th_barn *barn);

#endif
