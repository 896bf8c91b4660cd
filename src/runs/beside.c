/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turnheat/beside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The points, and what was asked for there. */
struct asked {
    struct th_gas_surface_run points[TH_OUTLOOK_FEW_RUNS];
    int barn[TH_OUTLOOK_FEW_RUNS];
    int rooms[TH_BESIDE_MAX][TH_OUTLOOK_FEW_RUNS];
};

static double shift_at_k(const struct th_beside_room *r, double factor)
{
    const enum th_response_case end = factor < 1.0 ? TH_OVERSHOOT_HALF : TH_OVERSHOOT_TWICE;
    const double way = (factor - 1.0) / (th_response_factor(r->room, end) - 1.0);
    return r->shift_k[TH_AS_GIVEN] + way * (r->shift_k[end] - r->shift_k[TH_AS_GIVEN]);
}

/* A variant with its numbers moved as those of the barn, `moved_barn`, were. */
static enum th_code move(const struct th_room *moved_barn, const struct th_beside_room *r,
                         const double z[TH_UNKNOWNS], struct th_room *moved, struct th_error *err)
{
    *moved = *r->room;
    moved->known = moved_barn->known;
    moved->response.kept_dead_time_s = 0.0;
    th_unknowns_move(moved, z);
    const double shift_k = shift_at_k(r, moved->response.factor / r->room->response.factor);
    if (shift_k != 0.0)
        th_room_shift_offsets(moved, fmin(shift_k, th_room_highest_shift_k(moved)));
    return th_response_keep(moved, moved_barn, err);
}

/* Whether what failed is of the variant alone. */
static bool of_variant(enum th_code code)
{
    return code == TH_ERR_MODEL || code == TH_ERR_NUMERIC || code == TH_ERR_RANGE ||
           code == TH_ERR_COVERAGE;
}

static enum th_code ask_point(struct th_beside *beside, struct th_runs *runs,
                              const struct th_case *one, const struct th_beside_room *rooms, int i,
                              struct asked *asked, struct th_error *err)
{
    const int year = beside->outlook->years[asked->points[i].winter];
    struct th_room barn = *one->room;
    enum th_code code = TH_OK;
    th_unknowns_move(&barn, asked->points[i].z);
    asked->barn[i] = th_runs_add(runs, &barn, one->climate, year, year);
    th_runs_lead(runs, asked->barn[i]);
    for (int k = 0; k < beside->n && code == TH_OK; k++) {
        struct th_room moved;
        if (beside->surfaces[k].found && rooms[k].room)
            code = move(&barn, &rooms[k], asked->points[i].z, &moved, err);
        beside->surfaces[k].found &= code == TH_OK;
        if (beside->surfaces[k].found)
            asked->rooms[k][i] = th_runs_add(runs, &moved, one->climate, year, year);
        code = of_variant(code) ? TH_OK : code;
    }
    return code;
}

static enum th_code ln_gas(const struct th_runs *runs, int request, double *ln_j,
                           struct th_error *err)
{
    double gas_j = 0.0;
    const enum th_code code = th_runs_gas(runs, request, &gas_j, err);
    *ln_j = log(gas_j);
    return code == TH_OK && !(gas_j > 0.0)
               ? th_fail(err, TH_ERR_MODEL, "a room burns nothing in some season")
               : code;
}

/* Winters as the files have barn and variant. One that does not count for the variant has the mean
 * of the others. */
static enum th_code take_winters(const struct th_outlook *outlook, int barn,
                                 const struct th_trial *trial, struct th_beside_surface *surface,
                                 struct th_error *err)
{
    const struct th_outlook_barn *const own = &outlook->barns[barn];
    double sum = 0.0, n = 0.0;
    surface->ln_ratio = calloc(outlook->n_winters, sizeof *surface->ln_ratio);
    if (!surface->ln_ratio)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    for (size_t w = 0; w < outlook->n_winters; w++) {
        surface->ln_ratio[w] = NAN;
        for (int i = 0; i < trial->n; i++)
            if (trial->years[i] == outlook->years[w] && trial->gas_j[i] > 0.0)
                surface->ln_ratio[w] = log(trial->gas_j[i] / own->room->fuel.hhv_j) - own->ln_y0[w];
        sum += isnan(surface->ln_ratio[w]) ? 0.0 : surface->ln_ratio[w];
        n += !isnan(surface->ln_ratio[w]);
    }
    for (size_t w = 0; w < outlook->n_winters; w++)
        if (isnan(surface->ln_ratio[w]))
            surface->ln_ratio[w] = n > 0.0 ? sum / n : 0.0;
    surface->found = n > 0.0;
    return TH_OK;
}

