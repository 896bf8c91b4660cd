/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What settings alone can do, and what costs gallons. */
#include "turnheat/compare.h"

#include "turnheat/costs.h"
#include "turnheat/sizing.h"
#include "turnheat/units.h"
#include <stdlib.h>

#define OFF_STEP_K (0.5 * TH_K_PER_F)
#define OFF_STEPS 8 /* up to 4 °F */
/* Hours below comfort may differ by this share of a season's before they count as more. */
#define COMFORT_SLACK_H 0.5

static bool adjustable(const struct th_heater *heater)
{
    return heater->control == TH_ON_OFF || heater->control == TH_LEAD_LAG;
}

static void set_free(struct th_room *room, double off_k, bool lead_lag, int units)
{
    struct th_heater *h = &room->heaters[0];
    h->on_k += off_k - h->off_k;
    h->off_k = off_k;
    h->units = units;
    if (lead_lag && units > 1)
        h->control = TH_LEAD_LAG;
}

/* One setting of the present heaters. */
struct setting {
    double off_k;
    bool lead_lag;
    int units;
    struct th_room room;
    int request;
};

/* Every setting that holds the design day with one unit out, and those with all units lit, in the
 * order in which ties are won; how many. */
static int list_settings(const struct th_room *room, double most_w, struct setting *settings)
{
    const int all = room->heaters[0].units;
    int n = 0;
    for (int units = all; units >= 1; units--)
        for (int orders = units > 1 ? 2 : 1; orders >= 1; orders--)
            for (int step = 0; step <= OFF_STEPS; step++) {
                struct setting *s = &settings[n];
                *s = (struct setting){
                    .off_k = step * OFF_STEP_K, .lead_lag = orders == 2, .units = units};
                s->room = *room;
                set_free(&s->room, s->off_k, s->lead_lag, s->units);
                n += units == all || th_sizing_one_out_w(&s->room) >= most_w;
            }
    return n;
}

/* Runs them on one season and keeps the one that burns least without more hours below comfort. */
static enum th_code pick_setting(struct th_runs *runs, const struct th_climate *climate, int year,
                                 struct setting *settings, int n, const struct th_trial *now,
                                 struct th_free_choice *choice, struct th_error *err)
{
    double best_gas_j = th_trial_gas_j(now);
    for (int i = 0; i < n; i++)
        settings[i].request = th_runs_add(runs, &settings[i].room, climate, year, year);
    enum th_code code = th_runs_do(runs, "better settings", err);
    for (int i = 0; i < n && code == TH_OK; i++) {
        const struct setting *s = &settings[i];
        struct th_trial trial;
        code = th_runs_trial(runs, s->request, &trial, err);
        if (code != TH_OK || th_trial_gas_j(&trial) >= best_gas_j ||
            trial.mean.sum[TH_BELOW_COMFORT] > now->mean.sum[TH_BELOW_COMFORT] + COMFORT_SLACK_H)
            continue;
        best_gas_j = th_trial_gas_j(&trial);
        *choice = (struct th_free_choice){.found = true,
                                          .off_k = s->off_k,
                                          .on_k = s->room.heaters[0].on_k,
                                          .lead_lag = s->room.heaters[0].control == TH_LEAD_LAG,
                                          .units = s->units,
                                          .room = s->room};
    }
    return code;
}

enum th_code th_free_choice_find(struct th_runs *runs, const struct th_room *room,
                                 const struct th_climate *climate, int year, double design_out_c,
                                 struct th_free_choice *choice, struct th_error *err)
{
    struct th_trial now;
    struct th_sizing sizing = {0};
    *choice = (struct th_free_choice){.room = *room};
    if (room->n_heaters == 0 || !adjustable(&room->heaters[0]))
        return TH_OK;
    const size_t most = 2 * (size_t)room->heaters[0].units * (OFF_STEPS + 1);
    struct setting *settings = malloc(most * sizeof *settings);
    if (!settings)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const int as_it_is = th_runs_add(runs, room, climate, year, year);
    enum th_code code = th_runs_do(runs, "the barn as it is", err);
    if (code == TH_OK)
        code = th_runs_trial(runs, as_it_is, &now, err);
    if (code == TH_OK)
        code = th_sizing_run(room, design_out_c, &sizing, err);
    if (code == TH_OK)
        code = pick_setting(runs, climate, year, settings,
                            list_settings(room, sizing.most_w, settings), &now, choice, err);
    choice->one_out_holds = th_sizing_one_out_w(&choice->room) >= sizing.most_w;
    free(settings);
    return code;
}

enum th_code th_costs_run(struct th_runs *runs, const struct th_case *one,
                          const struct th_room *room, double mean_j, double cost_j[TH_COST_COUNT],
                          struct th_held_air *held, struct th_error *err)
{
    struct th_cost_asked asked[TH_COST_COUNT];
    for (int kind = 0; kind < TH_COST_COUNT; kind++)
        th_cost_ask(runs, room, one->climate, one->first_year, one->last_year,
                    (enum th_cost_kind)kind, &asked[kind]);
    enum th_code code = th_runs_do(runs, "what costs gallons", err);
    for (int kind = 0; kind < TH_COST_COUNT && code == TH_OK; kind++)
        code = th_cost_read(runs, &asked[kind], mean_j, &cost_j[kind], err);
    return code == TH_OK
               ? th_held_air_read(runs, &asked[TH_COST_CEILINGS], one, room, mean_j, held, err)
               : code;
}
