/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict.h"

#include <math.h>

/* Units of zone heat in a room of a choice, all of them. */
static double all_zone_units(const struct th_room *room)
{
    return room->zone.units > 0.0 ? room->zone.units
                                  : ceil(room->turns[0].head / room->zone.pigs_per_unit);
}

/* With fewer winters than a block can hold every hour: what one hour misses evens out over many. */
static int ask_block(const struct th_comparison *c, struct th_runs *runs,
                     const struct th_room *room)
{
    struct th_room run = *room;
    if (c->block.last_year - c->block.first_year + 1 >= TH_BLOCK_SEASONS)
        run.solve_every_h = TH_BLOCK_EVERY_H;
    return th_runs_add(runs, &run, c->base->climate, c->block.first_year, c->block.last_year);
}

static void ask_zone(struct th_comparison *c, struct th_runs *runs, int choice,
                     int requests[TH_ZONE_STEPS])
{
    struct th_zone_curve *zone = &c->zone[choice];
    struct th_room room = c->rooms[choice + 1];
    const double all = all_zone_units(&room);
    zone->run = true;
    for (int step = 0; step < TH_ZONE_STEPS; step++) {
        room.zone.units = zone->units[step] = fmax(round(all * (step + 1) / TH_ZONE_STEPS), 1.0);
        requests[step] = ask_block(c, runs, &room);
    }
}

/* `base_j` is the gas of the base run alike. */
static enum th_code read_zone(struct th_comparison *c, const struct th_runs *runs, int choice,
                              double base_j, const int requests[TH_ZONE_STEPS],
                              struct th_error *err)
{
    struct th_zone_curve *zone = &c->zone[choice];
    const double base = th_comparison_units(c, &c->results[0].trial);
    double best = 0.0;
    for (int step = 0; step < TH_ZONE_STEPS; step++) {
        double gas_j;
        const enum th_code code = th_runs_gas(runs, requests[step], &gas_j, err);
        if (code != TH_OK)
            return code;
        const double saved = base_j > 0.0 ? base * (1.0 - gas_j / base_j) : 0.0;
        zone->saved_units[step] = saved;
        if (saved > best)
            zone->best_units = zone->units[step];
        best = fmax(best, saved);
        if (saved <= 0.0 && zone->lost_at_units == 0.0)
            zone->lost_at_units = zone->units[step];
    }
    return TH_OK;
}

enum th_code th_zone_curves(struct th_comparison *c, struct th_runs *runs, struct th_error *err)
{
    int requests[TH_CHOICES_MAX][TH_ZONE_STEPS] = {{0}};
    double base_j = 0.0;
    for (int i = 0; i < c->n; i++)
        if (!c->results[i + 1].refused[0] && c->choices[i].room.zone.on && !c->base->room->zone.on)
            ask_zone(c, runs, i, requests[i]);
    const int base = ask_block(c, runs, &c->rooms[0]);
    enum th_code code = th_runs_do(runs, "numbers of zone heaters", err);
    if (code == TH_OK)
        code = th_runs_gas(runs, base, &base_j, err);
    for (int i = 0; i < c->n && code == TH_OK; i++)
        if (c->zone[i].run)
            code = read_zone(c, runs, i, base_j, requests[i], err);
    return code;
}