static enum th_code take_room(struct th_beside *beside, int k, const struct th_runs *runs,
                              struct asked *asked, struct th_error *err)
{
    struct th_beside_surface *const surface = &beside->surfaces[k];
    enum th_code code = TH_OK;
    for (int i = 0; i < TH_OUTLOOK_FEW_RUNS && surface->found && code == TH_OK; i++) {
        double barn, room = 0.0;
        struct th_gas_surface_run *const point = &asked->points[i];
        code = ln_gas(runs, asked->barn[i], &barn, err);
        if (code != TH_OK)
            return code;
        code = ln_gas(runs, asked->rooms[k][i], &room, err);
        surface->found = code == TH_OK;
        point->ln_ratio = room - barn - surface->ln_ratio[point->winter];
    }
    if (surface->found)
        code = th_gas_surface_fit(TH_OUTLOOK_FEW_RUNS, asked->points, &surface->surface, err);
    return of_variant(code) ? TH_OK : code;
}

static enum th_code run_points(struct th_beside *beside, struct th_runs *runs,
                               const struct th_case *one, const struct th_beside_room *rooms,
                               struct asked *asked, struct th_error *err)
{
    const struct th_outlook *const outlook = beside->outlook;
    enum th_code code =
        th_gas_surface_points(one->room, TH_OUTLOOK_FEW_RUNS, outlook->n_winters,
                              outlook->barns[beside->barn].ln_y0, asked->points, err);
    for (int k = 0; k < beside->n && code == TH_OK; k++)
        if (rooms[k].room)
            code = take_winters(outlook, beside->barn, rooms[k].trial, &beside->surfaces[k], err);
    for (int i = 0; i < TH_OUTLOOK_FEW_RUNS && code == TH_OK; i++)
        code = ask_point(beside, runs, one, rooms, i, asked, err);
    if (code == TH_OK)
        code = th_runs_do(runs, "what is not known of the barn", err);
    for (int k = 0; k < beside->n && code == TH_OK; k++)
        code = take_room(beside, k, runs, asked, err);
    return code;
}

enum th_code th_beside_init(struct th_beside *beside, struct th_runs *runs,
                            const struct th_outlook *outlook, int barn, const struct th_case *one,
                            const struct th_beside_room *rooms, int n, struct th_error *err)
{
    *beside = (struct th_beside){.outlook = outlook, .barn = barn, .n = n};
    if (n > TH_BESIDE_MAX) {
        beside->n = 0;
        return th_fail(err, TH_ERR_INPUT, "%d variants given; at most %d stand beside a barn", n,
                       TH_BESIDE_MAX);
    }
    struct asked *const asked = malloc(sizeof *asked);
    if (!asked)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    const enum th_code code = run_points(beside, runs, one, rooms, asked, err);
    free(asked);
    return code;
}

enum th_code th_beside_gas_j(const struct th_beside *beside, size_t draw, double *gas_j,
                             struct th_error *err)
{
    const struct th_outlook *const outlook = beside->outlook;
    const struct th_outlook_barn *const barn = &outlook->barns[beside->barn];
    double z[TH_UNKNOWNS], reach[TH_UNKNOWNS];
    double *const ln_gal = malloc(outlook->n_winters * sizeof *ln_gal);
    if (!ln_gal)
        return th_fail(err, TH_ERR_MEMORY, "out of memory");
    th_outlook_farm(outlook, beside->barn, draw, ln_gal);
    th_outlook_barn_z(beside->barn, outlook->z + draw * (size_t)outlook->n_z, z);
    th_unknowns_reach(barn->room, z, reach);
    for (int k = 0; k < beside->n; k++) {
        const struct th_beside_surface *const s = &beside->surfaces[k];
        const struct th_gas_surface_line line = th_gas_surface_at(&s->surface, reach);
        double gal = s->found ? 0.0 : NAN;
        for (size_t w = 0; w < outlook->n_winters && s->found; w++)
            gal += exp(ln_gal[w] + s->ln_ratio[w] + line.level + line.slope * barn->l[w]);
        gas_j[k] = gal / (double)outlook->n_winters * barn->room->fuel.hhv_j;
    }
    free(ln_gal);
    return TH_OK;
}

void th_beside_finish(struct th_beside *beside)
{
    if (!beside)
        return;
    for (int k = 0; k < beside->n; k++)
        free(beside->surfaces[k].ln_ratio);
    *beside = (struct th_beside){0};
}
